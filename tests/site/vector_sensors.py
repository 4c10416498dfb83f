"""Questions about one sensor, from the typed text to the answer: at random, and on every border."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace

import numpy as np

from kb.answers.instruments import Kit, NamedMeter, NamedThermometer, Tools
from kb.answers.loop import LoopQuestion, answer_loop
from kb.answers.reading import ReadingQuestion, answer_reading
from kb.answers.reading_earlier import EarlierReading
from kb.answers.reading_excluded import UnderCode
from kb.answers.reading_expected import expected_reading
from kb.answers.sensor_facts import SensorFacts
from kb.numbers.divider import parallel_ohm
from kb.numbers.grid import Grid
from kb.numbers.meter import Meter, OhmRange
from kb.numbers.placement import PLACEMENTS
from kb.numbers.rounding import format_ohm
from kb.numbers.switching_ptc import SwitchingPtc
from kb.numbers.thermometer import Thermometer

from .page_names import page_names
from .said import said
from .vector_readings import METERS, THERMOMETERS, one_of, reading_ohm, temperature_c

INSTRUCTIONS = ("when_good", "when_bad", "when_open", "when_short")
UNREADABLE = ("", "  ", "6k32k", "m", "5m", "-3", "1,234", "abc", "1e999", "7 °", "20 K", "6,3 k")
ASKED = ("1", "1.", " 1, ", "---", "- -", "––")
"""What many meters show for over range, and may mean something else."""
OVER_RANGE = ("OL", "0L", "open", "∞", " >OL ")


RATED_V = (1000.0, 0.0, 600.0)


def _kit() -> tuple[list[NamedMeter], list[NamedThermometer]]:
    meters = [
        NamedMeter(
            id=f"meter-{i}",
            name=f"Meter {i}",
            meter=_meter(rows, leads_ohm),
            rated_v=RATED_V[i % len(RATED_V)],
        )
        for i, (rows, leads_ohm) in enumerate(METERS)
    ]
    probes = [
        NamedThermometer(
            id=f"probe-{i}",
            name=f"Probe {i}",
            thermometer=Thermometer(
                accuracy_k=row[0], percent=row[1], resolution_k=row[2], low_c=row[3], high_c=row[4]
            ),
        )
        for i, row in enumerate(THERMOMETERS)
    ]
    return meters, probes


def _meter(rows: tuple[tuple[float, ...], ...], leads_ohm: float) -> Meter:
    fields = ("span_ohm", "resolution_ohm", "percent", "digits")
    ranges = tuple(OhmRange(**dict(zip(fields, row, strict=True))) for row in rows)
    return Meter(ranges=ranges, leads_ohm=leads_ohm)


ALL_METERS, ALL_PROBES = _kit()


def named_for_page(tool: NamedMeter | NamedThermometer | None) -> dict[str, object] | None:
    """Return an instrument as the page is told of it."""
    if isinstance(tool, NamedMeter):
        ranges = [
            {
                name: getattr(row, name)
                for name in ("span_ohm", "resolution_ohm", "percent", "digits")
            }
            for row in tool.meter.ranges
        ]
        meter = {"leads_ohm": tool.meter.leads_ohm, "ranges": ranges}
        return {"id": tool.id, "name": tool.name, "meter": meter, "ratedV": tool.rated_v}
    if isinstance(tool, NamedThermometer):
        names = ("accuracy_k", "percent", "resolution_k", "low_c", "high_c")
        told = {name: getattr(tool.thermometer, name) for name in names}
        return {"id": tool.id, "name": tool.name, "thermometer": {**told, "name": tool.name}}
    return None


def tools_asked(
    rng: np.random.Generator, *, unsaid: float = 0.0
) -> tuple[dict[str, object], Tools]:
    """Return tools for the page and for Python; a share of them with no placement said."""
    meter = one_of(rng, [None, *ALL_METERS, *ALL_METERS])
    probe = one_of(rng, [None, *ALL_PROBES, *ALL_PROBES])
    placement = "" if unsaid and rng.random() < unsaid else one_of(rng, PLACEMENTS)
    page = {
        "meter": named_for_page(meter),
        "thermometer": named_for_page(probe),
        "placement": placement,
    }
    return page, Tools(meter=meter, thermometer=probe, placement=placement)


def kit_asked(rng: np.random.Generator) -> tuple[dict[str, object], Kit]:
    meters = tuple(tool for tool in ALL_METERS if rng.random() < 0.6)
    probes = tuple(tool for tool in ALL_PROBES if rng.random() < 0.6)
    page = {
        "meters": [named_for_page(tool) for tool in meters],
        "thermometers": [named_for_page(tool) for tool in probes],
    }
    return page, Kit(meters=meters, thermometers=probes)


def typed_t(rng: np.random.Generator, t_c: float) -> tuple[str, str]:
    """Return a temperature as somebody types it, and the page's unit."""
    unit = one_of(rng, ("C", "C", "F"))
    named = one_of(rng, ("", "", "C", "F", "°C", " °F", "℃"))
    given = "F" if "F" in named else "C" if named else unit
    value = t_c * 9 / 5 + 32 if given == "F" else t_c
    number = f"{value:.{one_of(rng, (0, 1, 1, 2))}f}"
    return number.replace(".", one_of(rng, (".", ".", ","))).replace(
        "-", one_of(rng, "-−–")
    ) + named, unit


