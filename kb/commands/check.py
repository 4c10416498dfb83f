"""`ohmfolio check`: everything that is wrong with the notes, at once."""

from __future__ import annotations

import datetime
import sys
from pathlib import Path

import click

from kb.check import check_notes
from kb.check.dates import dates_to_come
from kb.notes.load import Notes

from .options import json_option, notes_option, say_json


@click.command()
@notes_option
@json_option
def check(notes: Path, as_json: bool) -> None:
    """Say everything that is wrong with the notes.

    Every problem is told at once, with its place, the line, and what would mend it. A warning
    alone does not stop a build. Exit code 1 when there is a problem.

    Example: ohmfolio check --notes ~/our-notes
    """
    checked = check_notes(notes)
    to_come = dates_to_come(checked, today=datetime.date.today())
    checked.problems = sorted([*checked.problems, *to_come])
    show_problems(checked, as_json=as_json)
    if any(not one.warning for one in checked.problems):
        sys.exit(1)


def show_problems(notes: Notes, *, as_json: bool) -> None:
    """Print the problems of checked notes, in words or as JSON."""
    if as_json:
        say_json(
            {
                "problems": [one.as_json() for one in notes.problems if not one.warning],
                "warnings": [one.as_json() for one in notes.problems if one.warning],
                "entries": notes.counts(),
            }
        )
        return
    for one in notes.problems:
        click.echo(one.picture() + "\n")
    click.echo(summary_line(notes))


def summary_line(notes: Notes) -> str:
    """Return how many problems and warnings there are, in how many entries."""
    warnings = sum(one.warning for one in notes.problems)
    problems = len(notes.problems) - warnings
    told = _counted(problems, "problem") if problems else "No problem"
    if warnings:
        told += f" and {_counted(warnings, 'warning')}"
    return f"{told} in {_counted(sum(notes.counts().values()), 'entry', 'entries')}."


def _counted(count: int, noun: str, nouns: str = "") -> str:
    return f"{count} {noun if count == 1 else nouns or noun + 's'}"
