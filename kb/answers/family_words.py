"""Which families somebody names beside a code, and what is left of the text without their names.

`rooftop flashes 4 long 2 short` is asked of the rooftop unit alone. Mirrored by
answers/family-words.js.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

from .blinks import COUNT_WORDS, FILLERS, GENERAL
from .normal_form import SHORTEST_SLIP, normal_form, one_slip, plain_text, unmarked, words_of

LONGEST_NAME = 5
"""So many words may stand apart in what is one name, such as `RT 045`."""
SHORTEST_SLIP_OF_A_NAME = 6
"""One letter of fewer than these is another word: `roof` is no slip of `room`."""
KINDS = (
    "long",
    "longs",
    "short",
    "shorts",
    *(f"{kind}{end}" for kind in ("lang", "kurz") for end in ("", "e", "en", "er", "es")),
)
_NAMELESS = {*GENERAL, *KINDS, *FILLERS, *COUNT_WORDS}
"""What says how a code is shown, or stands beside any machine, names none."""
_DIGIT = re.compile("[0-9]")


@dataclass(frozen=True, kw_only=True)
class KnownNames:
    """A family, and everything it is called.

    Parameters
    ----------
    id : str
    names : sequence of str
        Its name, then what people also call it.
    """

    id: str
    names: Sequence[str]


@dataclass(frozen=True, kw_only=True)
class FamiliesNamed:
    """The families that a text names.

    Parameters
    ----------
    family_ids : tuple of str
        Those that most of its words name, in the order given; empty where none is named.
    rest : str
        The text without these words, in plain letters and signs; all of it where none is named.
    """

    family_ids: tuple[str, ...]
    rest: str


def families_named(text: str, *, families: Sequence[KnownNames]) -> FamiliesNamed:
    """Return which families a text names, by whole words, begun ones, or with one slip."""
    pieces = plain_text(text).split(" ")
    naming = {family.id: _naming(pieces, family=family) for family in families}
    most = max((len(places) for places in naming.values()), default=0)
    if not most:
        return FamiliesNamed(family_ids=(), rest=" ".join(pieces))
    family_ids = tuple(name for name, places in naming.items() if len(places) == most)
    taken = {place for family_id in family_ids for place in naming[family_id]}
    # They go with the name of a family.
    taken.update(i for i, piece in enumerate(pieces) if unmarked(piece) in GENERAL)
    rest = " ".join(piece for i, piece in enumerate(pieces) if i not in taken)
    return FamiliesNamed(family_ids=family_ids, rest=rest)


def _naming(pieces: Sequence[str], *, family: KnownNames) -> set[int]:
    """Return the places of the pieces that name a family."""
    words = {word for name in family.names for word in words_of(name)}
    places = {i for i, piece in enumerate(pieces) if _names(words_of(piece), words=words)}
    forms = {normal_form(name) for name in family.names}
    for begin in range(len(pieces)):
        for end in range(begin + 1, min(len(pieces), begin + LONGEST_NAME) + 1):
            # A number names a machine only inside a whole name: alone it is what is shown.
            form = normal_form(" ".join(pieces[begin:end]))
            if form in forms and _DIGIT.sub("", form) and form not in _NAMELESS:
                places.update(range(begin, end))
    return places


def _names(piece: Sequence[str], *, words: set[str]) -> bool:
    """Return whether each word of a piece is one of a family's."""
    return bool(piece) and all(
        word not in _NAMELESS
        and not _DIGIT.search(word)
        and any(_fits(word, name=name) for name in words)
        for word in piece
    )


def _fits(word: str, *, name: str) -> bool:
    if len(word) < SHORTEST_SLIP:
        return word == name and len(word) > 1
    slip = len(word) >= SHORTEST_SLIP_OF_A_NAME and one_slip(word, other=name)
    return name.startswith(word) or slip
