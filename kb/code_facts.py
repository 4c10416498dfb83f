"""From a code's entry to what the floor of answers asks: its ways, its suspects, its steps."""

from __future__ import annotations

from kb.answers.blinks import BlinkPattern
from kb.answers.code_checks import STEPS, CodeFacts, RankedSuspect, StoredCharge
from kb.answers.code_lookup import KnownCode, KnownFamily, ShownWay
from kb.answers.family_words import KnownNames
from kb.answers.reading_excluded import UnderCode
from kb.catalog import Catalog
from kb.model import Code, Family, Part, Sensor
from kb.model.code import Shown, Suspect, Trip
from kb.suspects import Ranked, rank_suspects


def shown_way(way: Shown) -> ShownWay:
    """Return one way of showing, ready to be held against what was typed."""
    if way.blinks is not None:
        return ShownWay(blinks=BlinkPattern(long=way.blinks.long, short=way.blinks.short))
    return ShownWay(text=way.text or way.asked or "")


def known_codes(catalog: Catalog, *, family: Family) -> tuple[KnownCode, ...]:
    """Return a family's codes and how each is shown, in reading order."""
    return tuple(
        KnownCode(id=code.id, ways=tuple(shown_way(way) for way in code.shown))
        for code in catalog.of_family(Code, family.id)
    )


def known_families(catalog: Catalog) -> tuple[KnownFamily, ...]:
    """Return every family: what it is called, and its codes."""
    return tuple(
        KnownFamily(
            names=KnownNames(id=family.id, names=(family.name, *family.aka)),
            codes=known_codes(catalog, family=family),
        )
        for family in catalog.all(Family).values()
    )


def code_facts(catalog: Catalog, *, code: Code) -> CodeFacts:
    """Return what decides what to do on a code."""
    family = catalog.family_of(code)
    ranking = rank_suspects(code, cases=catalog.cases_of(code))
    return CodeFacts(
        suspects=tuple(_ranked(catalog, ranked=ranked, code=code) for ranked in ranking.suspects),
        expected_min=ranking.expected_min,
        charge=StoredCharge(
            wait_min=family.drain_min,
            drained_v=family.drained_below_v,
            nothing_stored=family.no_charge or "",
        ),
        asks={"code": bool(code.ask), "family": bool(family_asking(family))},
        fields=tuple(field for field in STEPS if getattr(code, field)),
    )


def under_codes(catalog: Catalog, sensor: Sensor) -> dict[str, UnderCode]:
    """Return code id → what decides on a sensor's readings under that code."""
    return {
        code.id: _under_code(catalog, code=code, sensor=sensor)
        for code in catalog.codes_accusing(sensor)
    }


def _under_code(catalog: Catalog, *, code: Code, sensor: Sensor) -> UnderCode:
    ranked = rank_suspects(code, cases=catalog.cases_of(code)).suspects
    own = sum(row.share for row in ranked if row.suspect.sensor == sensor.id)
    others = [row for row in ranked if row.suspect.sensor != sensor.id]
    rival = max(others, key=lambda row: row.share, default=None)
    return UnderCode(
        needs_k=_needs_k(code, sensor=sensor),
        share=own,
        rival=_suspect_name(catalog, suspect=rival.suspect) if rival else "",
        rival_share=rival.share if rival else 0.0,
    )


def _needs_k(code: Code, *, sensor: Sensor) -> tuple[float, ...]:
    """Return how far off a sensor must be for a code, colder and hotter: the nearer of each.

    Nothing where a limit lies within what a sound one meets: then it is no matter of being off.
    """
    found = [
        needs_k
        for trip in code.trip
        if trip.sensor in (None, sensor.id)
        for needs_k in _trip_needs_k(trip, sensor=sensor)
    ]
    if 0.0 in found:
        return ()
    cold_k = [needs_k for needs_k in found if needs_k < 0]
    hot_k = [needs_k for needs_k in found if needs_k > 0]
    return (*sorted(cold_k)[-1:], *sorted(hot_k)[:1])


def _trip_needs_k(trip: Trip, *, sensor: Sensor) -> list[float]:
    sides = [side for side, t_c in ((-1, trip.below_c), (1, trip.above_c)) if t_c is not None]
    if trip.off_k is not None:
        return [side * trip.off_k for side in sides or (-1, 1)]
    if trip.sensor is None or sensor.meets_c is None:
        return []
    lowest_c, highest_c = sensor.meets_c
    cold_k = [] if trip.below_c is None else [min(trip.below_c - lowest_c, 0.0)]
    hot_k = [] if trip.above_c is None else [max(trip.above_c - highest_c, 0.0)]
    return cold_k + hot_k


def _suspect_name(catalog: Catalog, *, suspect: Suspect) -> str:
    if suspect.sensor is not None:
        return catalog.get(Sensor, suspect.sensor).label
    return catalog.get(Part, suspect.part).name if suspect.part else suspect.what or ""


def family_asking(family: Family) -> list[str]:
    """Return the steps of a family's controllers that make it name the fault."""
    return [step for controller in family.controllers for step in controller.ask]


def _ranked(catalog: Catalog, *, ranked: Ranked, code: Code) -> RankedSuspect:
    suspect = ranked.suspect
    sensor = catalog.get(Sensor, suspect.sensor) if suspect.sensor else None
    untestable = sensor.untestable if sensor else None
    return RankedSuspect(
        place=code.suspects.index(suspect),
        sensor=suspect.sensor,
        part=suspect.part,
        what=suspect.what,
        share=ranked.share,
        minutes=suspect.minutes,
        cases=ranked.cases,
        of_cases=ranked.of_cases,
        live=suspect.live,
        why=untestable.why if untestable else "",
        instead=untestable.instead if untestable else "",
    )
