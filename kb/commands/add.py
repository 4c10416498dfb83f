"""`ohmfolio add KIND`: a new entry, by a few questions or by flags."""

from __future__ import annotations

import re
import sys
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

import click

from kb.bring.draft import Draft, Outcome, Place, tried
from kb.changing import stamp_of
from kb.columns.cell import CellFault
from kb.columns.column import Column, find_column
from kb.columns.values import Value, in_cells
from kb.model import CURVE_LAWS, KINDS
from kb.model.words import ID_PATTERN
from kb.notes.load import Notes, load_notes
from kb.notes.problem import nearest

from .add_answers import Answers, finished
from .add_points import points_value
from .add_questions import NEW_EACH_TIME, NEXT, flag, kind_named
from .asking import at_terminal
from .options import NotUnderstood, json_option, notes_option, say_json
from .terminal import wrapped
from .write_drafts import write_drafts

NOT_ADDED = {"cases": "ohmfolio case add FILE takes a case as a phone saves it"}


@click.command(context_settings={"ignore_unknown_options": True})
@click.argument("kind", metavar="KIND")
@click.argument("flags", metavar="[--FIELD VALUE]...", nargs=-1, type=click.UNPROCESSED)
@click.option(
    "--id", "entry_id", metavar="ID", default="", help="Its id; by default made of what it is."
)
@click.option("--like", metavar="ID", default="", help="Start from this entry of the same kind.")
@click.option(
    "--points",
    metavar="FILE",
    type=click.Path(path_type=Path, dir_okay=False),
    help="Of a curve: its table, CSV or .xlsx.",
)
@notes_option
@json_option
def add(
    kind: str,
    flags: tuple[str, ...],
    entry_id: str,
    like: str,
    points: Path | None,
    notes: Path,
    as_json: bool,
) -> None:
    """Write a new entry: asks what is needed, offers what there is, writes nothing over.

    KIND is source, family, curve, sensor, code, part, method, instrument, drawing, lesson or term.
    Each question is also a flag, named as the columns that 'ohmfolio bring --columns KIND' and
    'ohmfolio fields KIND' show: --label T1, --coldest -30. What is given is not asked. Where nobody
    sits at a terminal, nothing is asked, and what is missing is said.

    Example: ohmfolio add sensor --like quellmark-coil-out --label R12 --senses "the second coil"
    --place "Second coil, upper bend."
    """
    plural = _kind(kind)
    stamp = stamp_of(notes)
    loaded = load_notes(notes)
    answers = Answers(
        kind=plural,
        notes=loaded,
        asks=at_terminal() and not as_json,
        value=_like(plural, like, notes=loaded),
        kept=bool(like),
    )
    if points is not None:
        if plural != "curves":
            raise NotUnderstood("--points is for a curve")
        answers.value = points_value(points, notes=loaded)
    _take_flags(answers, flags=flags)
    answers.ask_all()
    drafts = [*answers.before, _draft(answers, entry_id=entry_id)]
    outcome = tried(drafts, notes=loaded)
    if outcome.faults:
        _refuse(outcome, answers=answers, as_json=as_json)
    late = write_drafts(outcome, drafts=drafts, notes=notes, stamp=stamp)
    if late:
        _refuse(replace(outcome, faults=late), answers=answers, as_json=as_json)
    _show(outcome, kind=plural, as_json=as_json)


def _kind(word: str) -> str:
    kind = kind_named(word)
    if not kind:
        raise NotUnderstood(
            f"there is no kind '{word}'; {nearest(word, [model.noun for model in KINDS.values()])}"
        )
    if kind in NOT_ADDED:
        raise NotUnderstood(NOT_ADDED[kind])
    return kind


def _like(kind: str, like: str, *, notes: Notes) -> Value:
    if not like:
        return {}
    if like not in notes.of_kind(kind):
        known = list(notes.of_kind(kind))
        raise NotUnderstood(f"there is no {KINDS[kind].noun} '{like}'; {nearest(like, known)}")
    stands = notes.texts[(kind, like)].value
    assert isinstance(stands, dict)
    left_out = {"name", "checked", *NEW_EACH_TIME.get(kind, ())}
    return {name: value for name, value in in_cells(stands).items() if name not in left_out}


def _take_flags(answers: Answers, *, flags: Sequence[str]) -> None:
    """Read `--label T1` and `--label=T1`; the same flag again is another line of its list."""
    rest = list(flags)
    while rest:
        word = rest.pop(0)
        if not word.startswith("--") or len(word) < 3:
            raise NotUnderstood(f"'{word}' stands without a flag; a value with blanks needs quotes")
        name, sign, text = word[2:].partition("=")
        if not sign:
            if not rest:
                raise NotUnderstood(f"--{name} needs a value behind it")
            text = rest.pop(0)
        if answers.kind == "curves" and name == "law":
            _take_law(answers, text)
            continue
        meant = find_column(answers.columns, header=name.replace("-", " "))
        if meant is None:
            names = [flag(column) for column in answers.columns]
            raise NotUnderstood(f"there is no --{name}; {nearest(f'--{name}', names)}")
        _take(answers, meant[0], number=meant[1], text=text)


def _take_law(answers: Answers, law: str) -> None:
    if law not in CURVE_LAWS:
        raise NotUnderstood(f"there is no law '{law}'; {nearest(law, CURVE_LAWS)}")
    answers.value["law"] = law


def _take(answers: Answers, column: Column, *, number: int, text: str) -> None:
    try:
        answers.take(
            column,
            text=text,
            number=number,
            place=Place(words=flag(column, number=number), text=text),
        )
    except CellFault as fault:
        raise NotUnderstood(f"{flag(column, number=number)}: {fault}; {fault.hint}") from None


def _draft(answers: Answers, *, entry_id: str) -> Draft:
    draft = finished(answers)
    chosen = entry_id or draft.entry_id
    noun = KINDS[answers.kind].noun
    if not re.fullmatch(ID_PATTERN, chosen):
        raise NotUnderstood(
            f"'{chosen}' cannot be an id; say --id with small letters, digits and single hyphens"
        )
    if answers.notes.knows(answers.kind, chosen):
        raise NotUnderstood(
            f"there is a {noun} '{chosen}' already, and nothing is written over; say another with "
            f"--id, or change {answers.notes.texts[(answers.kind, chosen)].file}"
        )
    return replace(draft, entry_id=chosen)


def _refuse(outcome: Outcome, *, answers: Answers, as_json: bool) -> None:
    if as_json:
        say_json({"written": False, "problems": [fault.as_json() for fault in outcome.faults]})
        sys.exit(1)
    for fault in outcome.faults:
        click.echo(fault.picture() + "\n", err=True)
    click.echo("Nothing was written.", err=True)
    if answers.asked:
        click.echo("Again, with what was answered:\n" + answers.command_line(), err=True)
    sys.exit(1)


def _show(outcome: Outcome, *, kind: str, as_json: bool) -> None:
    if as_json:
        say_json(
            {
                "written": True,
                "files": [file.path for file in outcome.files],
                "warnings": [fault.as_json() for fault in outcome.warnings],
            }
        )
        return
    for file in outcome.files:
        click.echo(f"{file.path}\n" + "".join(f"    {line}\n" for line in file.after.splitlines()))
    # That nothing names a new entry yet is no news to whoever has just begun it.
    for fault in outcome.warnings:
        if fault.rule != "orphan":
            click.echo(fault.picture() + "\n")
    nexts = NEXT.get(kind, "ohmfolio check")
    click.echo(wrapped(f"Written, as a draft. Next: {nexts}."))
