"""`ohmfolio check`: everything that is wrong with the notes, at once."""

from __future__ import annotations

import datetime
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import NoReturn

import click

from kb.check.publishing import warned_of_today
from kb.kept_check import check_kept
from kb.notes.load import Notes
from kb.notes.problem import Problem
from kb.words.phrase import counted

from .editor_files import refresh_schemas
from .options import json_option, notes_option, say_json


@click.command()
@notes_option
@json_option
def check(notes: Path, as_json: bool) -> None:
    """Say everything that is wrong with the notes.

    Every problem is told at once, with its place, the line, and what would mend it. A warning
    alone does not stop a build; what pack refuses is told as one. Exit code 1 when there is a
    problem.

    Example: ohmfolio check --notes ~/our-notes
    """
    checked = check_kept(notes)
    refresh_schemas(notes)
    also = warned_of_today(checked, today=datetime.date.today())
    checked.problems = sorted([*checked.problems, *also])
    show_problems(checked, as_json=as_json)
    if any(not problem.warning for problem in checked.problems):
        sys.exit(1)


def show_problems(notes: Notes, *, as_json: bool) -> None:
    """Print the problems of checked notes, in words or as JSON."""
    if as_json:
        say_json(
            {
                "problems": [fault.as_json() for fault in notes.problems if not fault.warning],
                "warnings": [warned.as_json() for warned in notes.problems if warned.warning],
                "entries": notes.counts(),
            }
        )
        return
    for problem in notes.problems:
        click.echo(problem.picture() + "\n")
    click.echo(summary_line(notes))


def refuse(faults: Sequence[Problem], *, as_json: bool, outcome: str) -> NoReturn:
    """Print what is wrong with something that was to be written, and end with exit code 1."""
    if as_json:
        say_json({"problems": [fault.as_json() for fault in faults]})
    else:
        for fault in faults:
            click.echo(fault.picture() + "\n", err=True)
        click.echo(outcome, err=True)
    sys.exit(1)


def summary_line(notes: Notes) -> str:
    """Return how many problems and warnings there are, in how many entries."""
    warnings = sum(problem.warning for problem in notes.problems)
    problems = len(notes.problems) - warnings
    count = counted(problems, noun="problem") if problems else "No problem"
    if warnings:
        count += f" and {counted(warnings, noun='warning')}"
    entries = counted(sum(notes.counts().values()), noun="entry", nouns="entries")
    return f"{count} in {entries}."
