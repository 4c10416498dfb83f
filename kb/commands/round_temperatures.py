"""The temperatures of a round in a terminal: `outdoor=8C`, each for the place that it names."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence

from kb.answers.round_places import OWN_PLACE, PlaceTemperature, RestingSensor, place_key
from kb.notes.problem import nearest

from .options import NotUnderstood


def place_temperatures(
    texts: Iterable[str],
    *,
    placement: str,
    resting: Sequence[RestingSensor],
    labels: Mapping[str, str],
) -> list[PlaceTemperature]:
    """Return the temperatures as typed, each with the place where it was taken.

    Parameters
    ----------
    texts : iterable of str
        `PLACE=T`, or a bare `T` where all the readings rest in one place.
    placement : str
        How they were taken.
    resting : sequence of RestingSensor
        Those that were read.
    labels : mapping of sensor id to its label

    Raises
    ------
    NotUnderstood
        When a bare temperature could be of several places, a place is none of those where the
        readings rest, or was given twice.
    """
    places = list(dict.fromkeys(place_key(sensor) for sensor in resting))
    given: dict[str, PlaceTemperature] = {}
    for text in texts:
        name, sign, t_text = (part.strip() for part in text.rpartition("="))
        place = (
            _place(name, places=places, resting=resting, labels=labels)
            if sign
            else _only_place(t_text, places=places)
        )
        if place in given:
            raise NotUnderstood(f"{_shown(place)} was given two temperatures; give each place one")
        given[place] = PlaceTemperature(place=place, at=t_text or text, placement=placement)
    return list(given.values())


def _only_place(t_text: str, *, places: Sequence[str]) -> str:
    if len(places) == 1:
        return places[0]
    named = " or ".join(f'--at "{_shown(place)}={t_text}"' for place in places)
    raise NotUnderstood(
        f"the readings rest in {len(places)} places; say where {t_text} was taken: {named}"
    )


def _place(
    name: str, *, places: Sequence[str], resting: Sequence[RestingSensor], labels: Mapping[str, str]
) -> str:
    """Return the place of that name, of the beginning of a word in one of them, or of a sensor."""
    asked = name.casefold()
    for sensor in resting:
        if asked in (sensor.id.casefold(), labels[sensor.id].casefold()):
            return place_key(sensor)
    if exact := [place for place in places if place.casefold() == asked]:
        return exact[0]
    begins = re.compile(rf"\b{re.escape(asked)}")
    within = [place for place in places if asked and begins.search(place.casefold())]
    if len(within) == 1:
        return within[0]
    if within:
        named = " or ".join(f"'{place}'" for place in within)
        raise NotUnderstood(f"'{name}' could be {named}; write the place in full")
    shown = [_shown(place) for place in places]
    raise NotUnderstood(f"none of the readings rests in '{name}'; {nearest(name, shown)}")


def _shown(place: str) -> str:
    return place.removeprefix(OWN_PLACE)
