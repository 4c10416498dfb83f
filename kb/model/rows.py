"""Rows of a printed table: temperature, resistance, and what its last digit says."""

from __future__ import annotations

import itertools
from collections.abc import Callable, Iterable, Iterator, Sequence
from typing import TypeVar

from kb.numbers.number_column import sure_signs

from .entry import Block
from .words import Fault, Ohm, TempC, Text, _ohm, _ohm_with_decimals, _t_c


class Point(Block):
    """One row of a printed table."""

    t_c: TempC
    r_ohm: Ohm
    low_ohm: Ohm | None = None
    high_ohm: Ohm | None = None
    printed: Text
    """The resistance as printed: its last digit is the print resolution."""


class FittedRow(Block):
    """One printed row that a law was fitted to."""

    t_c: TempC
    r_ohm: Ohm
    printed: Text
    """The resistance as printed: its last digit is the print resolution."""


Parse = Callable[[object], object]
R = TypeVar("R", Point, FittedRow)


def point_rows(value: object) -> object:
    """Read `temperature: resistance`, or `temperature: [low, nominal, high]`."""
    if not isinstance(value, dict):
        raise Fault(
            "points are lines of 'temperature: resistance'",
            hint="write '25: 10k', or '25: [9.9k, 10k, 10.1k]' with the low and high columns",
        )
    return _each(value, read=_point)


def fitted_rows(value: object) -> object:
    """Read `temperature: resistance`, the nominal alone."""
    if not isinstance(value, dict):
        raise Fault("fitted_to holds lines of 'temperature: resistance'", hint="write '25: 10.00k'")
    return _each(value, read=_fitted_row)


def _each(value: dict[object, object], *, read: Callable[..., object]) -> list[object]:
    """Read every row; all faults at once."""
    points, faults = [], []
    parse = _ohm_with_decimals if "." in sure_signs(_texts(value.values())).decimal else _ohm
    for key, row in value.items():
        try:
            points.append(read(key, row=row, parse=parse))
        except Fault as fault:
            faults.append(fault)
    if faults:
        first, *others = faults
        raise Fault(str(first), at=first.at, hint=first.hint, key=first.key, also=others)
    return points


def _texts(rows: Iterable[object]) -> Iterator[str]:
    for row in rows:
        yield from (
            cell for cell in (row if isinstance(row, list) else [row]) if isinstance(cell, str)
        )


def _point(key: object, *, row: object, parse: Parse) -> dict[str, object]:
    """Read one row, a fault in it placed at its key."""
    at = (key,) if isinstance(key, str | int) else ()
    low, nominal, high = None, row, None
    if isinstance(row, list):
        if len(row) != 3:
            raise Fault(
                f"a row has one value or three, here {len(row)}",
                at=at,
                hint="write [low, nominal, high]",
            )
        low, nominal, high = row
    t_c = _key_c(key)
    try:
        return {
            "t_c": t_c,
            "r_ohm": parse(nominal),
            "low_ohm": None if low is None else parse(low),
            "high_ohm": None if high is None else parse(high),
            "printed": nominal,
        }
    except Fault as fault:
        raise Fault(str(fault), at=at, hint=fault.hint) from None


def _fitted_row(key: object, *, row: object, parse: Parse) -> dict[str, object]:
    """Read one row without columns."""
    at = (key,) if isinstance(key, str | int) else ()
    try:
        return {"t_c": _key_c(key), "r_ohm": parse(row), "printed": row}
    except Fault as fault:
        raise Fault(str(fault), at=at, hint=fault.hint, key=fault.key) from None


def _key_c(key: object) -> object:
    at = (key,) if isinstance(key, str | int) else ()
    try:
        return _t_c(key)
    except Fault as fault:
        raise Fault(str(fault), at=at, hint=fault.hint, key=True) from None


def require_within(
    range_c: tuple[float, float], *, rows: Sequence[R], named: str, called: str
) -> None:
    """Refuse a range wider than its rows, which rise.

    Parameters
    ----------
    named, called : str
        What holds the rows, and what one of them is called.

    Raises
    ------
    Fault
        At `range_c`.
    """
    low_c, high_c = range_c
    first_c, last_c = rows[0].t_c, rows[-1].t_c
    if low_c < first_c or high_c > last_c:
        raise Fault(
            f"range_c {low_c:g} to {high_c:g} °C is wider than the {named}, "
            f"{first_c:g} to {last_c:g} °C",
            at=("range_c",),
            hint=f"a curve never answers outside its {called}",
        )


def require_rising(rows: Sequence[R], *, field: str) -> None:
    """Refuse rows that do not rise in temperature, or whose resistance turns back.

    Raises
    ------
    Fault
        At the row, inside `field`.
    """
    for i, (before, row) in enumerate(itertools.pairwise(rows), start=1):
        if row.t_c <= before.t_c:
            raise Fault(
                f"{row.t_c:g} °C stands after {before.t_c:g} °C",
                at=(field, i),
                hint="rows rise in temperature, each temperature once",
            )
    if any(row.r_ohm <= 0 for row in rows):
        raise Fault(
            "a resistance is above zero", at=(field,), hint="write what is printed, such as 480"
        )
    falling = rows[-1].r_ohm < rows[0].r_ohm
    for i, (before, row) in enumerate(itertools.pairwise(rows), start=1):
        if row.r_ohm == before.r_ohm or (row.r_ohm < before.r_ohm) != falling:
            way = "falls" if falling else "rises"
            raise Fault(
                f"the table {way}, but from {before.t_c:g} to {row.t_c:g} °C it goes from "
                f"{before.printed} to {row.printed}",
                at=(field, i),
                hint="look for a misprinted digit in these two rows",
            )
