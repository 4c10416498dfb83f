"""A curve's table from a file, for `ohmfolio add curve --points FILE`."""

from __future__ import annotations

from pathlib import Path

from kb.bring.table_file import CannotRead, read_tables
from kb.columns.values import Value
from kb.notes.load import Notes

from .brought_points import head_of_points, read_point_table
from .options import NoAnswer, NotUnderstood
from .sheet_bytes import sheet_bytes


def points_value(file: Path, *, notes: Notes) -> Value:
    """Return law, range and points of the first sheet that holds a table.

    Raises
    ------
    NotUnderstood
        When the file cannot be read, or names no temperature and resistance.
    NoAnswer
        With every row that is wrong.
    """
    raw = sheet_bytes(file, holds="the points")
    try:
        tables = read_tables(raw, file=file.name)
    except CannotRead as error:
        raise NotUnderstood(str(error)) from None
    table = next((table for table in tables if head_of_points(table) is not None), None)
    if table is None:
        raise NotUnderstood(
            f"{file.name} names no temperature and resistance with their units in its first row; "
            "write t_c and r_ohm"
        )
    read = read_point_table(table, curve="of-the-file", notes=notes, every={}, decimal="")
    if read.faults:
        raise NoAnswer("\n\n".join(fault.picture() for fault in read.faults))
    value = read.drafts[0].value
    return {name: value[name] for name in ("law", "range_c", "points")}