def typed_ohm(rng: np.random.Generator, r_ohm: float) -> str:
    """Return ohms as somebody types them."""
    if math.isinf(r_ohm):
        return one_of(rng, OVER_RANGE)
    how = rng.random()
    if how < 0.4 or r_ohm <= 0:
        return f"{r_ohm:.6g}" if r_ohm < 1e6 else f"{r_ohm:.0f}"
    if how < 0.7 and r_ohm >= 100:
        return f"{r_ohm / 1e3:.4g}k" if r_ohm < 1e6 else f"{r_ohm / 1e6:.4g} MΩ"
    return format_ohm(r_ohm).replace("\u00a0", " ")


def reading_asked(rng: np.random.Generator, grids: dict[str, Grid]) -> tuple[object, Callable]:
    """One reading of one sensor: right, drifted, slipped, plugged in, unreadable, missing."""
    names = [str(name) for name in rng.choice(list(grids), size=8, replace=False)]
    curve_id, family, others = names[0], names[1:4], names[4:7]
    curve = grids[curve_id]
    t_c = temperature_c(rng, curve)
    pull_up_ohm = one_of(rng, (None, None, 5100.0, 10_000.0))
    page_tools, tools = tools_asked(rng, unsaid=0.2)
    leads_ohm = tools.meter.meter.leads_ohm if tools.meter else 0.0
    shown_ohm = _shown_ohm(rng, curve, t_c=t_c, pull_up_ohm=pull_up_ohm, leads_ohm=leads_ohm)
    at, unit = typed_t(rng, t_c)
    reading = typed_ohm(rng, shown_ohm)
    if rng.random() < 0.1:
        # Just what a part reads that is as its curve says.
        at, unit = f"{t_c:.2f}", "C"
        reading = f"{float(curve.beyond_ohm(float(at))) + leads_ohm:.8g}"
    if rng.random() < 0.06:
        reading = one_of(rng, (*UNREADABLE, *ASKED))
    if rng.random() < 0.04:
        at = one_of(rng, UNREADABLE)
    elif rng.random() < 0.3:
        at = ""
    meets_c = _meets(rng, curve)
    edge_c = _reach_c(curve, tools=tools) if rng.random() < 0.15 else None
    if edge_c is not None:
        # Over range, where what the sensor meets ends near what the meter just reaches.
        off_k = float(rng.uniform(-1, 8))
        reading, at = "OL", ""
        meets_c = (edge_c + off_k, curve.high_c) if curve.falling else (curve.low_c, edge_c - off_k)
    if at and rng.random() < 0.25:
        tools, at = _beside_sister(rng, curve, grids=grids, family=family, t_c=t_c, tools=tools), ""
        page_tools |= page_names(
            {name: getattr(tools, name) for name in ("placement", "sister", "sister_curve")}
        )
    page_kit, kit = kit_asked(rng)
    facts = {
        "allow_k": one_of(rng, (0.0, 0.0, 1.0, 2.0, 5.0)),
        "meets_c": meets_c,
        "pull_up_ohm": pull_up_ohm,
        "supply_v": one_of(rng, (None, 3.3, 5.0)),
        "instructions": tuple(name for name in INSTRUCTIONS if rng.random() < 0.5),
        "twins": one_of(rng, ((), (), ("R8",), ("R8", "R9"))),
        "sisters": one_of(rng, ((), ("R8",), ("R8", "R9"))),
        "labels": {name: (f"R{i}", f"T{i}") for i, name in enumerate(family) if rng.random() < 0.8},
    }
    page_earlier, earlier = _earlier_asked(
        rng, curve, t_c=t_c, shown_ohm=shown_ohm, used=(page_tools, tools)
    )
    more = {
        "reading": reading,
        "at": at,
        "unit": unit,
        "short_ohm": one_of(rng, (None, 5.0, 10.0, 40.0)),
        "after_repair": bool(rng.random() < 0.3),
        "code_instructions": tuple(name for name in INSTRUCTIONS if rng.random() < 0.2),
        "under": _under(rng),
    }
    question = ReadingQuestion(
        sensor=SensorFacts(
            curve=curve,
            curve_id=curve_id,
            family_curves={name: grids[name] for name in family},
            other_curves={name: grids[name] for name in others},
            **facts,
        ),
        tools=tools,
        kit=kit,
        earlier=earlier,
        **more,
    )
    page_sensor = {
        **page_names({name: value for name, value in facts.items() if name != "labels"}),
        "curveId": curve_id,
        "familyCurves": family,
        "otherCurves": others,
        "labels": {name: list(labels) for name, labels in facts["labels"].items()},
    }
    expected = bool(rng.random() < 0.1)
    page = {
        **page_names(more),
        "sensor": page_sensor,
        "tools": page_tools,
        "kit": page_kit,
        "earlier": page_earlier,
        "expected": expected,
    }

    def answer() -> dict[str, object]:
        if expected:
            band = expected_reading(question)
            return {"expected": band, "said": said(band, unit=band.unit, digits=band.digits)}
        found = answer_reading(question)
        return {"answer": found, "said": said(found, unit=found.unit, digits=found.digits)}

    return page, answer


