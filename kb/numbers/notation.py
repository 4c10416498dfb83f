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
_OVER_RANGE = (
    r"[O0]\.?L\.?|open|open circuit|over ?range|∞|inf(?:inity)?|offen|(?:[üÜ]|ue?)berlauf|unendlich"
)
"""As meters show it, and as people say it in English and German."""
_OPEN = re.compile(rf"[>+]?(?:{_OVER_RANGE}) ?[kM]?{_UNIT}?", _FLAGS)
_TEMPERATURE = re.compile(
    r"([+-]?(?:\d+(?:[.,]\d*)?|[.,]\d+)) ?(?:°|º|deg|grad)? ?([CFK]?)", _FLAGS
)
_ABSOLUTE_ZERO_C = -273.15
_SOME_OHM = "write it as 480, 6.32k, 6k32 or 1.2M"
_SOME_T = "write it as 7, -10, 7.5 or 45F"
_REASONS = {
    "ohm": f"'{{typed}}' is not a resistance; {_SOME_OHM}",
    "open": f"'{{typed}}' is an open circuit, not a resistance; {_SOME_OHM}",
    "below-zero": f"'{{typed}}' is below zero; a resistance is not: {_SOME_OHM}",
    "beyond": f"'{{typed}}' is beyond any resistance; {_SOME_OHM}",
    "thousands": "'{typed}' could have a decimal comma or a comma for thousands; write {whole}",
    "thousands-or-point": (
        "'{typed}' could have a decimal comma or a comma for thousands; write {whole} or {point}"
    ),
    "milli": "'{typed}' could be milliohms or megohms; write M for megohms, or milliohms as 0R22",
    "of-what": "'{typed}' of what? Write {typed}M for megohms or {typed}k for kilohms",
    "temperature": f"'{{typed}}' is not a temperature; {_SOME_T}",
    "kelvin": f"'{{typed}}' is in kelvin; {_SOME_T}",
    "absolute-zero": f"'{{typed}}' is below absolute zero; {_SOME_T}",
}
_OR_OVER_RANGE = ", or OL for over range"


class Unreadable(ValueError):
    """What was typed has no meaning, or two; its text says in English what would work.

    Attributes
    ----------
    why : str
        The reason by id, one of the catalogue's section `unreadable` where a page can meet it.
    figures : dict of str to str
        What stands in the sentence: what was `typed`, and what would work instead.
    """

    def __init__(self, why: str, *, metered: bool = False, **figures: str) -> None:
        self.why, self.figures = why, figures
        # A meter shows OL, too; an insulation tester's letter is another matter.
        super().__init__(_REASONS[why].format(**figures) + (_OR_OVER_RANGE if metered else ""))

    def of_a_meter(self) -> Unreadable:
        """Return the same of a meter's display, which may be over range."""
        return Unreadable(self.why, metered=True, **self.figures)


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
    Unreadable
        If it cannot be read, or could be read two ways: m (milli or mega?), 12,000 (twelve or
        twelve thousand?).

    Source: IEC 60062 for the letter in place of the point (from memory).
    """
    tidy = _tidy(text)
    if tidy.startswith("-"):
        raise Unreadable("below-zero", typed=text)
    letter = _LETTER.fullmatch(tidy)
    if letter:
        times = _multiplier(letter["times"], text=text)
        return float(f"{letter['whole'] or '0'}.{letter['part']}") * times
    plain = _PLAIN.fullmatch(tidy)
    if plain:
        return _plain_ohm(plain, text=text)
    if _OPEN.fullmatch(tidy):
        raise Unreadable("open", typed=text)
    raise Unreadable("ohm", typed=text)


def _plain_ohm(plain: re.Match[str], *, text: str) -> float:
    """Return ohms of a number with its multiplier behind it."""
    times = _multiplier(plain["times"], text=text)
    if not plain["times"] and _GROUPED.fullmatch(plain["number"]):
        whole = plain["number"].replace(",", "")
        if plain["number"].count(",") > 1:
            raise Unreadable("thousands", typed=text, whole=whole)
        point = plain["number"].replace(",", ".")
        raise Unreadable("thousands-or-point", typed=text, whole=whole, point=point)
    number = plain["number"].replace(" ", "").replace(",", ".")
    if number.count(".") > 1:
        raise Unreadable("ohm", typed=text)
    r_ohm = float(number + (plain["e"] or "")) * times
    if math.isinf(r_ohm):
        raise Unreadable("beyond", typed=text)
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
    Unreadable
        As `parse_ohm`.
    """
    if _OPEN.fullmatch(_tidy(text)):
        return math.inf
    try:
        return parse_ohm(text)
    except Unreadable as error:
        raise error.of_a_meter() from None


def parse_t_c(text: str, *, unit: str = "C") -> float:
    """Return °C from what a person wrote: 7, −10, 7,5, 7 °C, 45F, 45 °F.

    Parameters
    ----------
    text : str
    unit : str
        What a bare number is in: "C" or "F".

    Raises
    ------
    Unreadable
        If it cannot be read, is in another unit, or lies below absolute zero.
    """
    written = _TEMPERATURE.fullmatch(_tidy(text))
    if not written:
        raise Unreadable("temperature", typed=text)
    given = (written[2] or unit).upper()
    if given == "K":
        raise Unreadable("kelvin", typed=text)
    degrees = float(written[1].replace(",", "."))
    t_c = (degrees - 32) * 5 / 9 if given == "F" else degrees
    if t_c < _ABSOLUTE_ZERO_C:
        raise Unreadable("absolute-zero", typed=text)
    return t_c


def _tidy(text: str) -> str:
    """Return the text with one kind of minus, one of space, and ℃ as two signs."""
    text = text.replace("−", "-").replace("–", "-").replace("℃", "°C")
    return re.sub(r"\s+", " ", text).strip()


def _multiplier(letter: str, *, text: str) -> float:
    if letter == "m":
        raise Unreadable("milli", typed=text)
    return _TIMES["k" if letter in ("k", "K") else letter.upper()]
