"""A part that can be replaced says what to put back, and what proves the repair."""

from __future__ import annotations

from collections.abc import Iterator

from kb.model import Part
from kb.notes.load import Notes
from kb.notes.problem import Problem


def replaced_parts_are_refitted(part: Part, *, notes: Notes) -> Iterator[Problem]:
    """Warn of replacement steps with nothing to put back on a board, or nothing to prove it."""
    if not part.replace:
        return
    if part.is_a == "board" and not part.refit:
        yield notes.problem(
            part,
            ("replace",),
            "no-refit",
            "this board is replaced, and no list says which plugs and tabs go back",
            hint="write 'refit': one item for every plug, tab and screw, in order",
            warning=True,
        )
    if not part.prove:
        yield notes.problem(
            part,
            ("replace",),
            "no-proof",
            "this part is replaced, and nothing says what proves the repair",
            hint="write 'prove': what to read or watch, and what it must then be",
            warning=True,
        )
