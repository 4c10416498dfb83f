"""Read what people write: ohms as 6.32k, 6k32 or 480, a meter's OL, temperatures in °C or °F."""

from __future__ import annotations

import math
import re

_TIMES = {"": 1.0, "R": 1.0, "k": 1e3, "M": 1e6, "G": 1e9}
# ASCII only: the Kelvin sign must not pass for a k, nor another script's digits for ours.
_FLAGS = re.IGNORECASE | re.ASCII
_UNIT = "(?:[\u03a9\u2126]|ohms?)"  # Greek letter, ohm sign
_DIGITS = r"(?:\d+|\d{1,3}(?: \d{3})+)"
_PLAIN = re.compile(
    rf"(?P<number>{_DIGITS}(?:[.,]\d*)?|[.,]\d+|[1-9]\d{{0,2}}(?:,\d{{3}})+)"
    rf"(?P<e>e[+-]?\d+)? ?(?P<times>[RkMG]?) ?{_UNIT}?",
    _FLAGS,
)
_LETTER = re.compile(rf"(?P<whole>\d*)(?P<times>[RkMG])(?P<part>\d+) ?{_UNIT}?", _FLAGS)
_GROUPED = re.compile(r"[1-9]\d{0,2}(,\d{3})+")
_EITHER_WAY = re.compile(rf"([1-9]\d{{0,2}})[.,](\d{{3}}) ?{_UNIT}?", _FLAGS)
_OPEN = re.compile(
    rf"[>+]?(?:[O0]\.?L\.?|open|open circuit|over ?range|∞|inf(?:inity)?) ?[kM]?{_UNIT}?", _FLAGS
)
_TEMPERATURE = re.compile(r"([+-]?(?:\d+(?:[.,]\d*)?|[.,]\d+)) ?(?:°|º|deg)? ?([CFK]?)", _FLAGS)
_SOME_OHM = "write it as 480, 6.32k, 6k32 or 1.2M"
_SOME_T = "write it as 7, -10, 7.5 or 45F"
_ABSOLUTE_ZERO_C = -273.15


def parse_ohm(text: str) -> float:
    """Return ohms from what a person wrote.

    Parameters
    ----------
    text : str
        480, 6.32k, 6,32k, 6k32, 4R7, 0R22, 1.2M, 1M2, 5G; Ω or ohm may follow. K is k.

    Returns
    -------
    float
        Ω, not below zero.

    Raises
    ------
    ValueError
        If it cannot be read, or could be read two ways: m (milli or mega?), 12,000 (twelve or
        twelve thousand?).

    Source: IEC 60062 for the letter in place of the point (from memory).
    """
    tidy = _tidy(text)
    if tidy.startswith("-"):
        raise ValueError(f"'{text}' is below zero; a resistance is not: {_SOME_OHM}")
    letter = _LETTER.fullmatch(tidy)
    if letter:
        times = _multiplier(letter["times"], text=text)
        return float(f"{letter['whole'] or '0'}.{letter['part']}") * times
    plain = _PLAIN.fullmatch(tidy)
    if plain:
        return _plain_ohm(plain, text=text)
    if _OPEN.fullmatch(tidy):
        raise ValueError(f"'{text}' is an open circuit, not a resistance; {_SOME_OHM}")
    raise ValueError(f"'{text}' is not a resistance; {_SOME_OHM}")


def _plain_ohm(plain: re.Match[str], *, text: str) -> float:
    """Return ohms of a number with its multiplier behind it."""
    times = _multiplier(plain["times"], text=text)
    if not plain["times"] and _GROUPED.fullmatch(plain["number"]):
        thousands = plain["number"].replace(",", "")
        point = "" if plain["number"].count(",") > 1 else f" or {plain['number'].replace(',', '.')}"
        raise ValueError(
            f"'{text}' could have a decimal comma or a comma for thousands; "
            f"write {thousands}{point}"
        )
    number = plain["number"].replace(" ", "").replace(",", ".")
    if number.count(".") > 1:
        raise ValueError(f"'{text}' is not a resistance; {_SOME_OHM}")
    r_ohm = float(number + (plain["e"] or "")) * times
    if math.isinf(r_ohm):
        raise ValueError(f"'{text}' is beyond any resistance; {_SOME_OHM}")
    return r_ohm


def parse_entry_ohm(text: str) -> float:
    """Return ohms from what stands in a file: as `parse_ohm`, and 50.000 is as unclear as 50,000.

    A meter shows 1.425 and means it; in a file the same may be 1425 with a point for thousands.

    Raises
    ------
    ValueError
        As `parse_ohm`, and where the point could be either.
    """
    either_way = _EITHER_WAY.fullmatch(_tidy(text))
    if either_way:
        whole, part = either_way[1], either_way[2]
        raise ValueError(
            f"'{text}' could be {whole}{part} or {whole} and a fraction; "
            f"write {whole}{part} or {whole}R{part.rstrip('0')}"
        )
    return parse_ohm(text)


def parse_reading(text: str) -> float:
    """Return ohms from a meter's display; infinity for OL, open, ∞.

    Raises
    ------
    ValueError
        As `parse_ohm`.
    """
    if _OPEN.fullmatch(_tidy(text)):
        return math.inf
    try:
        return parse_ohm(text)
    except ValueError as error:
        raise ValueError(f"{error}, or OL for over range") from None


def parse_t_c(text: str, *, unit: str = "C") -> float:
    """Return °C from what a person wrote: 7, −10, 7,5, 7 °C, 45F, 45 °F.

    Parameters
    ----------
    text : str
    unit : str
        What a bare number is in: "C" or "F".

    Raises
    ------
    ValueError
        If it cannot be read, is in another unit, or lies below absolute zero.
    """
    written = _TEMPERATURE.fullmatch(_tidy(text))
    if not written:
        raise ValueError(f"'{text}' is not a temperature; {_SOME_T}")
    given = (written[2] or unit).upper()
    if given == "K":
        raise ValueError(f"'{text}' is in kelvin; {_SOME_T}")
    degrees = float(written[1].replace(",", "."))
    t_c = (degrees - 32) * 5 / 9 if given == "F" else degrees
    if t_c < _ABSOLUTE_ZERO_C:
        raise ValueError(f"'{text}' is below absolute zero; {_SOME_T}")
    return t_c


def _tidy(text: str) -> str:
    """Return the text with one kind of minus, one of space, and ℃ as two signs."""
    text = text.replace("−", "-").replace("–", "-").replace("℃", "°C")
    return re.sub(r"\s+", " ", text).strip()


def _multiplier(letter: str, *, text: str) -> float:
    if letter == "m":
        raise ValueError(
            f"'{text}' could be milliohms or megohms; write M for megohms, or milliohms as 0R22"
        )
    return _TIMES["k" if letter in ("k", "K") else letter.upper()]
