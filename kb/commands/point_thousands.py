"""A column of resistances as printed: its unit, and its points and commas by the whole of it."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

from kb.numbers.notation import parse_ohm
from kb.numbers.number_column import (
    SIGNS,
    Reading,
    either_way,
    in_plain,
    read_column,
    without_thousands,
)

_BARE = re.compile(r"[\d., ]+(?:e[+-]?\d+)?", re.IGNORECASE)


@dataclass(frozen=True, kw_only=True)
class Settled:
    """A column whose numbers can be read one way only.

    Parameters
    ----------
    texts : tuple of str
        Each with its unit; what cannot be read at all stands as it was.
    thousands : tuple of int
        Places whose sign is read as one for thousands.
    flipped : int or None
        The one place that is read otherwise than the rest.
    open_at : int or None
        The first place that could be either; None where the column says which.
    """

    texts: tuple[str, ...]
    thousands: tuple[int, ...] = ()
    flipped: int | None = None
    open_at: int | None = None


def settled(texts: Sequence[str], *, unit: str, t_c: Sequence[float], decimal: str = "") -> Settled:
    """Return a column with every number clear.

    Parameters
    ----------
    texts : sequence of str
        Cells of the column, coldest row first.
    unit : str
        What a bare number is in: "" for ohms, k or M.
    t_c : sequence of float
        Temperatures of the rows.
    decimal : str
        The sign before decimals; empty where the whole column decides.
    """
    plain = [_decimal(text, unit=unit) for text in texts]
    values = [_ohm(text) for text in plain]
    known = [at for at, value in enumerate(values) if value is not None]
    unclear = [at for at in known if either_way(texts[at])]
    if not unclear:
        return Settled(texts=tuple(plain))
    reading: Reading | None = Reading(decimal={sign: sign == decimal for sign in SIGNS})
    if not decimal:
        reading = read_column(
            [texts[at] for at in known],
            values=[values[at] or 0.0 for at in known],
            t_c=[t_c[at] for at in known],
        )
    if reading is None:
        return Settled(texts=tuple(plain), open_at=unclear[0])
    shown, thousands = list(plain), []
    for place, at in enumerate(known):
        sign = either_way(texts[at])
        if sign and not reading.is_decimal(place, sign=sign):
            shown[at] = in_plain(texts[at], decimal=False, unit=unit)
            thousands.append(at)
    flipped = None if reading.flipped is None else known[reading.flipped]
    return Settled(texts=tuple(shown), thousands=tuple(thousands), flipped=flipped)


def _decimal(text: str, *, unit: str) -> str:
    """Return a number with its unit, an unclear sign before decimals."""
    if either_way(text):
        return in_plain(text, decimal=True, unit=unit)
    clear = without_thousands(text)
    return clear + unit if _BARE.fullmatch(clear) else clear


def _ohm(text: str) -> float | None:
    """Return ohms; None for what its own problem tells."""
    try:
        r_ohm = parse_ohm(text)
    except ValueError:
        return None
    return r_ohm if r_ohm > 0 else None
