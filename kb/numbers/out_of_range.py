"""Say that a value lies outside the range a curve, a law or an instrument answers for."""

from __future__ import annotations

from typing import TYPE_CHECKING, cast

import numpy as np

from .law import Quantity
from .rounding import format_plain

if TYPE_CHECKING:
    from numpy.typing import ArrayLike

# A bound that has been through ln and exp comes back a few last digits off; that is no excursion.
_SLACK = 1e-9


class OutOfRange(ValueError):
    """A value outside the range for which there is an answer.

    Attributes
    ----------
    value, low, high : float
        The offending value and the range, in `unit`.
    unit : str
        "°C" or "Ω".
    """

    def __init__(self, value: float, *, low: float, high: float, unit: str, what: str = "") -> None:
        self.value = float(value)
        self.low = float(low)
        self.high = float(high)
        self.unit = unit
        what = what or "this curve"
        super().__init__(
            f"{format_plain(value)} {unit} is outside {format_plain(low)} to {format_plain(high)} "
            f"{unit}, where {what} holds; "
            "it is never extrapolated: give a value inside, or use a curve that reaches further"
        )


def within(values: ArrayLike, *, low: float, high: float, unit: str, what: str = "") -> np.ndarray:
    """Return the values as an array, every one of them inside the range.

    Parameters
    ----------
    values : array_like, any shape, in `unit`
    low, high : float
        The closed range. A value off by rounding only (1e-9 of its size) is set on the bound.
    unit : str
    what : str, optional
        What holds in that range, for the message.

    Raises
    ------
    OutOfRange
        Naming the first value outside; not-a-number is outside every range.
    """
    numbers = np.asarray(values, dtype=float)
    inside = numbers.clip(low, high)
    # Asked a hundred thousand times, and nearly always of values that are inside.
    if (numbers == inside).all():
        return inside
    wrong = ~(np.abs(numbers - inside) <= _SLACK * np.maximum(1.0, np.abs(inside)))
    if np.any(wrong):
        raise OutOfRange(float(numbers[wrong].flat[0]), low=low, high=high, unit=unit, what=what)
    return inside


def as_given(result: np.ndarray, *, given: Quantity) -> Quantity:
    """Return a float where a single number was given, else the array."""
    return cast(Quantity, float(result) if np.ndim(given) == 0 else result)
