"""Read what was typed into a field: a temperature with its unit, a reading; or refuse it."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace

from kb.numbers.notation import Unreadable, parse_reading, parse_t_c

from .statement import Choice, Refusal, Statement

ICE = "ice-water"
"""The placement that is a temperature of its own."""
SISTER = "sister"
"""Held against another sensor in the same cup: no temperature is taken."""
ICE_WITHIN_K = 1.0
"""Stirred ice and water shows 0 °C, within the thermometer's own error: common practice."""

_ONE = re.compile(r"1[.,]?")
_DASHES = re.compile(r"[-−–—_](?: ?[-−–—_])+")


@dataclass(frozen=True, kw_only=True)
class TypedTemperature:
    """A temperature as typed; answers come back in its unit.

    Parameters
    ----------
    t_c : float
    unit : str
        "C" or "F".
    """

    t_c: float
    unit: str = "C"


def typed_temperature(text: str, *, field: str, unit: str = "C") -> TypedTemperature:
    """Return the temperature in a field.

    Parameters
    ----------
    text : str
        `7`, `-10`, `7,5`, `45F`.
    field : str
        Its name, for the refusal.
    unit : str
        What a bare number is in: "C" or "F".

    Raises
    ------
    Refusal
        Missing where nothing was typed; else with what would work.
    """
    if not text.strip():
        raise Refusal(Statement(id="field.temperature-missing"), field=field, missing=True)
    try:
        t_c = parse_t_c(text, unit=unit)
    except Unreadable as error:
        raise unreadable(error, field=field) from None
    named = re.search(r"[CF℃]$", text.strip(), re.IGNORECASE)
    return TypedTemperature(t_c=t_c, unit=named[0].upper().replace("℃", "C") if named else unit)


def placed_temperature(
    text: str, *, field: str, placement: str, unit: str = "C"
) -> TypedTemperature:
    """Return the temperature in a field, or 0 °C where it was taken in ice, whatever was typed.

    Parameters
    ----------
    text, field, unit : str
        As for `typed_temperature`.
    placement : str
        How it was taken, a name of PLACEMENTS; "" where that is not said.

    Raises
    ------
    Refusal
        As `typed_temperature`; and where stirred ice is said to be anything but 0 °C.
    """
    if placement == ICE and not text.strip():
        return TypedTemperature(t_c=0.0, unit=unit)
    at = typed_temperature(text, field=field, unit=unit)
    if placement == ICE and abs(at.t_c) > ICE_WITHIN_K:
        raise Refusal(Statement(id="field.not-ice", figures={"t_c": at.t_c}), field=field)
    # A thermometer that shows 0.4 °C there shows its own error.
    return replace(at, t_c=0.0) if placement == ICE else at


def typed_reading_ohm(text: str, *, field: str, metered: bool = True) -> float:
    """Return the ohms in a field, infinity for over range.

    Parameters
    ----------
    text, field : str
    metered : bool
        Whether a meter showed it: then `1`, `1.` and `---` may be its way to say over range, and
        are asked about, not assumed.

    Raises
    ------
    Refusal
        Missing where nothing was typed; else with what would work, or with choices.
    """
    if not text.strip():
        raise Refusal(Statement(id="field.reading-missing"), field=field, missing=True)
    if metered:
        _ask_of_over_range(text.strip(), field=field)
    try:
        return parse_reading(text)
    except Unreadable as error:
        raise unreadable(error, field=field) from None


def _ask_of_over_range(text: str, *, field: str) -> None:
    """Ask what a display means that many meters show for over range."""
    over_range = Choice(id="over-range", typed="OL")
    if _ONE.fullmatch(text):
        other, kind = Choice(id="one-ohm", typed="1.0"), "over-range-or-one"
    elif _DASHES.fullmatch(text):
        other, kind = Choice(id="no-contact", typed=""), "over-range-or-no-contact"
    else:
        return
    statement = Statement(id=f"field.{kind}", figures={"typed": text})
    raise Refusal(statement, field=field, choices=(over_range, other))


def unreadable(error: Unreadable, *, field: str) -> Refusal:
    """Return the refusal of what has no meaning, or two: why, and what would work."""
    why = Statement(id=f"unreadable.{error.why}", figures=error.figures)
    return Refusal(Statement(id="field.unreadable", figures={"why": why}), field=field)