def _earlier_asked(
    rng: np.random.Generator,
    curve: Grid,
    *,
    t_c: float,
    shown_ohm: float,
    used: tuple[dict[str, object], Tools],
) -> tuple[list[dict[str, object]], tuple[EarlierReading, ...]]:
    """Return up to three readings of before: as wrong as this one, right, the same, unreadable."""
    page, python = [], []
    for _ in range(int(one_of(rng, (0, 0, 1, 2, 3)))):
        at_c = float(np.clip(t_c + one_of(rng, (0.0, 1.0, 12.0, -18.0)), curve.low_c, curve.high_c))
        right_ohm, wrong = float(curve.beyond_ohm(at_c)), shown_ohm / float(curve.beyond_ohm(t_c))
        r_ohm = right_ohm * one_of(rng, (1.0, wrong, wrong, float(rng.uniform(0.7, 1.5))))
        reading = typed_ohm(rng, r_ohm) if rng.random() < 0.9 else one_of(rng, (*UNREADABLE, "OL"))
        at, unit = typed_t(rng, at_c)
        at = at if rng.random() < 0.9 else ""
        page_tools, tools = used if rng.random() < 0.7 else tools_asked(rng, unsaid=0.2)
        more = {"reading": reading, "at": at, "unit": unit, "when": one_of(rng, ("", "14:02"))}
        page.append({**more, "tools": page_tools})
        python.append(EarlierReading(tools=tools, **more))
    return page, tuple(python)


def _under(rng: np.random.Generator) -> UnderCode | None:
    """What the notes say under a code: nothing, or how far off it must be and how likely it is."""
    if rng.random() < 0.3:
        return None
    sides = one_of(rng, ((), (-1,), (1,), (-1, 1)))
    share = float(one_of(rng, (0.0, 1.0, rng.uniform(0, 1))))
    return UnderCode(
        needs_k=tuple(side * float(one_of(rng, (1, 3, 8, 20))) for side in sides),
        share=share,
        rival=one_of(rng, ("", "a wet plug")),
        rival_share=(1 - share) / 2,
    )


def _beside_sister(
    rng: np.random.Generator,
    curve: Grid,
    *,
    grids: dict[str, Grid],
    family: list[str],
    t_c: float,
    tools: Tools,
) -> Tools:
    """The same tools beside a sister: of this curve or another, near, far, over range, unreadable."""
    other = one_of(rng, ("", "", family[0], "gone"))
    grid = grids.get(other, curve)
    sister_ohm = float(grid.beyond_ohm(t_c + float(rng.normal(0, 2))))
    typed = typed_ohm(rng, sister_ohm + (tools.meter.meter.leads_ohm if tools.meter else 0.0))
    if rng.random() < 0.2:
        typed = one_of(rng, (*OVER_RANGE, *UNREADABLE, "1", "3 ohm"))
    return replace(tools, placement="sister", sister=typed, sister_curve=other)


