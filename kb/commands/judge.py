"""`ohmfolio judge`: is this reading right for this temperature, with these instruments?"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

import click

from kb.answers.instruments import Tools
from kb.answers.loop import LoopQuestion, answer_loop
from kb.answers.reading import ReadingQuestion, answer_reading
from kb.answers.reading_earlier import EarlierReading
from kb.answers.reading_excluded import UnderCode
from kb.answers.statement import Refusal
from kb.catalog import Catalog
from kb.code_facts import under_codes
from kb.facts import (
    family_labels,
    instructions_of,
    kit_of,
    sensor_facts,
    steps_by_code,
    team_short_ohm,
)
from kb.laws import loop_of
from kb.model import Code
from kb.model.curve import SwitchingPtc as SwitchingPtcCurve
from kb.notes.late import open_notes
from kb.notes.problem import nearest

from .computing import computing, refuse_untestable
from .instruments_used import beside_sister, instruments_options, sister_options, tools_named
from .judge_words import loop_as_dict, loop_words, reading_as_dict, reading_words
from .options import (
    NamedCurve,
    NotUnderstood,
    find_curve,
    json_option,
    notes_option,
    read_entry,
    refused,
    say_json,
)
from .other_reading import other_reading


@click.command()
@click.argument("name", metavar="SENSOR|CURVE")
@click.option(
    "--at",
    metavar="T",
    default="",
    help="The temperature at the sensor, such as 7, -10 or 45F. Not needed where every temperature "
    "that it meets says the same, nor in ice water.",
)
@click.option(
    "--reading", metavar="R", required=True, help="What the meter shows: 6.32k, 6k32, 480, OL."
)
@click.option(
    "--also",
    metavar="'R at T'",
    multiple=True,
    help="Another reading of the same sensor in this visit, such as '8.1k at 25' or '8.1k at 25 "
    "strapped': at another temperature, with the plug off, or as another meter shows it ('8.1k at "
    "25 with bench-meter'). It helps to tell what explains the first; up to two count.",
)
@click.option(
    "--code", metavar="ID", help="The code that the machine shows: what follows may hang on it."
)
@instruments_options
@sister_options
@notes_option
@json_option
def judge(
    name: str,
    at: str,
    reading: str,
    meter: str | None,
    thermometer: str | None,
    placement: str | None,
    also: tuple[str, ...],
    sister: str,
    sister_curve: str,
    code: str | None,
    notes: Path,
    as_json: bool,
) -> None:
    """Say whether a reading is right for a temperature.

    Within limits, outside limits or not decided, with the part's tolerance and the errors of
    meter, thermometer and placement counted. Exit code 0 whatever the verdict.

    Example: ohmfolio judge ntc-10k-3435 --at 7 --reading 20.1k --placement strapped
    """
    catalog = Catalog(open_notes(notes))
    named = find_curve(catalog.notes, name=name)
    refuse_untestable(named.sensor)
    tools = tools_named(catalog, meter=meter, thermometer=thermometer, placement=placement)
    if sister:
        _refuse_beside_sister(named, catalog=catalog, curve=sister_curve, at=at + (placement or ""))
        tools = beside_sister(tools, sister=sister, curve=sister_curve)
    typed = _Typed(
        reading=reading,
        at=at,
        tools=tools,
        others=tuple(other_reading(text, tools=tools, catalog=catalog) for text in also),
        code_steps=_code_steps(catalog, named=named, code=code) if code else {},
        under=under_codes(catalog, named.sensor).get(code) if code and named.sensor else None,
    )
    try:
        if isinstance(named.curve, SwitchingPtcCurve):
            _judge_loop(named, curve=named.curve, catalog=catalog, typed=typed, as_json=as_json)
        else:
            _judge_reading(named, catalog=catalog, typed=typed, as_json=as_json)
    except Refusal as refusal:
        raise refused(refusal, at=at) from None


@dataclass(frozen=True, kw_only=True)
class _Typed:
    """What was typed beside the name of the curve."""

    reading: str
    at: str
    tools: Tools
    others: tuple[EarlierReading, ...]
    code_steps: Mapping[str, str]
    under: UnderCode | None


def _refuse_beside_sister(named: NamedCurve, *, catalog: Catalog, curve: str, at: str) -> None:
    """Refuse what says the temperature twice, a loop, and a sister of no curve of the family's."""
    if at:
        raise NotUnderstood("a sister stands for the temperature: give --sister, or --at and how")
    if isinstance(named.curve, SwitchingPtcCurve):
        raise NotUnderstood("a motor's PTC loop has no sister: give --at")
    family = family_labels(catalog, named.sensor) if named.sensor else {}
    if curve and curve not in family:
        raise NotUnderstood(
            f"no other sensor of the family is on '{curve}'; {nearest(curve, family)}"
        )


def _code_steps(catalog: Catalog, *, named: NamedCurve, code: str) -> Mapping[str, str]:
    """Return what follows from the sensor's readings under a code, where it says anything."""
    if not catalog.notes.knows("codes", code):
        ids = catalog.notes.ids("codes")
        raise NotUnderstood(f"no code is called '{code}'; {nearest(code, ids)}")
    read_entry(catalog.notes, model=Code, entry_id=code)
    return steps_by_code(catalog, named.sensor).get(code, {}) if named.sensor else {}


def _judge_loop(
    named: NamedCurve, *, curve: SwitchingPtcCurve, catalog: Catalog, typed: _Typed, as_json: bool
) -> None:
    question = LoopQuestion(
        loop=loop_of(curve),
        reading=typed.reading,
        at=typed.at,
        tools=typed.tools,
        short_ohm=team_short_ohm(catalog),
        instructions=instructions_of(named.sensor) if named.sensor else (),
    )
    answer = answer_loop(question)
    if as_json:
        say_json(loop_as_dict(answer))
    else:
        click.echo(loop_words(answer, named=named, question=question))


def _judge_reading(named: NamedCurve, *, catalog: Catalog, typed: _Typed, as_json: bool) -> None:
    question = ReadingQuestion(
        sensor=sensor_facts(
            catalog, curve=computing(named.curve), curve_id=named.curve.id, sensor=named.sensor
        ),
        reading=typed.reading,
        at=typed.at,
        tools=typed.tools,
        short_ohm=team_short_ohm(catalog),
        code_instructions=tuple(typed.code_steps),
        earlier=typed.others,
        kit=kit_of(catalog),
        under=typed.under,
    )
    answer = answer_reading(question)
    own = {name: getattr(named.sensor, name) for name in question.sensor.instructions}
    steps = {"code": typed.code_steps, "sensor": own}
    if as_json:
        say_json(reading_as_dict(answer))
    else:
        click.echo(reading_words(answer, named=named, question=question, steps=steps))
