"""The one place that rounds: full-precision numbers in, what people read out."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import ArrayLike

_SCALES = ((1e9, "GΩ"), (1e6, "MΩ"), (1e3, "kΩ"))
_MINUS = "−"
_NO_DIFFERENCE_K = 1e-4
NO_SHARE = 1e-9
"""Below this a share is arithmetic's own, and no departure."""
LEAST_DIGITS, MOST_DIGITS = 3, 6
HALF_STEP_K = 0.05
"""Half of the last digit of a resistance stands for less: half of what a temperature shows."""
NARROW = "\u00a0"
"""Between number and unit: a space that does not break a line."""


def significant(value: float, *, digits: int = 4) -> float:
    """Return the value at so many significant digits, as a number for JSON."""
    return float(f"{value:.{digits}g}")


def digits_for(rate_per_k: float) -> int:
    """Return how many significant digits of ohms keep half a step below 0.05 K, from 3 to 6.

    `rate_per_k` is the share by which resistance changes for each kelvin. Half a step is at most
    five tenths of the last digit of 1.000…: half of 10^(1 − digits) of the value.
    """
    enough = (
        digits
        for digits in range(LEAST_DIGITS, MOST_DIGITS)
        if 0.5 * 10.0 ** (1 - digits) <= HALF_STEP_K * rate_per_k
    )
    return next(enough, MOST_DIGITS)


def whole_parts(values: ArrayLike, *, parts: int) -> np.ndarray:
    """Return how many parts of one each value is, to the nearest whole: for JSON."""
    return np.rint(np.asarray(values, dtype=float) * parts).astype(np.int64)


def all_digits(value: float) -> str:
    """Return every digit that the number has, without an exponent: 32650, 0.1."""
    return np.format_float_positional(value, trim="-")


def format_plain(value: float, *, digits: int = 6) -> str:
    """Return a number as the notes say it, without a unit: 400, 2.5, -10.

    For what was typed and is only said back: an entry's volts, minutes, the bounds of a message.
    What was computed or measured has a function of its own below.
    """
    return f"{value:.{digits}g}"


def format_whole(value: float) -> str:
    """Return a number to the nearest whole: minutes that are only expected, a B value."""
    return f"{value:.0f}"


def format_ohm(r_ohm: float, *, digits: int = 4) -> str:
    """Return ohms such as `6.320 kΩ`: so many significant digits, zeros kept because they count.

    Infinity is `OL`; zero is `0 Ω`.
    """
    if math.isinf(r_ohm):
        return "OL"
    if r_ohm == 0:
        return f"0{NARROW}Ω"
    # Rounded first: 999.96 is 1.000 kΩ, not 1000 Ω.
    rounded = significant(r_ohm, digits=digits)
    scale, unit = next(((s, u) for s, u in _SCALES if abs(rounded) >= s), (1.0, "Ω"))
    return _signed(rounded / scale, digits=digits) + NARROW + unit


def format_ohm_to(r_ohm: float, *, digit_ohm: float) -> str:
    """Return ohms to the meter's last digit: 0.96 Ω where one digit is 0.01 Ω, not 0.9600 Ω."""
    if not (0 < digit_ohm < math.inf and 0 < r_ohm < math.inf):
        return format_ohm(r_ohm)

    # Rounded first: 0.996 Ω to hundredths is 1.00 Ω, with a digit more.
    rounded_ohm = significant(r_ohm, digits=_digits_down_to(digit_ohm, r_ohm=r_ohm))
    return format_ohm(rounded_ohm, digits=_digits_down_to(digit_ohm, r_ohm=rounded_ohm))


def _digits_down_to(digit_ohm: float, *, r_ohm: float) -> int:
    """Return how many significant digits reach down to one digit of the meter."""
    first, last = (math.floor(math.log10(value) + 1e-9) for value in (r_ohm, digit_ohm))
    return max(first - last + 1, 1)


def meter_display(r_ohm: float, *, span_ohm: float, digit_ohm: float) -> tuple[str, str]:
    """Return what a meter shows on a range, and the unit beside it: `6.32`, `kΩ`.

    The unit is that of the range and not of the reading, the places are those of one digit.
    """
    scale, unit = next(((s, u) for s, u in _SCALES if span_ohm >= s), (1.0, "Ω"))
    decimals = max(0, math.ceil(math.log10(scale / digit_ohm) - 1e-9))
    return f"{r_ohm / scale:.{decimals}f}", unit


def format_ohm_ends(low_ohm: float, *, high_ohm: float, digits: int = 4) -> tuple[str, str]:
    """Return the ends of a span, `11.95` and `12.23 kΩ`: the unit once where both share it."""
    low, high = format_ohm(low_ohm, digits=digits), format_ohm(high_ohm, digits=digits)
    number, _, unit = low.partition(NARROW)
    return (number if unit and high.endswith(NARROW + unit) else low), high


def format_t(t_c: float, *, decimals: int = 1, unit: str = "C") -> str:
    """Return a temperature such as `7.0 °C`, or in °F; with a true minus and never minus zero."""
    value = t_c if unit == "C" else t_c * 9 / 5 + 32
    return _fixed(value, decimals=decimals) + NARROW + f"°{unit}"


def format_k(difference_k: float, *, digits: int = 2, unit: str = "K") -> str:
    """Return a temperature difference such as `0.42 K`, `1.2 K`, `24 K`, or in °F.

    A difference in °F is nine fifths of that in kelvin: there is no 32 to add. Below a tenth of a
    millikelvin it is `0 K`: that is arithmetic, no temperature.
    """
    value = difference_k if unit == "K" else difference_k * 9 / 5
    if abs(value) < _NO_DIFFERENCE_K:
        value = 0.0
    return _signed(value, digits=digits, whole=True) + NARROW + ("K" if unit == "K" else "°F")


def format_percent(share: float, *, digits: int = 2) -> str:
    """Return a share of one as per cent: 0.0235 is `2.4 %`."""
    return _signed(share * 100, digits=digits, whole=True) + NARROW + "%"


def format_departure(share: float) -> str:
    """Return a departure as signed per cent: `+2.4 %`, `−0.31 %`; arithmetic's own is `0 %`."""
    if abs(share) < NO_SHARE:
        return format_percent(0)
    return ("+" if share > 0 else "") + format_percent(share)


def format_volts(volts: float, *, decimals: int = 2) -> str:
    """Return volts such as `2.47 V`."""
    return _fixed(volts, decimals=decimals) + NARROW + "V"


def _signed(value: float, *, digits: int, whole: bool = False) -> str:
    """Return so many significant digits, no exponent; with `whole`, never fewer than the units."""
    if value == 0 or not math.isfinite(value):
        return "0" if value == 0 else str(value).replace("-", _MINUS)
    rounded = significant(value, digits=digits)
    if whole and abs(value) >= 10 ** (digits - 1):
        rounded = float(round(value))
    exponent = math.floor(math.log10(abs(rounded)) + 1e-12)
    return f"{rounded:.{max(0, digits - 1 - exponent)}f}".replace("-", _MINUS)


def _fixed(value: float, *, decimals: int) -> str:
    text = f"{value:.{decimals}f}"
    if float(text) == 0:
        text = text.lstrip("-")
    return text.replace("-", _MINUS)
