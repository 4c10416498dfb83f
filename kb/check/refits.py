"""What is put back: each marked line has its pin; the earth goes on first and comes off last."""

from __future__ import annotations

import re
from collections.abc import Iterator

from kb.model import Drawing, Part
from kb.model.part import Refit
from kb.notes.load import Notes
from kb.notes.problem import Problem, nearest

_EARTH_LAST = re.compile(r"\b(earth|PE)\b.*\blast\b|\blast\b.*\b(earth|PE)\b", re.IGNORECASE)


def marked_lines_are_pinned(part: Part, *, notes: Notes) -> Iterator[Problem]:
    """Warn of a line of `refit` whose mark has no pin on the part's drawing."""
    marked = [(i, refit.mark) for i, refit in enumerate(part.refit) if refit.mark]
    if marked and part.drawing is None:
        yield notes.problem(
            part,
            ("refit",),
            "refit-not-drawn",
            f"no drawing shows where {', '.join(mark for _, mark in marked)} "
            f"{'goes' if len(marked) == 1 else 'go'}",
            hint="write 'refit_on': the drawing that pins what goes back",
            warning=True,
        )
    drawing = notes.of(Drawing).get(part.drawing or "")
    if drawing is None:
        return  # none is named, or the one that is not there is told where it is named
    for i, mark in marked:
        if mark not in drawing.pins:
            yield notes.problem(
                part,
                ("refit", i, "mark"),
                "refit-not-pinned",
                f"the drawing '{drawing.id}' has no pin '{mark}'",
                hint=nearest(mark, drawing.pins),
                warning=True,
            )


def earth_goes_on_first(part: Part, *, notes: Notes) -> Iterator[Problem]:
    """Warn of a protective earth that is put back after another conductor.

    What holds the part and carries no conductor may come before it: hooks, posts, board screws.

    Source: common practice.
    """
    for i, refit in enumerate(part.refit):
        before = next((line for line in part.refit[:i] if _first(line)), None)
        if refit.earth and before is not None:
            yield notes.problem(
                part,
                ("refit", i, "what"),
                "earth-not-first",
                f"the earth goes on after '{before.mark or before.what}'",
                hint="common practice: earth before any plug, tab or marked terminal",
                warning=True,
            )


def _first(refit: Refit) -> bool:
    """Return whether a line is a conductor that the earth has to come before."""
    return refit.connects and not refit.earth


def earth_comes_off_last(part: Part, *, notes: Notes) -> Iterator[Problem]:
    """Warn of a part with an earth to put back, and no step that says that it comes off last.

    Source: common practice.
    """
    if not part.replace or not any(refit.earth for refit in part.refit):
        return
    if not any(_EARTH_LAST.search(step) for step in part.replace):
        yield notes.problem(
            part,
            ("replace",),
            "earth-not-last",
            "an earth goes back on this part, and no step says that it comes off last",
            hint="common practice: say 'earth last' in the step that takes the conductors off",
            warning=True,
        )
