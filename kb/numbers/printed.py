"""Points as a data sheet prints them: the last digit says how well each is known."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np

from .notation import parse_ohm
from .rounding import all_digits, significant

_NUMBER = re.compile(r"(\d*)([.,RrKkMG]?)(\d*)")


@dataclass(frozen=True, kw_only=True)
class PrintedPoint:
    """One point of a printed table.

    Parameters
    ----------
    t_c, r_ohm : float
    half_ohm : float
        Half of the last printed digit in Ω: the unrounded value lies that far off at most.
    """

    t_c: float
    r_ohm: float
    half_ohm: float


def printed_points(rows: Iterable[tuple[float, str | float]]) -> tuple[PrintedPoint, ...]:
    """Return the points of one printed column, with half of each last digit.

    Parameters
    ----------
    rows : iterable of (t_c, resistance)
        Resistance as text, `32.65k`, or as a number, 32650.0.

    Notes
    -----
    A zero at the end of a whole number may be a digit or a place holder. The column decides: no
    value of it has more significant digits than its longest one, so 329500 beside 34.61 and 4160
    is known to the hundred.
    """
    read = []
    for t_c, written in rows:
        text = written if isinstance(written, str) else all_digits(written)
        read.append((float(t_c), parse_ohm(text), *_digits(text)))
    most = max((digits for *_, digits in read), default=0)
    points = []
    for t_c, r_ohm, last_ohm, _ in read:
        by_digits = 10.0 ** (np.floor(np.log10(r_ohm)) - most + 1) if r_ohm > 0 else 0.0
        half_ohm = 0.5 * max(last_ohm, float(by_digits))
        points.append(PrintedPoint(t_c=t_c, r_ohm=r_ohm, half_ohm=half_ohm))
    return tuple(points)


def _digits(text: str) -> tuple[float, int]:
    """Return (size of the last written digit in Ω, significant digits that are surely meant)."""
    solid = re.sub(r"\s", "", text)
    whole, _, part = _NUMBER.findall(solid)[0]
    number = float(f"{whole or 0}.{part or 0}")
    times = parse_ohm(solid) / number if number else 1.0
    digits = (whole + part).lstrip("0")
    sure = len(digits) if part else len(digits.rstrip("0"))
    return significant(times * 10.0 ** -len(part), digits=3), sure
