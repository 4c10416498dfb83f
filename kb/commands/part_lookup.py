"""The part a winding or insulation test is for, and what can hurt while testing it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TypeVar

from kb.answers.statement import Statement
from kb.model import Part
from kb.notes.load import Notes
from kb.notes.problem import nearest
from kb.words.phrase import phrase

from .options import NoAnswer, NotUnderstood, read_entry
from .terminal import wrapped

Needed = TypeVar("Needed")


def find_part(
    notes: Notes, *, part_id: str, needs: Callable[[Part], Needed | None], what: str
) -> tuple[Part, Needed]:
    """Return the part of that id, and what the test needs of its entry.

    Parameters
    ----------
    needs : function of a part
        That; None where the entry lacks it.
    what : str
        That in words, for the message.

    Raises
    ------
    NotUnderstood
        When there is none, with the nearest ids.
    NoAnswer
        When its entry cannot be read, or lacks what the test needs.
    """
    if not notes.knows("parts", part_id):
        raise NotUnderstood(
            f"no part is called '{part_id}'; {nearest(part_id, notes.ids('parts'))}"
        )
    part = read_entry(notes, model=Part, entry_id=part_id)
    needed = needs(part)
    if needed is None:
        others = [other.id for other in notes.of(Part).values() if needs(other) is not None]
        known = f"; {nearest('', others)}" if others else ""
        raise NoAnswer(f"the entry of '{part_id}' gives no {what}{known}")
    return part, needed


def cautions_in_words(cautions: Sequence[Statement]) -> list[str]:
    """Return cautions in words, each once: an entry may say what every test says."""
    return list(dict.fromkeys(phrase(caution) for caution in cautions))


def caution_lines(cautions: Sequence[str]) -> str:
    """Return cautions as a list in a terminal's width."""
    rows = (wrapped(caution, lead="  - ", hang="    ") for caution in cautions)
    return "\n".join(["Mind:", *rows])
