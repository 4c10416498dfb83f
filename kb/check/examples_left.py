"""Warn of what `ohmfolio start` wrote and nobody has made their own: it is invented."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from kb.examples import starter_files
from kb.notes.load import TEAM_FILE, Notes
from kb.notes.problem import Problem
from kb.notes.yaml_text import Mark, read_yaml

DEMO_LINE = (
    "# Begun from the demo of an invented contractor. Delete this line once all of it is yours."
)
"""Stands above the team's fields in notes that begin as a copy of the demo."""
MOST_NAMED = 4
_RULE = "examples-left"
_HINT = "write over them; those that nothing of yours names go by ohmfolio examples --remove"


def examples_left(notes: Notes) -> Iterator[Problem]:
    """Warn once of the examples that still say what they said when they were handed out."""
    left = [notes.texts[key].file for key in _unchanged(notes)]
    if left:
        several = len(left) > 1
        more = len(left) - MOST_NAMED
        names = ", ".join(Path(file).stem for file in left[:MOST_NAMED])
        yield Problem(
            left[0],
            1,
            1,
            _RULE,
            f"{len(left)} invented example{'s' if several else ''} of 'ohmfolio start' "
            f"{'are' if several else 'is'} left: {names}"
            + (f" and {more} more" if more > 0 else ""),
            _HINT,
            warning=True,
        )
    team = notes.team_text
    if team is not None and DEMO_LINE in team.lines:
        yield team.problem_at(
            Mark(team.lines.index(DEMO_LINE) + 1, 1),
            _RULE,
            "these notes began as the demo: its contractor, machines, codes and jobs are invented",
            hint="write over or delete what is not yours, then delete this line",
            warning=True,
        )


def demo_team(text: str) -> dict[str, str]:
    """Return the team's file of notes that begin as a copy of the demo, by its path."""
    return {TEAM_FILE: f"{DEMO_LINE}\n{text}"}


def _unchanged(notes: Notes) -> Iterator[tuple[str, str]]:
    """Yield the entries whose values are those of the example that has their name."""
    for key, path in starter_files().items():
        read = notes.texts.get(key)
        if read is None or read.value is None:
            continue
        if read_yaml(path.read_text(encoding="utf-8"), file=path.name).value == read.value:
            yield key
