"""A file of printed points: a data sheet's table as a spreadsheet saves it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from kb.notes.file_text import decoded
from kb.notes.problem import Problem
from kb.numbers.notation import parse_ohm, parse_t_c
from kb.numbers.number_column import either_way, in_plain, without_thousands
from kb.numbers.rounding import format_plain

from .point_columns import WRITE_LIKE, Column, column_of
from .point_thousands import settled

SEPARATORS = (";", "\t", ",")
AS_CSV = "save the sheet as CSV: in its program 'Save as', there CSV with UTF-8"


@dataclass(frozen=True, kw_only=True)
class PrintedRow:
    """One row; resistances as text too, since the last printed digit says how well it is known.

    Parameters
    ----------
    line : int
        Where it stands in the file, from 1.
    """

    line: int
    t_c: float
    r_ohm: str
    low_ohm: str | None = None
    high_ohm: str | None = None


@dataclass(frozen=True)
class Cell:
    """One cell of a line, with the column it starts at, from 1."""

    text: str
    column: int


@dataclass(frozen=True, kw_only=True)
class Line:
    """One line of the file, and where it stands."""

    file: str
    number: int
    text: str

    def problem(self, rule: str, *, message: str, hint: str, column: int = 1) -> Problem:
        """Return what is wrong with this line, with the line itself for the caret."""
        return Problem(self.file, self.number, column, rule, message, hint, text=self.text)


@dataclass(frozen=True, kw_only=True)
class Points:
    """What a file of points holds.

    Parameters
    ----------
    rows : tuple of PrintedRow
        Rising in temperature; none counts when there is a problem.
    problems : tuple of Problem
        Every one at once.
    remarks : tuple of str
        What the whole column decided that one cell could not.
    """

    rows: tuple[PrintedRow, ...] = ()
    problems: tuple[Problem, ...] = ()
    remarks: tuple[str, ...] = ()


@dataclass(frozen=True, kw_only=True)
class RawRow:
    """One row before its numbers are read: a cell for each column that is named."""

    line: Line
    t_c: float
    cells: dict[str, Cell]


def read_points(raw: bytes, *, file: str, decimal: str = "") -> Points:
    """Read a table of points.

    Parameters
    ----------
    raw : bytes
        A first line that names the columns with their units, then one row a line. Separated by
        semicolon, tab or comma; with a decimal comma by semicolon or tab. Blank lines and lines
        that start with # are passed over.
    file : str
        The name to show in problems.
    decimal : str
        The sign before decimals; empty where the whole column decides.
    """
    text, unreadable = decoded(raw, file=file, rows=True)
    if unreadable:
        return Points(problems=tuple(_as_csv(problem) for problem in unreadable))
    lines = _lines(text, file=file)
    if not lines:
        message, hint = "the file holds no points", WRITE_LIKE
        return Points(problems=(Problem(file, 1, 1, "no-points", message, hint),))
    head, *below = lines
    separator = next((sign for sign in SEPARATORS if sign in head.text), ",")
    columns, problems = _columns(head, separator=separator)
    if problems:
        return Points(problems=tuple(problems))
    raws: list[RawRow] = []
    for line in below:
        row, wrong = _raw_row(line, columns=columns, separator=separator)
        problems += wrong
        if row:
            raws.append(row)
    raws.sort(key=lambda row: row.t_c)
    rows, wrong, remarks = _read_rows(raws, columns=columns, decimal=decimal)
    problems += wrong + _repeated(rows, lines=lines)
    if len(rows) < 2 and not problems:
        message, hint = "fewer than two points make no curve", "give every row of the printed table"
        problems.append(Problem(file, lines[-1].number, 1, "no-points", message, hint))
    return Points(rows=tuple(rows), problems=tuple(sorted(problems)), remarks=tuple(remarks))


def _as_csv(problem: Problem) -> Problem:
    """Return a fault of the file's characters with what mends it where a sheet was meant."""
    return replace(problem, hint=AS_CSV) if problem.rule == "no-text" else problem


def _lines(text: str, *, file: str) -> list[Line]:
    return [
        Line(file=file, number=number, text=line)
        for number, line in enumerate(text.splitlines(), start=1)
        if line.strip(" ;,\t") and not line.lstrip().startswith("#")
    ]


def _columns(head: Line, *, separator: str) -> tuple[list[Column], list[Problem]]:
    columns: list[Column] = []
    problems = []
    for cell in _cells(head.text, separator=separator):
        try:
            column = column_of(cell.text)
        except ValueError as error:
            message, _, hint = str(error).partition("; ")
            problems.append(head.problem("columns", message=message, hint=hint, column=cell.column))
            continue
        if column.name in [other.name for other in columns]:
            message, hint = f"the column '{cell.text}' stands here twice", "keep one of the two"
            problems.append(head.problem("columns", message=message, hint=hint, column=cell.column))
        columns.append(column)
    names = {column.name for column in columns}
    if problems:
        return columns, problems if names else problems[:1]
    for needed, called in (("t", "t_c"), ("r", "r_ohm")):
        if needed not in names:
            message = f"the column '{called}' is missing"
            problems.append(head.problem("columns", message=message, hint=WRITE_LIKE))
    if ("low" in names) != ("high" in names):
        message, hint = "low_ohm and high_ohm go together", "give both columns, or neither"
        problems.append(head.problem("columns", message=message, hint=hint))
    return columns, problems


