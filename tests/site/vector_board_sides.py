"""Questions of volts at a plug and of a controller's figure, from the typed text to the answer."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import numpy as np

from kb.answers.controller_figure import ControllerQuestion, answer_controller
from kb.answers.live_rating import unrated_meter
from kb.answers.plug_volts import PlugQuestion, answer_plug_volts
from kb.answers.sensor_facts import SensorFacts
from kb.numbers.divider import volts_at_plug
from kb.numbers.grid import Grid

from .page_names import page_names
from .said import said
from .vector_readings import one_of, temperature_c
from .vector_sensors import UNREADABLE, kit_asked, tools_asked, typed_ohm, typed_t

ODD_VOLTS = ("", "abc", "-", "5 W", "1.2.3", "0", "-2,4", ".8", "350 mV", "0,35V", "12")


def _facts(
    rng: np.random.Generator, grids: dict[str, Grid]
) -> tuple[dict[str, object], SensorFacts]:
    curve_id = str(rng.choice(list(grids)))
    curve = grids[curve_id]
    ends_c = np.sort(rng.uniform(curve.low_c, curve.high_c, size=2))
    known = rng.random() < 0.95
    facts = {
        "allow_k": one_of(rng, (0.0, 1.0, 2.0, 5.0)),
        "meets_c": one_of(rng, (None, (float(ends_c[0]), float(ends_c[1])))),
        "pull_up_ohm": one_of(rng, (1000.0, 5100.0, 10_000.0)) if known else None,
        "supply_v": one_of(rng, (3.3, 5.0)) if known else None,
    }
    page = {**page_names(facts), "curveId": curve_id, "familyCurves": [], "otherCurves": []}
    return page, SensorFacts(curve=curve, curve_id=curve_id, **facts)


def volts_asked(rng: np.random.Generator, grids: dict[str, Grid]) -> tuple[object, Callable]:
    """Volts at a plug: of a sound sensor, a drifted one, open, short, above the supply."""
    page_sensor, sensor = _facts(rng, grids)
    page_tools, tools = tools_asked(rng, unsaid=0.1)
    t_c = temperature_c(rng, sensor.curve)
    r_ohm = float(sensor.curve.beyond_ohm(t_c)) * one_of(rng, (1.0, 1.0, 1.03, 1.5, 0.5))
    supply_v = sensor.supply_v or 5.0
    volts = float(volts_at_plug(r_ohm, supply_v=supply_v, pull_up_ohm=sensor.pull_up_ohm or 1e4))
    volts = one_of(rng, (volts, volts, volts, volts, supply_v, 0.0, supply_v * 1.2))
    at, unit = typed_t(rng, t_c)
    more = {
        "volts": one_of(rng, ODD_VOLTS)
        if rng.random() < 0.1
        else f"{volts:.{one_of(rng, (2, 3))}f}",
        "supply": one_of(rng, ("", "", "", "", f"{supply_v:.2f}", f"{supply_v * 0.7:.2f}", "0")),
        "at": "" if rng.random() < 0.25 else at,
        "unit": unit,
        "short_ohm": one_of(rng, (None, 10.0)),
    }
    question = PlugQuestion(sensor=sensor, tools=tools, **more)

    def answer() -> dict[str, object]:
        found = answer_plug_volts(question)
        return {"answer": found, "said": said(found, unit=found.unit, digits=found.digits)}

    return {**page_names(more), "sensor": page_sensor, "tools": page_tools}, answer


def rating_asked(rng: np.random.Generator, grids: dict[str, Grid]) -> tuple[object, Callable]:
    """A meter held to a plug: rated or not, more typed than the notes know, nothing to take."""
    page_sensor, sensor = _facts(rng, grids)
    live_v = one_of(rng, (None, 24.0, 360.0, 600.0, 620.0, 1000.0))
    page_tools, tools = tools_asked(rng)
    page_kit, kit = kit_asked(rng)
    typed = (
        one_of(rng, ("", "", "2.4", "601", "-1001", *ODD_VOLTS)),
        one_of(rng, ("", "", "5", "401", "1e3")),
    )

    def answer() -> dict[str, object]:
        unrated = unrated_meter(replace(sensor, live_v=live_v), tools=tools, kit=kit, typed=typed)
        found = {"unrated": unrated}
        return {"answer": found, "said": said(found)}

    return {
        "sensor": {**page_sensor, "liveV": live_v},
        "tools": page_tools,
        "kit": page_kit,
        "typed": list(typed),
    }, answer


def controller_asked(rng: np.random.Generator, grids: dict[str, Grid]) -> tuple[object, Callable]:
    """A controller's figure: with the thermometer, off it, following a wrong sensor or not."""
    page_sensor, sensor = _facts(rng, grids)
    page_tools, tools = tools_asked(rng, unsaid=0.1)
    t_c = temperature_c(rng, sensor.curve)
    at, unit = typed_t(rng, t_c)
    off_k = one_of(rng, (0.0, 1.0, 3.0, 8.0)) * one_of(rng, (1, -1))
    read_c = t_c + one_of(rng, (0.0, off_k, 6.0))
    shown, _ = typed_t(rng, t_c + off_k)
    reading = typed_ohm(rng, float(sensor.curve.beyond_ohm(read_c)))
    more = {
        "shown": one_of(rng, UNREADABLE) if rng.random() < 0.06 else shown,
        "at": one_of(rng, UNREADABLE) if rng.random() < 0.06 else at,
        "unit": unit,
        "reading": one_of(rng, ("", reading, reading, reading, "OL")),
        "short_ohm": one_of(rng, (None, 10.0)),
    }
    question = ControllerQuestion(sensor=sensor, tools=tools, **more)

    def answer() -> dict[str, object]:
        found = answer_controller(question)
        return {"answer": found, "said": said(found, unit=found.unit)}

    return {**page_names(more), "sensor": page_sensor, "tools": page_tools}, answer
