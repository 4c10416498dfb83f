"""The family page's round: place by place every sensor that a meter can judge, one reading each."""

from __future__ import annotations

from kb.answers.round_places import place_key
from kb.catalog import plain_name
from kb.facts import resting_sensors, round_sensors
from kb.model import Family, Sensor
from kb.words.phrase import capital, in_words

from ..html import Html, el
from ..site_context import SiteContext
from .fields import (
    clear_key,
    instruments_fold,
    packed,
    placed_field,
    reading_hint,
    two_ways,
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
        el("p", in_words("round-form.how")),
        two_ways(
            "round-when",
            label=in_words("form-when.round"),
            options=[(way, in_words(f"form-when.{way}")) for way in ("before", "after")],
        ),
        _places(context, family, sensors),
        el(
            "p",
            in_words("round-form.hint", hint=reading_hint()),
            class_="ohm-hint",
            id="round-hint",
        ),
        el("output", class_="ohm-answer ohm-round-says", role="status"),
        instruments_fold(context.catalog),
        el(
            "div",
            el("button", in_words("round-form.copy-text"), type="button", data_copy="text"),
            el("button", in_words("round-form.copy-case"), type="button", data_copy="case"),
            clear_key(in_words("round-form.clear")),
            class_="ohm-keys",
        ),
        el("div", class_="ohm-cleared", role="status"),
        el("div", class_="ohm-copied", hidden=True),
        class_="ohm-calc",
        data_calc="round",
        data_family=family.id,
        data_name=family.name,
        hidden=True,
        autocomplete="off",
    )


def _places(context: SiteContext, family: Family, sensors: list[Sensor]) -> list[Html]:
    """Return every place with its sensors, those whose place nobody noted last, each by itself."""
    by_id = {sensor.id: sensor for sensor in sensors}
    places: dict[str, list[Sensor]] = {}
    for resting in resting_sensors(context.catalog, family, name=lambda sensor: sensor.label):
        places.setdefault(place_key(resting), []).append(by_id[resting.id])
    noted = [key for key, there in places.items() if there[0].rests_with]
    return [
        _place(context, key, number=number, sensors=places[key])
        for number, key in enumerate([*noted, *(key for key in places if key not in noted)])
    ]


def _place(context: SiteContext, key: str, *, number: int, sensors: list[Sensor]) -> Html:
    place = sensors[0].rests_with
    label = sensors[0].label
    name = capital(place) if place else in_words("round-form.not-noted", sensor=label)
    heading = f"round-place-{number}"
    return el(
        "section",
        el("h3", name, id=heading),
        el("ol", [_row(context, sensor) for sensor in sensors], class_="ohm-round"),
        el(
            "details",
            el(
                "summary", in_words("round-form.at-title" if place else "round-form.at-title-alone")
            ),
            placed_field(
                f"round-at-{number}",
                label=in_words("round-form.at", place=place)
                if place
                else in_words("round-form.at-alone", sensor=label),
                how=f"round-how-{number}",
                ice=False,
            ),
            el("p", id=f"round-at-{number}-says", class_="ohm-place-refused"),
        ),
        el("output", class_="ohm-answer ohm-place-says", role="status"),
        class_="ohm-place",
        aria_labelledby=heading,
        data_place=key,
        data_name=name,
        data_number=str(number),
    )


def _row(context: SiteContext, sensor: Sensor) -> Html:
    field = f"r-{sensor.id}"
    return el(
        "li",
        el(
            "a",
            el("strong", sensor.label),
            " ",
            plain_name(sensor),
            href=context.href(sensor),
            id=f"{field}-name",
        ),
        typed_input(field, described=f"{field}-says round-hint", labelled=f"{field}-name"),
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
