"""Read what was typed into a field: a temperature with its unit, a reading; or refuse it."""

from __future__ import annotations

import re
from dataclasses import dataclass

from kb.numbers.notation import parse_reading, parse_t_c

from .statement import Refusal, Statement


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
    except ValueError as error:
        raise _unreadable(field, error) from None
    named = re.search(r"[CF℃]$", text.strip(), re.IGNORECASE)
    return TypedTemperature(t_c=t_c, unit=named[0].upper().replace("℃", "C") if named else unit)


def typed_reading_ohm(text: str, *, field: str) -> float:
    """Return the ohms in a field, infinity for over range.

    Raises
    ------
    Refusal
        Missing where nothing was typed; else with what would work.
    """
    if not text.strip():
        raise Refusal(Statement(id="field.reading-missing"), field=field, missing=True)
    try:
        return parse_reading(text)
    except ValueError as error:
        raise _unreadable(field, error) from None


def _unreadable(field: str, error: ValueError) -> Refusal:
    return Refusal(Statement(id="field.unreadable", figures={"why": str(error)}), field=field)