def _reach_c(curve: Grid, *, tools: Tools) -> float | None:
    """Return the temperature at which a sensor reads the meter's span, where it ever does."""
    if tools.meter is None:
        return None
    span_ohm = tools.meter.meter.span_ohm - tools.meter.meter.leads_ohm
    low_ohm, high_ohm = curve.range_ohm
    return float(curve.t_c(span_ohm)) if low_ohm < span_ohm < high_ohm else None


def _meets(rng: np.random.Generator, curve: Grid) -> tuple[float, float] | None:
    """Return what a sensor meets: nobody says, some of its curve, or beyond its ends."""
    if rng.random() < 0.2:
        return None
    ends_c = rng.uniform(curve.low_c - 10, curve.high_c + 10, size=2)
    return float(np.min(ends_c)), float(np.max(ends_c))


def _shown_ohm(
    rng: np.random.Generator,
    curve: Grid,
    *,
    t_c: float,
    pull_up_ohm: float | None,
    leads_ohm: float,
) -> float:
    right_ohm = float(curve.beyond_ohm(t_c))
    wrong = rng.random()
    if wrong < 0.12:
        return right_ohm * one_of(rng, (1e3, 1e-3, 10, 0.1)) * float(rng.uniform(0.99, 1.01))
    if wrong < 0.2 and pull_up_ohm:
        # Near what its own error lets fit, so that the stretch of the meter's error is asked for.
        off = float(one_of(rng, (1.0, rng.uniform(0.8, 1.25))))
        return parallel_ohm(right_ohm * off, other_ohm=pull_up_ohm)
    if wrong < 0.22 and pull_up_ohm:
        return pull_up_ohm * float(rng.uniform(0.995, 1.005))
    if wrong < 0.3:
        return right_ohm * float(rng.uniform(1.01, 1.6))
    return reading_ohm(rng, curve, t_c=t_c, leads_ohm=leads_ohm)


def loop_asked(rng: np.random.Generator, grids: dict[str, Grid]) -> tuple[object, Callable]:
    """One reading of a motor's PTC loop: cold, near its response, tripped, open, short."""
    trip_c, in_series = float(one_of(rng, (90, 120, 145))), int(one_of(rng, (1, 3, 6)))
    t_c = float(
        one_of(
            rng,
            (
                rng.uniform(-25, trip_c),
                trip_c + rng.uniform(-25, 25),
                trip_c + 20,
                -20.0,
                trip_c - 20,
            ),
        )
    )
    page_tools, tools = tools_asked(rng)
    limits_ohm = (
        5.0,
        20.0,
        20.0 * in_series,
        14.0 * in_series,
        250.0 * in_series,
        550.0 * in_series,
        1330.0 * in_series,
        4000.0,
    )
    r_ohm = one_of(
        rng,
        (
            *limits_ohm,
            *limits_ohm,
            12.0,
            70.0 * in_series,
            120.0 * in_series,
            1e4,
            2.0,
            0.0,
            math.inf,
            math.inf,
            math.inf,
        ),
    )
    if math.isfinite(r_ohm):
        r_ohm *= float(one_of(rng, (1.0, 1.0, rng.uniform(0.9, 1.1))))
    at, unit = typed_t(rng, t_c)
    at = at if rng.random() < 0.75 else ""
    reading = one_of(rng, UNREADABLE) if rng.random() < 0.05 else typed_ohm(rng, r_ohm)
    instructions = tuple(name for name in INSTRUCTIONS if rng.random() < 0.5)
    more = {
        "reading": reading,
        "at": at,
        "unit": unit,
        "short_ohm": one_of(rng, (5.0, 10.0, 40.0)),
        "instructions": instructions,
    }
    question = LoopQuestion(
        loop=SwitchingPtc(trip_c=trip_c, in_series=in_series), tools=tools, **more
    )

    def answer() -> dict[str, object]:
        found = answer_loop(question)
        return {"answer": found, "said": said(found, unit=found.unit)}

    page = {**page_names(more), "loop": {"tripC": trip_c, "inSeries": in_series}}
    return {**page, "tools": page_tools}, answer