def _raw_row(
    line: Line, *, columns: Sequence[Column], separator: str
) -> tuple[RawRow | None, list[Problem]]:
    cells = _cells(line.text, separator=separator)
    while len(cells) > len(columns) and not cells[-1].text:
        cells.pop()
    if len(cells) != len(columns):
        hint = f"the first line names {', '.join(column.written for column in columns)}"
        if separator == "," and len(cells) > len(columns):
            hint = "with decimal commas separate the columns by semicolons, or put 7,5 in quotes"
        message = f"{len(cells)} values where {len(columns)} are named"
        return None, [line.problem("row", message=message, hint=hint)]
    by_name = {column.name: cell for column, cell in zip(columns, cells, strict=True)}
    in_unit = next(column.unit for column in columns if column.name == "t")
    problems = []
    t_c = 0.0
    try:
        t_c = parse_t_c(by_name["t"].text, unit=in_unit)
    except ValueError as error:
        problems.append(_unreadable(line, by_name["t"], rule="t_c", error=error))
    for name, cell in by_name.items():
        if name == "t" or either_way(cell.text):
            continue
        try:
            if parse_ohm(without_thousands(cell.text)) <= 0:
                raise ValueError(f"'{cell.text}' is no resistance above zero")
        except ValueError as error:
            problems.append(_unreadable(line, cell, rule=f"{name}_ohm", error=error))
    return (None if problems else RawRow(line=line, t_c=t_c, cells=by_name)), problems


def _unreadable(line: Line, cell: Cell, *, rule: str, error: ValueError) -> Problem:
    message, _, hint = str(error).partition("; ")
    hint = hint or "write the figure as it is printed, such as -7.5 or 5.00k; or take the row out"
    return line.problem(rule, message=message, hint=hint, column=cell.column)


def _read_rows(
    raws: Sequence[RawRow], *, columns: Sequence[Column], decimal: str
) -> tuple[list[PrintedRow], list[Problem], list[str]]:
    """Settle each column by the whole of it, and return the rows, problems and remarks."""
    texts: dict[str, tuple[str, ...]] = {}
    problems: list[Problem] = []
    remarks: list[str] = []
    for column in columns:
        if column.name == "t":
            continue
        cells = [row.cells[column.name] for row in raws]
        at_c = [row.t_c for row in raws]
        texts_read = [cell.text for cell in cells]
        clear = settled(texts_read, unit=column.unit, t_c=at_c, decimal=decimal)
        texts[column.name] = clear.texts
        if clear.open_at is not None:
            cell, line = cells[clear.open_at], raws[clear.open_at].line
            problems.append(_open(line, cell, column=column))
        elif clear.flipped is not None:
            cell, line = cells[clear.flipped], raws[clear.flipped].line
            remarks.append(
                f"Line {line.number}: {cell.text} is read as {clear.texts[clear.flipped]}: "
                "the other way it would stand against its neighbours."
            )
        elif clear.thousands:
            at = clear.thousands[0]
            remarks.append(
                f"{cells[at].text} is read as {clear.texts[at]}, and so on: the whole column "
                "says that the sign stands for thousands."
            )
    rows: list[PrintedRow] = []
    if problems:
        return rows, problems, remarks
    for at, row in enumerate(raws):
        ohms = {f"{name}_ohm": column_texts[at] for name, column_texts in texts.items()}
        printed = PrintedRow(line=row.line.number, t_c=row.t_c, **ohms)
        rows.append(printed)
        problems += _between_columns(printed, line=row.line, column=row.cells["r"].column)
    return rows, problems, remarks


def _open(line: Line, cell: Cell, *, column: Column) -> Problem:
    """Say that nothing tells whether a sign is for decimals or for thousands."""
    many = in_plain(cell.text, decimal=False, unit=column.unit)
    few = in_plain(cell.text, decimal=True, unit=column.unit)
    return line.problem(
        f"{column.name}_ohm",
        message=f"'{cell.text}' could be {many} or {few}, and the rest of its column does not say",
        hint=f"write {many} or {few}, or say --decimal point or --decimal comma",
        column=cell.column,
    )


def _between_columns(row: PrintedRow, *, line: Line, column: int) -> list[Problem]:
    if row.low_ohm is None or row.high_ohm is None:
        return []
    if parse_ohm(row.low_ohm) <= parse_ohm(row.r_ohm) <= parse_ohm(row.high_ohm):
        return []
    message = f"{row.r_ohm} lies outside its low and high, {row.low_ohm} and {row.high_ohm}"
    return [line.problem("row", message=message, hint="low, nominal, high rise", column=column)]


def _repeated(rows: Sequence[PrintedRow], *, lines: Sequence[Line]) -> list[Problem]:
    line_of = {line.number: line for line in lines}
    first: dict[float, int] = {}
    problems = []
    for row in rows:
        if row.t_c in first:
            message = f"{format_plain(row.t_c)} °C stands here and on line {first[row.t_c]}"
            line = line_of[row.line]
            problems.append(line.problem("repeated", message=message, hint="keep one of the two"))
        first.setdefault(row.t_c, row.line)
    return problems


def _cells(line: str, *, separator: str) -> list[Cell]:
    """Split a line; a separator inside double quotes belongs to its cell."""
    cells, start, quoted = [], 0, False
    for i, letter in enumerate([*line, separator]):
        if letter == '"':
            quoted = not quoted
        elif (letter == separator and not quoted) or i == len(line):
            whole = line[start:i]
            bare = whole.strip().strip('"').strip()
            lead = len(whole) - len(whole.lstrip(' "'))
            cells.append(Cell(bare, start + lead + 1))
            start = i + 1
    return cells
