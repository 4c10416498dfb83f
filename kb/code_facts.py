"""From a code's entry to what the floor of answers asks: its ways, its suspects, its steps."""

from __future__ import annotations

from kb.answers.blinks import BlinkPattern
from kb.answers.code_checks import STEPS, CodeFacts, RankedSuspect, StoredCharge
from kb.answers.code_lookup import KnownCode, KnownFamily, ShownWay
from kb.answers.family_words import KnownNames
from kb.catalog import Catalog
from kb.model import Code, Family, Sensor
from kb.model.code import Shown
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
