"""The sensor page's form: a reading at a temperature in, a verdict out."""

from __future__ import annotations

from collections.abc import Mapping

from kb.catalog import Catalog
from kb.code_facts import under_codes
from kb.facts import family_labels, instructions_of, sister_labels, steps_by_code, twin_labels
from kb.model import Family, Sensor
from kb.words.catalogue import cautions
from kb.words.phrase import in_words

from ..html import Html, el
from ..site_context import SiteContext
from .fields import (
    again_key,
    answer,
    choice,
    clear_key,
    instruments_fold,
    packed,
    placed_field,
    plain_field,
    reading_hint,
    two_ways,
)


def sensor_form(context: SiteContext, *, sensor: Sensor) -> Html:
    """Return the form that judges a reading of one sensor, in the order of use.

    Temperature, how it was taken, meter; then the answer, and only below it what seldom changes.
    """
    instructions = {name: getattr(sensor, name) for name in instructions_of(sensor)}
    return el(
        "form",
        placed_field("at", label=in_words("sensor-form.at")),
        plain_field("reading", label=in_words("form-field.shows"), hint=reading_hint()),
        answer("at", "how", "reading", "meter", "thermometer"),
        el("div", class_="ohm-more"),
        two_ways(
            "when",
            label=in_words("form-when.reading"),
            options=[(way, in_words(f"form-when.{way}")) for way in ("before", "after")],
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
    same = ", ".join(own) or in_words("sensor-form.sister-new")
    others = [
        (curve, in_words("sensor-form.sister-other", labels=", ".join(named)))
        for curve, named in labels.items()
        if curve != sensor.curve
    ]
    return el(
        "details",
        el("summary", in_words("sensor-form.sister-title")),
        el("p", in_words("sensor-form.sister-how")),
        plain_field("sister", label=in_words("sensor-form.sister"), hint=reading_hint()),
        choice(
            "sister-curve", label=in_words("sensor-form.sister-is"), options=[("", same), *others]
        ),
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
        el("summary", in_words("sensor-form.volts-title")),
        el("p", cautions()["live-work"].words, class_="ohm-caution"),
        el("div", data_unrated=True, aria_live="polite"),
        plain_field(
            "volts", label=in_words("sensor-form.volts"), hint=in_words("sensor-form.volts-hint")
        ),
        plain_field("supply", label=in_words("sensor-form.supply")),
        answer("volts", "supply"),
        data_side="volts",
    )


def _controller() -> Html:
    """Return the fold for what the controller itself shows."""
    return el(
        "details",
        el("summary", in_words("sensor-form.shown-title")),
        plain_field(
            "shown", label=in_words("sensor-form.shown"), hint=in_words("sensor-form.shown-hint")
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
