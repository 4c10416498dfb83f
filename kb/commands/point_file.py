"""A file of printed points: a data sheet's table as a spreadsheet saves it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from kb.notes.problem import Problem, nearest
from kb.numbers.notation import parse_ohm, parse_t_c
from kb.numbers.rounding import format_plain

COLUMNS = ("t_c", "r_ohm", "low_ohm", "high_ohm")
SEPARATORS = (";", "\t", ",")
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
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = raw[: error.start].count(b"\n") + 1
        told = Problem(file, line, 1, "encoding", "the file is not UTF-8 text", "save it as UTF-8")
        return [], [told]
    lines = [
        (number, line)
        for number, line in enumerate(text.splitlines(), start=1)
        if line.strip(" ;,\t") and not line.lstrip().startswith("#")
    ]
    if not lines:
        return [], [Problem(file, 1, 1, "no-points", "the file holds no points", WRITE_LIKE)]
    number, head = lines[0]
    separator = next((one for one in SEPARATORS if one in head), ",")
    names, problems = _columns(head, separator=separator, file=file, line=number)
    if problems:
        return [], problems
    rows: list[PrintedRow] = []
    for number, line in lines[1:]:
        found, wrong = _row(line, names, separator=separator, file=file, line=number)
        problems += wrong
        if found:
            rows.append(found)
    texts = dict(lines)
    problems += _between_rows(rows, texts, file=file)
    if len(rows) < 2 and not problems:
        problems.append(
            Problem(
                file,
                number,
                1,
                "no-points",
                "fewer than two points make no curve",
                "give every row of the printed table",
            )
        )
    return sorted(rows, key=lambda row: row.t_c), sorted(problems)


def _columns(head: str, *, separator: str, file: str, line: int) -> tuple[list[str], list[Problem]]:
    names, problems = [], []
    for cell in _cells(head, separator):
        name = cell.text.casefold()

        def wrong(message: str, hint: str, at: int = cell.column) -> None:
            problems.append(Problem(file, line, at, "columns", message, hint, text=head))

        if name in names:
            wrong(f"the column '{name}' stands here twice", "keep one of the two")
        elif name not in COLUMNS:
            wrong(
                f"'{cell.text}' is no column",
                WRITE_LIKE if name[:1].isdigit() or name[:1] in "+-." else nearest(name, COLUMNS),
            )
        names.append(name)
    if problems:
        return names, problems[:1] if not set(names) & set(COLUMNS) else problems
    for needed in ("t_c", "r_ohm"):
        if needed not in names:
            problems.append(
                Problem(
                    file,
                    line,
                    1,
                    "columns",
                    f"the column '{needed}' is missing",
                    WRITE_LIKE,
                    text=head,
                )
            )
    if ("low_ohm" in names) != ("high_ohm" in names):
        problems.append(
            Problem(
                file,
                line,
                1,
                "columns",
                "low_ohm and high_ohm go together",
                "give both columns, or neither",
                text=head,
            )
        )
    return names, problems


def _row(
    text: str, names: list[str], *, separator: str, file: str, line: int
) -> tuple[PrintedRow | None, list[Problem]]:
    cells = _cells(text, separator)
    while len(cells) > len(names) and not cells[-1].text:
        cells.pop()
    if len(cells) != len(names):
        hint = f"the first line names {', '.join(names)}"
        if separator == "," and len(cells) > len(names):
            hint = "with decimal commas separate the columns by semicolons, or put 7,5 in quotes"
        message = f"{len(cells)} values where {len(names)} are named"
        return None, [Problem(file, line, 1, "row", message, hint, text=text)]
    told: dict[str, object] = {}
    problems = []
    for name, cell in zip(names, cells, strict=True):
        parse: Callable[[str], float] = parse_t_c if name == "t_c" else parse_ohm
        try:
            value = parse(cell.text)
            if name != "t_c" and value <= 0:
                raise ValueError(f"'{cell.text}' is no resistance above zero")
        except ValueError as error:
            message, _, hint = str(error).partition("; ")
            problems.append(Problem(file, line, cell.column, name, message, hint, text=text))
            continue
        told[name] = value if name == "t_c" else cell.text
    if problems:
        return None, problems
    row = PrintedRow(line=line, **told)  # type: ignore[arg-type]
    if row.low_ohm is not None and not (
        parse_ohm(row.low_ohm) <= parse_ohm(row.r_ohm) <= parse_ohm(row.high_ohm or "")
    ):
        at = cells[names.index("r_ohm")].column
        message = f"{row.r_ohm} lies outside its low and high, {row.low_ohm} and {row.high_ohm}"
        return row, [Problem(file, line, at, "row", message, "low, nominal, high rise", text=text)]
    return row, []


def _between_rows(rows: list[PrintedRow], texts: dict[int, str], *, file: str) -> list[Problem]:
    first: dict[float, int] = {}
    problems = []
    for row in rows:
        if row.t_c in first:
            problems.append(
                Problem(
                    file,
                    row.line,
                    1,
                    "repeated",
                    f"{format_plain(row.t_c)} °C stands here and on line {first[row.t_c]}",
                    "keep one of the two",
                    text=texts[row.line],
                )
            )
        first.setdefault(row.t_c, row.line)
    return problems


def _cells(line: str, separator: str) -> list[Cell]:
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
