"""Read a blink pattern however somebody writes it down: drawn, counted or in words.

The first count of two is the long one. English and German are understood alike, whatever language
the site speaks: who notes it and who reads it need not be of one. Mirrored by answers/blinks.js.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass

from .normal_form import plain_text, unmarked

MOST_BLINKS = 20
"""More of a kind than these, nobody counts; the notes allow no more either."""
_NAMED = (
    "one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen "
    "sixteen seventeen eighteen nineteen twenty"
)
_GERMAN = (
    "eins zwei drei vier funf sechs sieben acht neun zehn elf zwolf dreizehn vierzehn funfzehn "
    "sechzehn siebzehn achtzehn neunzehn zwanzig"
)
_GERMAN_TOO = {"ein": 1, "eine": 1, "einen": 1, "zwo": 2, "fuenf": 5, "zwoelf": 12, "fuenfzehn": 15}
COUNT_WORDS: Mapping[str, int] = {
    **{word: i for i, word in enumerate(_NAMED.split(), start=1)},
    **{word: i for i, word in enumerate(_GERMAN.split(), start=1)},
    **_GERMAN_TOO,
}
"""Without accents; `-mal` may follow."""
_BESIDE = (
    "amber and blink blinking blinks blue flash flashes flashing green lamp led light orange pause "
    "pulse pulses red the then time times white yellow "
    "blau blaue blauen blinken blinkt blinkzeichen blitzt dann danach das der die es gelb gelbe "
    "gelben grun grune grunen gruen gruene gruenen impuls impulse lampe leuchte leuchtet licht mal "
    "pausen rot rote roten und weiss weisse weissen"
)
FILLERS = tuple(_BESIDE.split())
"""Words beside a count that change nothing in it; beside `long` and `short` any word may stand."""
_BESIDE_ANY = (
    "board controller display machine panel set system unit units "
    "anlage anzeige gerat geraet maschine platine regler schaltschrank steuerung"
)
GENERAL = tuple(_BESIDE_ANY.split())
"""Words that stand beside any machine; a count alone beside them is its number: `board 2`."""

_DRAWN = re.compile(r"[-_.*•·●∙⋅ ]+")
_BETWEEN = re.compile(r"[-/,.+:;&()!?'\" ]+")
_KIND = r"longs?|shorts?|(?:lang|kurz)(?:e[nrs]?)?|[ls]"
_SPELLED = re.compile(rf"(?:[0-9]+(?:x|mal)?|{_KIND})+")
_TOKEN = re.compile(rf"([0-9]+)(?:x|mal)?|({_KIND})")
_IN_WORDS = re.compile("long|short|lang|kurz")
_TIMES = re.compile(r"\Bmal$", re.ASCII)
_LETTERS = re.compile(r"([1-9][0-9]?)x? ?([lk])[-/,.+:;& ]*([1-9][0-9]?)x? ?([lk])")
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
        behind them, such as `42`, which may be one of each kind. In German the same: `4 lang 2
        kurz`, `viermal lang, zweimal kurz`, `4L2K`, `blinkt dreimal`.
    """
    plain = unmarked(plain_text(text))
    found = _drawn(plain) or _german_letters(plain) or _spelled(plain)
    return tuple(pattern for pattern in found if pattern.possible)


def _drawn(plain: str) -> tuple[BlinkPattern, ...]:
    if not _DRAWN.fullmatch(plain):
        return ()
    long = sum(plain.count(sign) for sign in "-_")
    return (BlinkPattern(long=long, short=len(plain.replace(" ", "")) - long),)


def _german_letters(plain: str) -> tuple[BlinkPattern, ...]:
    """Read `4L2K`: a `k` is the short kind only beside an `l`, as `K2` names a relay or a code."""
    found = _LETTERS.fullmatch(plain)
    if not found or found[2] == found[4]:
        return ()
    counts = {found[2]: int(found[1]), found[4]: int(found[3])}
    return (BlinkPattern(long=counts["l"], short=counts["k"]),)


def _spelled(plain: str) -> tuple[BlinkPattern, ...]:
    tokens: list[Token] = []
    in_words = strange = False
    pieces = [piece for piece in _BETWEEN.split(plain) if piece]
    for piece in pieces:
        if _SPELLED.fullmatch(piece):
            tokens += [
                int(count) if count else _kind(word) for count, word in _TOKEN.findall(piece)
            ]
            in_words = in_words or bool(_IN_WORDS.search(piece))
            # `02` is what a display shows: who counts blinks writes no zero before them.
            strange = strange or bool(re.search(r"(?<![0-9])0[0-9]", piece))
        elif _TIMES.sub("", piece) in COUNT_WORDS:
            tokens.append(COUNT_WORDS[_TIMES.sub("", piece)])
        elif piece not in (*FILLERS, *GENERAL) and not _times(piece, after=tokens):
            strange = True
    numbered = len(tokens) == 1 and any(piece in GENERAL for piece in pieces)
    if (strange and not in_words) or numbered:
        return ()
    patterns = _pattern(tokens, in_words=in_words, strange=strange)
    # `12 blinks` and `12x` are counted; what ends with two digits may be read off a list.
    both = _BOTH_KINDS.fullmatch(pieces[-1]) if pieces and len(tokens) == 1 else None
    return (*patterns, BlinkPattern(long=int(both[1]), short=int(both[2]))) if both else patterns


def _kind(word: str) -> str:
    """Return the `l` of long and lang, or the `s` of short and kurz."""
    return "l" if word[0] == "l" else "s"


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
