"""Table points from a sheet: rows of temperature and resistance become curves, or add to them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from kb.bring.draft import Draft, Fault, Place, Way
from kb.bring.headings import HEAD_WITHIN, Read
from kb.bring.table_file import Cell, Table, column_letter
from kb.columns.cell import value_of
from kb.columns.column import columns_of, find_column, plain_header
from kb.columns.values import Value, with_value
from kb.examples import own_ids
from kb.model import Sensor
from kb.model.words import tidy_id
from kb.notes.load import Notes
from kb.notes.problem import Problem
from kb.numbers.rounding import format_plain

from .point_columns import column_of
from .point_file import PrintedRow, read_points

CURVE_NAMES = ("curve", "characteristic", "sensor type", "id")
POINTS = "points"


def head_of_points(table: Table) -> int | None:
    """Return the row that names a temperature and a resistance; None in a sheet of entries."""
    for at, (_, cells) in enumerate(table.rows[:HEAD_WITHIN]):
        names = set()
        for cell in cells:
            try:
                names.add(column_of(cell.text).name)
            except ValueError:
                continue
        if {"t", "r"} <= names:
            return at
    return None


def point_rows_of(notes: Notes, *, family: str = "") -> tuple[list[str], list[list[str]]]:
    """Return the sheet of every table's points: its head, and a row for each."""
    on_family = {
        sensor.curve for sensor in notes.of(Sensor).values() if family in sensor.family_ids
    }
    rows = []
    for curve_id in notes.of_kind("curves"):
        value = notes.texts[("curves", curve_id)].value
        points = value.get(POINTS) if isinstance(value, dict) else None
        if not isinstance(points, dict) or (family and curve_id not in on_family):
            continue
        for t_c, ohms in points.items():
            low, r_ohm, high = ohms if isinstance(ohms, list) else ("", ohms, "")
            rows.append([curve_id, t_c, r_ohm, low, high])
    return ["curve", "t_c", "r_ohm", "low_ohm", "high_ohm"], rows


def read_point_table(
    table: Table, *, curve: str, notes: Notes, every: Mapping[str, str], decimal: str
) -> Read:
    """Read a sheet of points.

    Parameters
    ----------
    table : Table
    curve : str
        The curve's id, for a sheet without a column that says it; else the sheet's name is it.
    notes : Notes
    every : mapping
        Column of a curve → what stands there, for a curve that is not there yet.
    decimal : str
        The sign before decimals; empty where the whole column decides.
    """
    read = Read(remarks=list(table.remarks))
    head = head_of_points(table)
    assert head is not None
    number, names = table.rows[head]
    by = next((i for i, cell in enumerate(names) if plain_header(cell.text) in CURVE_NAMES), None)
    columns = [i for i, cell in enumerate(names) if i != by and _is_column(cell)]
    groups: dict[str, list[tuple[int, tuple[Cell, ...]]]] = {}
    for row, cells in table.rows[head + 1 :]:
        named = cells[by].text if by is not None and by < len(cells) else ""
        groups.setdefault(tidy_id(named or curve or table.name), []).append((row, cells))
    for curve_id, rows in groups.items():
        kept = _filled(columns, names=names, rows=rows)
        text = _as_csv([(number, names), *rows], kept=kept)
        points = read_points(text.encode(), file=table.label, decimal=decimal)
        read.remarks += points.remarks
        whole = Place(words=f"{table.label}, row {rows[0][0]}", table=table.label, row=rows[0][0])
        read.faults += [
            _placed(problem, table=table, names=names, kept=kept) for problem in points.problems
        ]
        if not points.problems:
            draft = _draft(curve_id, points.rows, notes=notes, every=every, whole=whole, read=read)
            if draft is not None:
                read.drafts.append(replace(draft, places=_places(table, points.rows, draft=draft)))
    return read


def _is_column(cell: Cell) -> bool:
    try:
        column_of(cell.text)
    except ValueError:
        return False
    return True


def _filled(
    columns: Sequence[int], *, names: Sequence[Cell], rows: Sequence[tuple[int, tuple[Cell, ...]]]
) -> list[int]:
    """Return the columns that a table has: beside others it may stand without lows and highs."""
    return [
        i
        for i in columns
        if column_of(names[i].text).name not in ("low", "high")
        or any(i < len(cells) and cells[i].text for _, cells in rows)
    ]


