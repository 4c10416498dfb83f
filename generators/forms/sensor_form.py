"""The sensor page's form: a reading at a temperature in, a verdict out."""

from __future__ import annotations

from collections.abc import Mapping

from kb.catalog import Catalog
from kb.code_facts import under_codes
from kb.facts import family_labels, instructions_of, sister_labels, steps_by_code, twin_labels
from kb.model import Family, Sensor
from kb.words.catalogue import cautions

from ..html import Html, el
from ..site_context import SiteContext
from .fields import (
    READING_HINT,
    again_key,
    answer,
    choice,
    clear_key,
    instruments_fold,
    packed,
    placed_field,
    plain_field,
    two_ways,
)


def sensor_form(context: SiteContext, *, sensor: Sensor) -> Html:
    """Return the form that judges a reading of one sensor, in the order of use.

    Temperature, how it was taken, meter; then the answer, and only below it what seldom changes.
    """
    instructions = {name: getattr(sensor, name) for name in instructions_of(sensor)}
    return el(
        "form",
        placed_field("at", label="Temperature at the sensor"),
        plain_field("reading", label="Meter shows", hint=READING_HINT),
        answer("at", "how", "reading", "meter", "thermometer"),
        el("div", class_="ohm-more"),
        two_ways(
            "when",
            label="This reading is",
            options=[("before", "before the repair"), ("after", "after the repair")],
        ),
        el("div", class_="ohm-earlier", hidden=True),
        el("div", again_key(), clear_key(), class_="ohm-keys"),
        _sister(sensor, labels=family_labels(context.catalog, sensor)),
        instruments_fold(context.catalog),
        _plug_volts(sensor),
        _controller(),
        class_="ohm-calc",
        data_calc="judge",
        data_sensor=sensor.id,
        data_family=sensor.family,
        data_place=resting_place(sensor),
        data_facts=packed(_facts(context.catalog, sensor)),
        data_instructions=packed(instructions),
        data_code_steps=packed(steps_by_code(context.catalog, sensor)),
        data_under=packed(_under(context.catalog, sensor)),
        hidden=True,
        autocomplete="off",
    )


def _sister(sensor: Sensor, *, labels: Mapping[str, tuple[str, ...]]) -> Html:
    """Return the fold for a second sensor in the same cup: one more reading, and no temperature."""
    own = labels.get(sensor.curve or "", ())
    same = ", ".join(own) or "a new one of the same sort"
    others = [
        (curve, f"{', '.join(named)} (another curve)")
        for curve, named in labels.items()
        if curve != sensor.curve
    ]
    return el(
        "details",
        el("summary", "Without a thermometer"),
        el(
            "p",
            "Both sensors tied together in one stirred cup of water, warm or cold; the same meter "
            "on the same range. Only their difference counts.",
        ),
        plain_field("sister", label="The sister reads", hint=READING_HINT),
        choice("sister-curve", label="The sister is", options=[("", same), *others]),
        data_side="sister",
    )


def _under(catalog: Catalog, sensor: Sensor) -> dict[str, object]:
    """Return what decides on its readings under each code that suspects it, in the page's names."""
    return {
        code: {
            "needsK": list(under.needs_k),
            "share": under.share,
            "rival": under.rival,
            "rivalShare": under.rival_share,
        }
        for code, under in under_codes(catalog, sensor).items()
    }


def _plug_volts(sensor: Sensor) -> Html | None:
    """Return the fold for volts at the plug, where the notes know the board's side of it."""
    if sensor.board_input is None:
        return None
    return el(
        "details",
        el("summary", "Volts at the plug, live"),
        el("p", cautions()["live-work"].words, class_="ohm-caution"),
        el("div", data_unrated=True, aria_live="polite"),
        plain_field(
            "volts", label="Volts at the plug, plugged in and powered", hint="2.47, 0.8 or 350 mV"
        ),
        plain_field("supply", label="With the plug off, if you measured that too"),
        answer("volts", "supply"),
        data_side="volts",
    )


def _controller() -> Html:
    """Return the fold for what the controller itself shows."""
    return el(
        "details",
        el("summary", "What the controller shows"),
        plain_field(
            "shown", label="The controller shows, in degrees", hint="Read it with the plug in"
        ),
        answer("shown"),
        data_side="controller",
    )


def resting_place(sensor: Sensor) -> str:
    """Return where its temperature counts: with all that rests there, or for itself alone."""
    return sensor.rests_with or f"sensor:{sensor.id}"


def _facts(catalog: Catalog, sensor: Sensor) -> dict[str, object]:
    """Return what decides on its readings, in the page's names."""
    board = sensor.board_input
    labels = family_labels(catalog, sensor)
    return {
        "curveId": sensor.curve,
        "allowK": sensor.allow_k or 0.0,
        "meetsC": list(sensor.meets_c) if sensor.meets_c else None,
        "pullUpOhm": board.pull_up_ohm if board else None,
        "supplyV": board.supply_v if board else None,
        "liveV": catalog.get(Family, sensor.family).live_v if board else None,
        "instructions": list(instructions_of(sensor)),
        "labels": {curve: list(named) for curve, named in labels.items() if curve != sensor.curve},
        "twins": list(twin_labels(catalog, sensor)),
        "sisters": list(sister_labels(catalog, sensor)),
    }


def curves_of_family(context: SiteContext, *, family_id: str) -> list[str]:
    """Return every curve that a sensor of the family has, for its scripts."""
    return [
        sensor.curve
        for sensor in context.catalog.of_family(Sensor, family_id)
        if sensor.curve and context.catalog.characteristic_of_sensor(sensor)
    ]
