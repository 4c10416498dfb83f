"""The first line of a file of points: which column is what, and in which unit."""

from __future__ import annotations

import re
from dataclasses import dataclass

COLUMNS = ("t", "r", "low", "high")
WRITE_LIKE = "write the first line as t_c,r_ohm, or t_c;r_ohm with decimal commas"

_NAMES = {
    "t": r"t|temp(?:erature)?\.?",
    "low": r"(?:r|resistance)?[ _.-]?(?:low(?:er|est)?|min(?:imum)?)",
    "high": r"(?:r|resistance)?[ _.-]?(?:high(?:er|est)?|upper|max(?:imum)?)",
    "r": r"r|res(?:istance)?|r(?:es(?:istance)?)?[ _.-]?(?:nom(?:inal)?|typ(?:ical)?)|"
    r"nom(?:inal)?|typ(?:ical)?",
}
_DEGREES = r"(?:(?:°|º|deg(?:rees?)?\.?) ?)"
_IN_C = re.compile(rf"{_DEGREES}?c(?:elsius)?|℃|celsius", re.IGNORECASE)
_IN_F = re.compile(rf"{_DEGREES}?f(?:ahrenheit)?|℉|fahrenheit", re.IGNORECASE)
_IN_OHM = re.compile(r"(?P<times>[kKM]?) ?(?:\u03a9|\u2126|\u03c9|[oO]hms?|OHMS?)")
_BARE_TIMES = re.compile(r"[kM]")


@dataclass(frozen=True, kw_only=True)
class Column:
    """One column.

    Parameters
    ----------
    name : str
        One of COLUMNS.
    unit : str
        "C" or "F" for temperatures; "", "k" or "M" for ohms: what a bare number is in.
    written : str
        As the first line names it.
    """

    name: str
    unit: str
    written: str


def column_of(written: str) -> Column:
    """Return which column a name in the first line stands for.

    Raises
    ------
    ValueError
        If it is no column, or does not say its unit: what is wrong; what would work.
    """
    if (alone := _ohm_unit(written.strip())) is not None and not _BARE_TIMES.fullmatch(written):
        return Column(name="r", unit=alone, written=written)
    for name, unit in _splits(written):
        for column in COLUMNS:
            if not re.fullmatch(_NAMES[column], name, re.IGNORECASE):
                continue
            found = _temperature_unit(unit) if column == "t" else _ohm_unit(unit)
            if found is not None:
                return Column(name=column, unit=found, written=written)
            raise ValueError(f"'{written}' {_no_unit(column, unit=unit)}")
    raise ValueError(f"'{written}' is no column; {WRITE_LIKE}")


def _splits(written: str) -> list[tuple[str, str]]:
    """Return (name, unit) in each way that the text can be split: R (kOhm), r_kohm, R/kΩ, R kΩ."""
    text = re.sub(r"\s+", " ", written).strip()
    found = [(text, "")]
    bracket = re.fullmatch(r"(.*?)[ _]?[\[(]([^\])]*)[\])]", text)
    if bracket:
        return [(bracket[1].strip(), bracket[2].strip())]
    for at, sign in enumerate(text):
        if sign in " _/,":
            unit = re.sub(r"^[ /]*(?:in )?", "", text[at + 1 :], flags=re.IGNORECASE)
            found.append((text[:at].strip(), unit))
    # The longest name first: 'low_ohm' is a name with a unit, 'r_low' a name without one.
    return sorted(found, key=lambda split: -len(split[0]))


def _temperature_unit(unit: str) -> str | None:
    if _IN_C.fullmatch(unit):
        return "C"
    return "F" if _IN_F.fullmatch(unit) else None


def _ohm_unit(unit: str) -> str | None:
    found = _IN_OHM.fullmatch(unit)
    if found:
        return found["times"].replace("K", "k")
    return unit if _BARE_TIMES.fullmatch(unit) else None


def _no_unit(column: str, *, unit: str) -> str:
    """Say what is wrong with a unit; what would work."""
    names = "t_c or t_f" if column == "t" else f"{column}_ohm, {column}_kohm or {column}_Mohm"
    if not unit:
        return f"does not say its unit; write {names}"
    if column != "t" and unit.lower().startswith("m"):
        return f"could be in milliohms or megohms; write {names}"
    return f"is in a unit that is not read; write {names}"
