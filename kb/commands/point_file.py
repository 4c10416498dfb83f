"""A file of printed points: a data sheet's table as a spreadsheet saves it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from kb.notes.problem import Problem, nearest
from kb.numbers.notation import parse_ohm, parse_t_c
from kb.numbers.rounding import format_plain

COLUMNS = ("t_c", "r_ohm", "low_ohm", "high_ohm")
SEPARATORS = (";", "\t", ",")
NOT_UTF_8 = ("encoding", "the file is not UTF-8 text", "save it as UTF-8")
WRITE_LIKE = "write the first line as t_c,r_ohm, or t_c;r_ohm with decimal commas"


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


def read_points(raw: bytes, *, file: str) -> tuple[list[PrintedRow], list[Problem]]:
    """Read a table of points.

    Parameters
    ----------
    raw : bytes
        A first line that names the columns, then one row a line. Separated by semicolon, tab or
        comma; with a decimal comma by semicolon or tab. Blank lines and lines that start with #
        are passed over.
    file : str
        The name to show in problems.

    Returns
    -------
    (list of PrintedRow, list of Problem)
        Rows rising in temperature; every problem at once, and no row counts when there is one.
    """
    try:
        lines = _lines(raw.decode("utf-8-sig"), file=file)
    except UnicodeDecodeError as error:
        number = raw[: error.start].count(b"\n") + 1
        return [], [Problem(file, number, 1, *NOT_UTF_8)]
    if not lines:
        return [], [Problem(file, 1, 1, "no-points", "the file holds no points", WRITE_LIKE)]
    head, *below = lines
    separator = next((sign for sign in SEPARATORS if sign in head.text), ",")
    names, problems = _columns(head, separator=separator)
    if problems:
        return [], problems
    rows: list[PrintedRow] = []
    for line in below:
        row, wrong = _row(line, names=names, separator=separator)
        problems += wrong
        if row:
            rows.append(row)
    problems += _repeated(rows, lines=lines)
    if len(rows) < 2 and not problems:
        message, hint = "fewer than two points make no curve", "give every row of the printed table"
        problems.append(Problem(file, lines[-1].number, 1, "no-points", message, hint))
    return sorted(rows, key=lambda row: row.t_c), sorted(problems)


def _lines(text: str, *, file: str) -> list[Line]:
    return [
        Line(file=file, number=number, text=line)
        for number, line in enumerate(text.splitlines(), start=1)
        if line.strip(" ;,\t") and not line.lstrip().startswith("#")
    ]


def _columns(head: Line, *, separator: str) -> tuple[list[str], list[Problem]]:
    names: list[str] = []
    problems = []
    for cell in _cells(head.text, separator=separator):
        name = cell.text.casefold()
        if name in names:
            message, hint = f"the column '{name}' stands here twice", "keep one of the two"
        else:
            message, hint = f"'{cell.text}' is no column", _column_hint(name)
        if name in names or name not in COLUMNS:
            fault = head.problem("columns", message=message, hint=hint, column=cell.column)
            problems.append(fault)
        names.append(name)
    if problems:
        return names, problems[:1] if not set(names) & set(COLUMNS) else problems
    for needed in ("t_c", "r_ohm"):
        if needed not in names:
            message = f"the column '{needed}' is missing"
            problems.append(head.problem("columns", message=message, hint=WRITE_LIKE))
    if ("low_ohm" in names) != ("high_ohm" in names):
        message, hint = "low_ohm and high_ohm go together", "give both columns, or neither"
        problems.append(head.problem("columns", message=message, hint=hint))
    return names, problems


def _column_hint(name: str) -> str:
    """Say what stands where a name was meant; a number there is a row without a first line."""
    return WRITE_LIKE if name[:1].isdigit() or name[:1] in "+-." else nearest(name, COLUMNS)


def _row(
    line: Line, *, names: Sequence[str], separator: str
) -> tuple[PrintedRow | None, list[Problem]]:
    cells = _cells(line.text, separator=separator)
    while len(cells) > len(names) and not cells[-1].text:
        cells.pop()
    if len(cells) != len(names):
        hint = f"the first line names {', '.join(names)}"
        if separator == "," and len(cells) > len(names):
            hint = "with decimal commas separate the columns by semicolons, or put 7,5 in quotes"
        message = f"{len(cells)} values where {len(names)} are named"
        return None, [line.problem("row", message=message, hint=hint)]
    by_name = dict(zip(names, cells, strict=True))
    problems = []
    for name, cell in by_name.items():
        try:
            _number(cell, name=name)
        except ValueError as error:
            message, _, hint = str(error).partition("; ")
            problems.append(line.problem(name, message=message, hint=hint, column=cell.column))
    if problems:
        return None, problems
    ohms = {name: cell.text for name, cell in by_name.items() if name != "t_c"}
    row = PrintedRow(line=line.number, t_c=_number(by_name["t_c"], name="t_c"), **ohms)
    return row, _between_columns(row, line=line, column=by_name["r_ohm"].column)


def _number(cell: Cell, *, name: str) -> float:
    if name == "t_c":
        return parse_t_c(cell.text)
    r_ohm = parse_ohm(cell.text)
    if r_ohm <= 0:
        raise ValueError(f"'{cell.text}' is no resistance above zero")
    return r_ohm


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
