"""What a copy that leaves the site calls itself: a pocket file, a printed page."""

from __future__ import annotations

from collections.abc import Sequence

from kb.notes.load import Notes
from kb.release_format.record import Record
from kb.words.phrase import in_words

from .coming_release import Coming


def called(notes: Notes, *, history: Sequence[Record], number: int, date: str) -> str:
    """Return its release in words: without a number where another computer may have counted on."""
    elsewhere = notes.team is not None and notes.team.published is not None
    counted = notes.release is not None or bool(history)
    dated = "-of" if date else ""
    if elsewhere and not counted:
        return in_words(f"pocket.notes{dated}", date=date)
    return in_words(f"pocket.release{dated}", number=number, date=date)


def release_called(coming: Coming) -> str:
    """Return what the pages of a release that is being made say of it on paper."""
    head = coming.head
    return called(coming.context.notes, history=coming.history, number=head.number, date=head.date)
