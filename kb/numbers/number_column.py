"""Numbers of one column: whether a sign is for decimals or for thousands, by all of them."""

from __future__ import annotations

import itertools
import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from .kelvin import kelvin

SIGNS = (".", ",")
_EITHER = re.compile(r"[1-9]\d{0,2}([.,])\d{3}")
_BOTH_SIGNS = re.compile(r"\d{1,3}(?:([.,])\d{3})+([.,])\d*")
_GROUPS = re.compile(r"[1-9]\d{0,2}(?:([.,])\d{3}){2,}")
_ONE_SIGN = re.compile(r"\d*([.,])\d*")

NTC_AT_C, LEAST_NTC_OHM, MOST_NTC_OHM = 25.0, 100.0, 2e6
"""Where an NTC sensor is named, and between what it reads there. Common practice, no source."""


@dataclass(frozen=True, kw_only=True)
class Sure:
    """What the numbers of a column that can be read one way say of the signs."""

    decimal: frozenset[str]
    thousands: frozenset[str]


def either_way(text: str) -> str:
    """Return the sign that could be a decimal or a thousands one; empty where it is clear."""
    found = _EITHER.fullmatch(text.strip())
    return found[1] if found else ""


def sure_signs(texts: Iterable[str]) -> Sure:
    """Return which signs surely stand before decimals, and which between thousands."""
    decimal, thousands = set(), set()
    for text in (written.strip() for written in texts):
        if groups := _GROUPS.fullmatch(text):
            thousands.add(groups[1])
        elif (both := _BOTH_SIGNS.fullmatch(text)) and both[1] != both[2]:
            thousands.add(both[1])
            decimal.add(both[2])
        elif (single := _ONE_SIGN.fullmatch(text)) and not either_way(text):
            decimal.add(single[1])
    return Sure(decimal=frozenset(decimal), thousands=frozenset(thousands))


def in_plain(text: str, *, decimal: bool, unit: str = "") -> str:
    """Return a number that could be read either way, written so that it cannot: 8R313 or 8313.

    `unit` is what it is in: "" for ohms, k or M.
    """
    whole, part = text.strip().split(either_way(text))
    return f"{whole}{unit or 'R'}{part}" if decimal else whole + part + unit


def without_thousands(text: str) -> str:
    """Return a number of both signs, or of several groups, with a decimal point alone."""
    tidy = text.strip()
    if groups := _GROUPS.fullmatch(tidy):
        return tidy.replace(groups[1], "")
    both = _BOTH_SIGNS.fullmatch(tidy)
    if both and both[1] != both[2]:
        return tidy.replace(both[1], "").replace(both[2], ".")
    return text


@dataclass(frozen=True, kw_only=True)
class Reading:
    """How the unclear numbers of a file are read.

    Parameters
    ----------
    decimal : Mapping of str to bool
        Sign → True where it stands before decimals.
    flipped : int or None
        One cell that is read the other way, by its place in the column.
    """

    decimal: Mapping[str, bool]
    flipped: int | None = None

    def is_decimal(self, at: int, *, sign: str) -> bool:
        """Return whether the sign of the cell at that place stands before decimals."""
        return self.decimal[sign] != (at == self.flipped)


def read_column(
    texts: Sequence[str], *, values: Sequence[float], t_c: Sequence[float]
) -> Reading | None:
    """Return how the unclear numbers of a column are read by the whole of it; None if it is open.

    Parameters
    ----------
    texts : sequence of str
        As printed, coldest first.
    values : sequence of float
        What each is in ohms with its sign before decimals; those that are clear, as they are.
    t_c : sequence of float
        Temperatures of the rows.

    Notes
    -----
    Of the ways to read the signs the one with the fewest turns counts: a curve only falls or only
    rises. Where several turn as little, what the clear numbers say of a sign decides, then what an
    NTC may read at 25 °C. If it still turns, and one cell read the other way mends it, that one
    was misread.
    """
    unclear = sorted({sign for sign in map(either_way, texts) if sign})
    ways = [
        Reading(decimal=dict(zip(unclear, choice, strict=True)))
        for choice in itertools.product((True, False), repeat=len(unclear))
    ]
    best = _best(ways, texts=texts, values=values, t_c=t_c)
    if best is None:
        return None
    turns = _turns(_read(best, texts=texts, values=values))
    if not turns:
        return best
    flips = [
        Reading(decimal=best.decimal, flipped=at)
        for at, text in enumerate(texts)
        if either_way(text)
    ]
    mending = [flip for flip in flips if not _turns(_read(flip, texts=texts, values=values))]
    return mending[0] if len(mending) == 1 else best


def _best(
    ways: Sequence[Reading], *, texts: Sequence[str], values: Sequence[float], t_c: Sequence[float]
) -> Reading | None:
    """Return the one way that turns least, agrees with the clear numbers, and may be an NTC."""
    read = [_read(way, texts=texts, values=values) for way in ways]
    turns = [_turns(r_ohm) for r_ohm in read]
    kept = [i for i in range(len(ways)) if turns[i] == min(turns)]
    sure = sure_signs(texts)
    agreeing = [i for i in kept if _agrees(ways[i], sure=sure)]
    kept = agreeing or kept
    if len(kept) > 1:
        kept = [i for i in kept if _may_be_ntc(read[i], t_c=t_c)]
    return ways[kept[0]] if len(kept) == 1 else None


def _agrees(way: Reading, *, sure: Sure) -> bool:
    """Return whether no sign is read against the clear numbers; a file has one decimal sign."""
    for sign, decimal in way.decimal.items():
        if decimal and (sign in sure.thousands or sure.decimal - {sign}):
            return False
        if not decimal and sign in sure.decimal:
            return False
    return bool(sure.decimal or sure.thousands)


def _read(way: Reading, *, texts: Sequence[str], values: Sequence[float]) -> np.ndarray:
    return np.array(
        [
            value
            * (1.0 if not (sign := either_way(text)) or way.is_decimal(at, sign=sign) else 1e3)
            for at, (text, value) in enumerate(zip(texts, values, strict=True))
        ]
    )


def _turns(r_ohm: np.ndarray) -> int:
    """Return how many steps go against the most of them."""
    steps = np.sign(np.diff(r_ohm))
    return int(len(steps) - max(np.sum(steps > 0), np.sum(steps < 0)))


def _may_be_ntc(r_ohm: np.ndarray, *, t_c: Sequence[float]) -> bool:
    at_25_ohm = ntc_at_25_ohm(r_ohm, t_c=t_c)
    return at_25_ohm is not None and LEAST_NTC_OHM <= at_25_ohm <= MOST_NTC_OHM


def ntc_at_25_ohm(r_ohm: np.ndarray, *, t_c: Sequence[float]) -> float | None:
    """Return what a falling column reads at 25 °C; None where it rises or does not reach there."""
    if not (t_c[0] <= NTC_AT_C <= t_c[-1] and r_ohm[-1] < r_ohm[0]):
        return None
    x = 1 / kelvin(np.asarray(t_c, dtype=float))
    return float(np.exp(np.interp(1 / kelvin(NTC_AT_C), x[::-1], np.log(r_ohm)[::-1])))
