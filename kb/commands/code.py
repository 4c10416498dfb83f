"""`ohmfolio code`: a code's page in the terminal, what to check first at the top."""

from __future__ import annotations

import textwrap
from pathlib import Path

import click

from kb.check import check_notes
from kb.model import Case, Code, Family, Part, Sensor
from kb.notes.load import Notes
from kb.notes.problem import nearest
from kb.numbers.rounding import format_percent, format_plain, format_whole
from kb.shown_codes import codes_shown_as
from kb.suspects import Ranked, rank_suspects

from .options import NotUnderstood, json_option, notes_option, say_json

WIDE = 88


@click.command()
@click.argument("family", metavar="FAMILY")
@click.argument("shown", metavar="SHOWN", nargs=-1, required=True)
@notes_option
@json_option
def code(family: str, shown: tuple[str, ...], notes: Path, as_json: bool) -> None:
    """Say what a code means on a family, and what to check in which order.

    SHOWN is the code however you type it: k4-2, K42, or its blinks as '4 long 2 short' or 4L2S;
    '3 blinks', 3x or 3 where none of them is long.

    Example: ohmfolio code quellmark-rooftop k42
    """
    loaded = check_notes(notes)
    families = loaded.of(Family)
    if family not in families:
        raise NotUnderstood(f"no family is called '{family}'; {nearest(family, families)}")
    asked = " ".join(shown)
    own = [one for one in loaded.of(Code).values() if one.family == family]
    found = codes_shown_as(asked, codes=own)
    if not found:
        spoken = [way.spoken() for one in own for way in one.shown]
        raise NotUnderstood(
            f"{families[family].name} shows no code '{asked}'; {nearest(asked, spoken)}"
        )
    cases = [one for one in loaded.of(Case).values() if isinstance(one, Case)]
    if as_json:
        say_json([_as_json(one, cases) for one in found])
        return
    click.echo("\n\n".join(_told(loaded, families[family], one, cases) for one in found))


def _as_json(one: Code, cases: list[Case]) -> dict[str, object]:
    ranking = rank_suspects(one, cases=cases)
    return {
        "code": one.id,
        "shown": [way.spoken() for way in one.shown],
        "meaning": one.meaning,
        "expected_min": ranking.expected_min,
        "suspects": [
            {
                "sensor": ranked.suspect.sensor,
                "part": ranked.suspect.part,
                "what": ranked.suspect.what,
                "share": ranked.share,
                "minutes": ranked.suspect.minutes,
                "cases": ranked.cases,
                "of_cases": ranked.of_cases,
            }
            for ranked in ranking.suspects
        ],
    }


def _told(notes: Notes, family: Family, one: Code, cases: list[Case]) -> str:
    ranking = rank_suspects(one, cases=cases)
    ask = one.ask or [step for controller in family.controllers for step in controller.ask]
    ways = ", ".join(
        f"{way.spoken()} ({way.blinks.lamp})" if way.blinks else way.spoken() for way in one.shown
    )
    parts = [
        f"{ways}: {one.name}",
        _wrapped(one.meaning),
        "Before you measure: isolate, lock off, prove dead. "
        f"{family.wait}: below {format_plain(family.drained_below_v)} V.",
        _numbered("Ask the machine first", ask),
        _checks(notes, ranking.suspects, ranking.expected_min),
        _numbered("Rule out first", one.rule_out),
        _numbered("What raises it", [trip.words for trip in one.trip]),
        _numbered("Clear it", one.clear),
        _numbered("Watch afterwards", one.afterwards),
        "The maker's instructions, local codes and licensed practice come first.",
    ]
    return "\n\n".join(part for part in parts if part)


def _checks(notes: Notes, suspects: tuple[Ranked, ...], expected_min: float) -> str:
    rows = [f"Check in this order ({format_whole(expected_min)} min expected):"]
    for number, one in enumerate(suspects, start=1):
        suspect = one.suspect
        counted = f", {one.cases} of {one.of_cases} here" if one.of_cases else ""
        rows.append(
            f"  {number}. {_name(notes, one)}: {format_percent(one.share)} likely, "
            f"{format_plain(suspect.minutes)} min{counted}"
        )
        if suspect.look_for:
            rows.append(_wrapped(suspect.look_for, indent="     "))
        rows.extend(_untestable(notes, one))
    return "\n".join(rows)


def _name(notes: Notes, one: Ranked) -> str:
    if one.suspect.sensor:
        sensor = notes.of(Sensor)[one.suspect.sensor]
        plug = f", plug {sensor.plug.mark}" if sensor.plug else ""
        return f"{sensor.name} ({sensor.id}{plug})"
    if one.suspect.part:
        return f"{notes.of(Part)[one.suspect.part].name} ({one.suspect.part})"
    return one.suspect.what or ""


def _untestable(notes: Notes, one: Ranked) -> list[str]:
    sensor = notes.of(Sensor).get(one.suspect.sensor or "")
    if sensor is None or sensor.untestable is None:
        return []
    told = f"It has no test: {sensor.untestable.why} Instead: {sensor.untestable.instead}"
    return [_wrapped(told, indent="     ")]


def _numbered(title: str, lines: list[str]) -> str:
    if not lines:
        return ""
    rows = []
    for number, line in enumerate(lines, start=1):
        lead = f"  {number}. "
        rows.append(
            textwrap.fill(line, WIDE, initial_indent=lead, subsequent_indent=" " * len(lead))
        )
    return "\n".join([f"{title}:", *rows])


def _wrapped(text: str, *, indent: str = "") -> str:
    return textwrap.fill(text, WIDE, initial_indent=indent, subsequent_indent=indent)
