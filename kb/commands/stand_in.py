"""`ohmfolio stand-in`: standard resistors to plug in place of a sensor, to test the board."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

import click

from kb.answers.stand_in import StandInAnswer, StandInQuestion, StoodIn, answer_stand_in
from kb.answers.statement import Refusal
from kb.facts import board_side
from kb.notes.late import open_notes
from kb.numbers.e_series import SERIES
from kb.words.catalogue import cautions
from kb.words.phrase import Voice, phrase, sentence

from .computing import computing
from .options import NamedCurve, find_curve, json_option, notes_option, refused, say_json
from .part_lookup import caution_lines
from .terminal import paragraphs, wrapped


@click.command("stand-in")
@click.argument("name", metavar="CURVE|SENSOR")
@click.option(
    "--at", metavar="T", required=True, help="The temperature to stand for, such as 7, -10 or 45F."
)
@click.option(
    "--series",
    type=click.Choice(SERIES),
    default="E24",
    show_default=True,
    help="What is in the drawer (IEC 60063).",
)
@notes_option
@json_option
def stand_in(name: str, at: str, series: str, notes: Path, as_json: bool) -> None:
    """Say which standard resistors stand for a sensor at a temperature.

    Single ones and pairs, the nearest first, with what the board should then show. Of a SENSOR
    whose board input is known, the volts at the plug too.

    Example: ohmfolio stand-in ntc-10k-3435 --at 0 --series E12
    """
    named = find_curve(open_notes(notes), name=name)
    question = StandInQuestion(
        curve=computing(named.curve),
        curve_id=named.curve.id,
        at=at,
        series=series,
        board=board_side(named.sensor),
    )
    try:
        answer = answer_stand_in(question)
    except Refusal as refusal:
        raise refused(refusal, at=at) from None
    if as_json:
        say_json(stand_in_as_dict(answer, curve_id=named.curve.id))
    else:
        click.echo(stand_in_words(answer, named=named))


def stand_in_words(answer: StandInAnswer, *, named: NamedCurve) -> str:
    """Return the whole answer for a terminal."""
    voice = Voice(unit=answer.unit, digits=answer.digits)
    reads = [
        sentence(each, voice=voice) for each in (answer.reads, answer.board) if each is not None
    ]
    return paragraphs(
        [
            wrapped(sentence(answer.headline, voice=voice)),
            "\n".join([named.heading(), *reads]),
            _listed("One resistor:", answer.singles, voice=voice),
            _listed("Two together:", answer.pairs, voice=voice),
            wrapped(sentence(answer.spread, voice=voice)) if answer.spread else "",
            caution_lines(_caution_words(answer)),
        ]
    )


def _listed(title: str, found: Sequence[StoodIn], *, voice: Voice) -> str:
    if not found:
        return ""
    return "\n".join([title, *(f"  {phrase(each.statement, voice=voice)}" for each in found)])


def _caution_words(answer: StandInAnswer) -> list[str]:
    return [cautions()[caution_id].words for caution_id in answer.cautions]


def stand_in_as_dict(answer: StandInAnswer, *, curve_id: str) -> dict[str, object]:
    """Return the answer for machines."""
    return {
        "curve": curve_id,
        "t_c": answer.t_c,
        "r_ohm": answer.r_ohm,
        "ohm_digits": answer.digits,
        "volts": answer.volts,
        "singles": [_as_dict(each) for each in answer.singles],
        "pairs": [_as_dict(each) for each in answer.pairs],
        "cautions": _caution_words(answer),
    }


def _as_dict(each: StoodIn) -> dict[str, object]:
    return {
        "parts_ohm": list(each.stand_in.parts_ohm),
        "wired": each.stand_in.wired,
        "r_ohm": each.stand_in.r_ohm,
        "shows_c": each.stand_in.shows_c,
        "error_k": each.stand_in.error_k,
        "volts": each.volts,
    }
