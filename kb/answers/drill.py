"""A drill: a question made from the notes, with its answer and the working."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from kb.numbers.seeded import Seeded

from .statement import Statement

KINDS = (
    "ohm",
    "temperature",
    "verdict",
    "blinks",
    "place",
    "plug",
    "order",
    "safe",
    "meter",
    "kills",
)
"""What is asked, in the order in which pages list it."""
FORMS = ("ohm", "temperature", "choice", "order", "tap", "display")
"""How it is answered: typed, chosen, put in order, tapped on a drawing, read off a display."""
MOST_CHOICES = 4


@dataclass(frozen=True, kw_only=True)
class Drill:
    """One drill.

    Parameters
    ----------
    kind, form : str
        Of KINDS and FORMS.
    family, about : str
        Family's id, "" for none; the entry that it asks about, as `sensors/r4`.
    ask : Statement
    given : tuple of Statement
        What the answer has to go by.
    choices : tuple of Statement
        What there is to choose from, or to put in order.
    right : tuple of int
        The place of the right choice; for an order every place, first what comes first.
    curve_id : str
        By which a typed answer is marked.
    digits : int
        Of ohms, for whoever says it.
    drawing, pin : str
        Which drawing is tapped, and where.
    bars : tuple of pairs
        A lamp: seconds lit, seconds dark after it.
    shown : tuple of str
        A meter's display and the unit beside it; none elsewhere.
    figures : mapping
        What marking needs beside it, each with its unit in its name.
    because : tuple of Statement
        The working.
    """

    kind: str
    form: str
    family: str
    about: str
    ask: Statement
    given: tuple[Statement, ...] = ()
    choices: tuple[Statement, ...] = ()
    right: tuple[int, ...] = ()
    curve_id: str = ""
    digits: int = 4
    drawing: str = ""
    pin: str = ""
    bars: tuple[tuple[float, float], ...] = ()
    shown: tuple[str, ...] = ()
    figures: Mapping[str, float] = field(default_factory=dict)
    because: tuple[Statement, ...] = ()


_SIGNS = re.compile(r"[\W_]+")


def bare(words: str) -> str:
    """Return letters and figures alone, small: capitals, blanks and signs make no other answer."""
    return _SIGNS.sub("", words.lower())


def unstopped(words: str) -> str:
    """Return words of the notes without the full stop that a sentence round them has itself."""
    return words.rstrip(". ")


def own_words(words: str) -> Statement:
    """Return words of the notes as something to choose."""
    return Statement(id="drill.words", figures={"words": words})


def choices_of(
    right: str, *, others: Sequence[str], draw: Seeded
) -> tuple[tuple[Statement, ...], tuple[int, ...]]:
    """Return up to MOST_CHOICES in a drawn order, and the place of the right one.

    Others that read like the right one, or like each other, are no choices: capitals, blanks and
    signs do not make an answer wrong.
    """
    different: dict[str, str] = {}
    for other in others:
        different.setdefault(bare(other), other)
    different.pop(bare(right), None)
    drawn = draw.shuffled(list(different.values()))[: MOST_CHOICES - 1]
    order = draw.shuffled([right, *drawn])
    return tuple(own_words(words) for words in order), (order.index(right),)


def different_words(right: str, *, others: Sequence[str]) -> int:
    """Return how many of the others are a choice beside the right one."""
    return len({bare(other) for other in others} - {bare(right)})
