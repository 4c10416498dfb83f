"""Points as a data sheet prints them: the last digit says how well each is known."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np

from .notation import parse_ohm

_NUMBER = re.compile(r"(\d*)([.,RrKkMG]?)(\d*)")


@dataclass(frozen=True)
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
    for t_c, told in rows:
        text = told if isinstance(told, str) else np.format_float_positional(told, trim="-")
        read.append((float(t_c), parse_ohm(text), *_digits(text)))
    most = max((digits for *_, digits in read), default=0)
    points = []
    for t_c, r_ohm, last_ohm, _ in read:
        by_digits = 10.0 ** (np.floor(np.log10(r_ohm)) - most + 1) if r_ohm > 0 else 0.0
        points.append(PrintedPoint(t_c, r_ohm, 0.5 * max(last_ohm, float(by_digits))))
    return tuple(points)


def _digits(text: str) -> tuple[float, int]:
    """Return (size of the last written digit in Ω, significant digits that are surely meant)."""
    said = re.sub(r"\s", "", text)
    whole, _, part = _NUMBER.match(said).groups()
    written_as = float(f"{whole or 0}.{part or 0}")
    times = parse_ohm(said) / written_as if written_as else 1.0
    written = (whole + part).lstrip("0")
    sure = len(written) if part else len(written.rstrip("0"))
    return float(f"{times * 10.0 ** -len(part):.3g}"), sure
