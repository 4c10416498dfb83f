"""The family page's round: every sensor that a meter can judge, one reading each."""

from __future__ import annotations

from kb.catalog import plain_name
from kb.facts import round_sensors
from kb.model import Family, Sensor

from ..html import Html, el
from ..site_context import SiteContext
from .fields import (
    READING_HINT,
    clear_key,
    how_taken,
    instruments_fold,
    packed,
    stepped_field,
    typed_input,
)

FEWEST = 2
"""One sensor has nobody to agree with."""


def round_form(context: SiteContext, *, family: Family) -> Html:
    """Return the round of readings of a family, or nothing where it has too few sensors."""
    sensors = round_sensors(context.catalog, family)
    if len(sensors) < FEWEST:
        return Html("")
    return el(
        "form",
        el(
            "p",
            "The machine at rest for an hour or more, each sensor unplugged while it is "
            "measured. Fill in as many as you like. No thermometer is needed: those that rest "
            "in one place are held against each other, never a room against the outdoors.",
        ),
        el("ol", [_row(sensor) for sensor in sensors], class_="ohm-round"),
        el("p", READING_HINT + ".", class_="ohm-hint", id="round-hint"),
        el("output", class_="ohm-answer ohm-round-says", role="status"),
        el(
            "details",
            el("summary", "With a thermometer"),
            stepped_field(
                "round-at",
                label="Temperature where they rest",
                hint="Leave it empty without one, or when they rest in several places.",
            ),
            how_taken("round-how"),
        ),
        instruments_fold(context.catalog),
        el(
            "div",
            el("button", "Copy as text", type="button", data_copy="text"),
            el("button", "Copy as a case entry", type="button", data_copy="case"),
            clear_key("Clear the round"),
            class_="ohm-keys",
        ),
        el("div", class_="ohm-copied", hidden=True),
        class_="ohm-calc",
        data_calc="round",
        data_family=family.id,
        data_name=family.name,
        hidden=True,
        autocomplete="off",
    )


def _row(sensor: Sensor) -> Html:
    field = f"r-{sensor.id}"
    return el(
        "li",
        el(
            "label",
            el("strong", sensor.label),
            " ",
            plain_name(sensor),
            el("span", f"rests in {sensor.rests_with}", class_="ohm-hint")
            if sensor.rests_with
            else None,
            for_=field,
        ),
        typed_input(field, described=f"{field}-says round-hint"),
        el("p", id=f"{field}-says", class_="ohm-round-state"),
        data_sensor=sensor.id,
        data_facts=packed(_facts(sensor)),
    )


def _facts(sensor: Sensor) -> dict[str, object]:
    """Return what decides on its readings at rest, in the page's names."""
    return {
        "id": sensor.id,
        "name": sensor.label,
        "curveId": sensor.curve,
        "allowK": sensor.allow_k or 0.0,
        "place": sensor.rests_with or "",
    }
