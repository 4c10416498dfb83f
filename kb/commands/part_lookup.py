"""The part a winding or insulation test is for, and what can hurt while testing it."""

from __future__ import annotations

from collections.abc import Callable

from kb.check.references import ids_of
from kb.model import Family, Method, Part
from kb.notes.load import Notes
from kb.notes.problem import nearest
from kb.numbers.rounding import format_plain

from .options import NoAnswer, NotUnderstood, read_entry
from .terminal import wrapped

LAST = "The maker's instructions, local codes and licensed practice come first."


def find_part(notes: Notes, part_id: str, *, has: Callable[[Part], object], what: str) -> Part:
    """Return the part of that id.

    Parameters
    ----------
    has : function of a part
        What the test needs of its entry.
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
            f"no part is called '{part_id}'; {nearest(part_id, ids_of(notes, 'parts'))}"
        )
    part = read_entry(notes, model=Part, entry_id=part_id)
    if not has(part):
        others = [one.id for one in notes.of(Part).values() if has(one)]
        known = f"; {nearest('', others)}" if others else ""
        raise NoAnswer(f"the entry of '{part_id}' gives no {what}{known}")
    return part


def cautions_of(notes: Notes, part: Part, *, judges: str, own: list[str]) -> list[str]:
    """Return what applies before the part is touched, each once, the isolating first.

    Parameters
    ----------
    judges : str
        The part's methods that judge this add their own cautions.
    own : list of str
        What this kind of test always asks for.
    """
    families = [notes.of(Family).get(one) for one in part.families]
    drains = [
        f"{family.name}: isolate, lock off, prove dead ({_bare(family.supply.isolate_at)}). "
        f"{family.wait} below {format_plain(family.drained_below_v)} V "
        f"({_bare(family.drain_at)})."
        for family in families
        if isinstance(family, Family)
    ]
    methods = [notes.of(Method).get(one) for one in part.methods]
    theirs = [
        caution
        for method in methods
        if isinstance(method, Method) and method.judges == judges
        for caution in method.cautions
    ]
    return list(dict.fromkeys([*drains, *own, *theirs, LAST]))


def caution_lines(cautions: list[str] | tuple[str, ...]) -> str:
    """Return cautions as a list in a terminal's width."""
    return "\n".join(["Mind:", *(wrapped(one, lead="  - ", hang="    ") for one in cautions)])


def _bare(told: str) -> str:
    return told.rstrip(".")
