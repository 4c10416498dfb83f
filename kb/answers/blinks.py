"""Read a blink pattern however somebody writes it down: drawn, counted or in words.

The first count of two is the long one. Mirrored by answers/blinks.js.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass

from .normal_form import plain_text

MOST_BLINKS = 20
"""More of a kind than these, nobody counts; the notes allow no more either."""
_NAMED = (
    "one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen "
    "sixteen seventeen eighteen nineteen twenty"
)
COUNT_WORDS: Mapping[str, int] = {word: i for i, word in enumerate(_NAMED.split(), start=1)}
_BESIDE = (
    "amber and blink blinking blinks blue flash flashes flashing green lamp led light orange pause "
    "pulse pulses red the then time times white yellow"
)
FILLERS = tuple(_BESIDE.split())
"""Words beside a count that change nothing in it; beside `long` and `short` any word may stand."""
GENERAL = ("board", "controller", "display", "machine", "panel", "set", "system", "unit", "units")
"""Words that stand beside any machine; a count alone beside them is its number: `board 2`."""

_DRAWN = re.compile(r"[-_.*•·●∙⋅ ]+")
_BETWEEN = re.compile(r"[-/,.+:;&()!?'\" ]+")
_SPELLED = re.compile(r"(?:[0-9]+x?|longs?|shorts?|[ls])+")
_TOKEN = re.compile(r"([0-9]+)x?|(longs?|shorts?|[ls])")
_BOTH_KINDS = re.compile(r"([1-9])([1-9])")

Token = int | str
"""A count, or the `l` of long, or the `s` of short."""


@dataclass(frozen=True, kw_only=True)
class BlinkPattern:
    """So many long blinks, then so many short ones.

    Parameters
    ----------
    long, short : int
        From 0 to MOST_BLINKS, not both 0.
    """

    long: int = 0
    short: int = 0

    @property
    def possible(self) -> bool:
        """Whether a lamp may blink so."""
        return max(self.long, self.short) <= MOST_BLINKS and self.long + self.short > 0

    @property
    def key(self) -> str:
        """Return it as the index of Find has it, such as `4L2S`."""
        return f"{self.long}L{self.short}S"

    def miscounted(self, other: BlinkPattern) -> bool:
        """Return whether one blink more or less makes the other pattern of it."""
        same_kinds = (self.long > 0, self.short > 0) == (other.long > 0, other.short > 0)
        return same_kinds and abs(self.long - other.long) + abs(self.short - other.short) == 1


def read_blinks(text: str) -> tuple[BlinkPattern, ...]:
    """Return the patterns that a text may mean; none where it means no pattern.

    Parameters
    ----------
    text : str
        `4 long 2 short`, `2 short, 4 long`, `4L2S`, `L4S2`, `4-2`, `4 2`, `four long two short`,
        `4× long, 2× short`, `long long short`, `----..`; a bare count such as `3`, `3x` or
        `flashes 3 times`, which may be of long blinks or of short ones; two digits with nothing
        behind them, such as `42`, which may be one of each kind.
    """
    plain = plain_text(text)
    found = _drawn(plain) or _spelled(plain)
    return tuple(pattern for pattern in found if pattern.possible)


def _drawn(plain: str) -> tuple[BlinkPattern, ...]:
    if not _DRAWN.fullmatch(plain):
        return ()
    long = sum(plain.count(sign) for sign in "-_")
    return (BlinkPattern(long=long, short=len(plain.replace(" ", "")) - long),)


def _spelled(plain: str) -> tuple[BlinkPattern, ...]:
    tokens: list[Token] = []
    in_words = strange = False
    pieces = [piece for piece in _BETWEEN.split(plain) if piece]
    for piece in pieces:
        if _SPELLED.fullmatch(piece):
            tokens += [int(count) if count else word[0] for count, word in _TOKEN.findall(piece)]
            in_words = in_words or "long" in piece or "short" in piece
            # `02` is what a display shows: who counts blinks writes no zero before them.
            strange = strange or bool(re.search(r"(?<![0-9])0[0-9]", piece))
        elif piece in COUNT_WORDS:
            tokens.append(COUNT_WORDS[piece])
        elif piece not in (*FILLERS, *GENERAL) and not _times(piece, after=tokens):
            strange = True
    numbered = len(tokens) == 1 and any(piece in GENERAL for piece in pieces)
    if (strange and not in_words) or numbered:
        return ()
    patterns = _pattern(tokens, in_words=in_words, strange=strange)
    # `12 blinks` and `12x` are counted; what ends with two digits may be read off a list.
    both = _BOTH_KINDS.fullmatch(pieces[-1]) if pieces and len(tokens) == 1 else None
    return (*patterns, BlinkPattern(long=int(both[1]), short=int(both[2]))) if both else patterns


def _times(piece: str, *, after: list[Token]) -> bool:
    """Return whether it is the sign between a count and what is counted: `2 × long`."""
    return piece == "x" and bool(after) and isinstance(after[-1], int)


def _pattern(tokens: list[Token], *, in_words: bool, strange: bool) -> tuple[BlinkPattern, ...]:
    counts = [token for token in tokens if isinstance(token, int)]
    kinds = [token for token in tokens if isinstance(token, str)]
    if not kinds:
        return _bare(counts)
    if not counts:
        # A word for each blink; `short` alone is what a circuit may be, too.
        if len(kinds) < 2 or not in_words or strange:
            return ()
        return (BlinkPattern(long=kinds.count("l"), short=kinds.count("s")),)
    first = 0 if isinstance(tokens[0], int) else 1
    paired = tokens[first::2] == counts and tokens[1 - first :: 2] == kinds
    if not paired or len(counts) != len(kinds) or len(set(kinds)) != len(kinds):
        return ()
    counted = dict(zip(kinds, counts, strict=True))
    return (BlinkPattern(long=counted.get("l", 0), short=counted.get("s", 0)),)


def _bare(counts: list[int]) -> tuple[BlinkPattern, ...]:
    if len(counts) == 1:
        # Where no other kind is beside them, who can say whether they are long or short?
        return (BlinkPattern(short=counts[0]), BlinkPattern(long=counts[0]))
    if len(counts) == 2:
        return (BlinkPattern(long=counts[0], short=counts[1]),)
    return ()