def _as_csv(rows: Sequence[tuple[int, tuple[Cell, ...]]], *, kept: Sequence[int]) -> str:
    """Return rows as lines of their own numbers, so that a fault names the row of the sheet."""
    lines: dict[int, str] = {}
    for number, cells in rows:
        texts = [cells[i].text if i < len(cells) else "" for i in kept]
        lines[number] = ";".join(text.replace("−", "-") for text in texts)
    return "\n".join(lines.get(number, "") for number in range(1, max(lines) + 1))


def _placed(problem: Problem, *, table: Table, names: Sequence[Cell], kept: Sequence[int]) -> Fault:
    """Return a problem of the points, named by row and column of the sheet."""
    at = min(problem.text[: problem.column - 1].count(";"), len(kept) - 1)
    header = names[kept[at]].text
    place = Place(
        words=f"{table.label}, row {problem.line}, column {column_letter(kept[at])} '{header}'",
        text=problem.text.split(";")[at].strip() if problem.text else "",
        table=table.label,
        header=header,
        row=problem.line,
        column=kept[at] + 1,
    )
    return Fault(place=place, rule=problem.rule, message=problem.message, hint=problem.hint)


def _draft(
    curve_id: str,
    rows: Sequence[PrintedRow],
    *,
    notes: Notes,
    every: Mapping[str, str],
    whole: Place,
    read: Read,
) -> Draft | None:
    text = notes.texts.get(("curves", curve_id))
    stands = text.value if text is not None and isinstance(text.value, dict) else None
    if stands is None:
        value = new_table(curve_id, rows=rows, notes=notes, every=every)
    elif stands.get("law") != "table" or not isinstance(stands.get(POINTS), dict):
        read.faults.append(
            Fault(
                place=whole,
                rule="law",
                message=f"the curve '{curve_id}' is no table, its law is {stands.get('law')}",
                hint="give the points a curve of their own, by another id",
            )
        )
        return None
    else:
        value = {**stands, POINTS: _merged(dict(stands[POINTS]), rows)}
    return Draft(kind="curves", entry_id=curve_id, value=value, whole=whole)


def new_table(
    curve_id: str, *, rows: Sequence[PrintedRow], notes: Notes, every: Mapping[str, str]
) -> Value:
    """Return a curve of printed rows; its range is theirs."""
    ends = [format_plain(row.t_c, digits=10) for row in (rows[0], rows[-1])]
    value: Value = {"name": curve_id, "law": "table", "range_c": ends, POINTS: _merged({}, rows)}
    sources = own_ids(notes, kind="sources")
    if len(sources) == 1:
        value["source"] = sources[0]
    for header, cell in every.items():
        meant = find_column(columns_of("curves", law="table"), header=header)
        if meant is not None:
            value = with_value(value, way=meant[0].way(), new=value_of(cell, column=meant[0]))
    return value


def _merged(points: dict[str, object], rows: Sequence[PrintedRow]) -> dict[str, object]:
    keys = {float(key.replace("−", "-").replace(",", ".")): key for key in points}
    for row in rows:
        key = keys.setdefault(row.t_c, format_plain(row.t_c, digits=10))
        points[key] = _ohms(row)
    return {keys[t_c]: points[keys[t_c]] for t_c in sorted(keys)}


def _ohms(row: PrintedRow) -> object:
    if row.low_ohm is None or row.high_ohm is None:
        return row.r_ohm
    return [row.low_ohm, row.r_ohm, row.high_ohm]


def _places(table: Table, rows: Sequence[PrintedRow], *, draft: Draft) -> dict[Way, Place]:
    points = draft.value[POINTS]
    assert isinstance(points, dict)
    row_of = {row.t_c: row.line for row in rows}
    places: dict[Way, Place] = {}
    for key in points:
        row = row_of.get(float(key.replace("−", "-").replace(",", ".")))
        if row is not None:
            place = Place(words=f"{table.label}, row {row}", table=table.label, row=row)
            places[(POINTS, key)] = place
    return places
