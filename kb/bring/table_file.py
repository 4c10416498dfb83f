"""Read a file of cells: CSV however it was saved, or a workbook; each cell with what it was."""

from __future__ import annotations

import codecs
import csv
import datetime
import io
import re
import zipfile
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Literal

What = Literal["text", "number", "date", "error"]
SEPARATORS = (";", "\t", ",")
CALLED = {";": "semicolons", "\t": "tabs", ",": "commas"}
MOST_ROWS = 20_000
"""More is no sheet of a contractor's notes: then a wrong file was named."""
MOST_COLUMNS = 1_000
"""A cell by cell search for what each heading may mean must end."""
MOST_UNPACKED = 40_000_000
"""Bytes of a workbook, unpacked: each becomes thirty of memory, and a small file may hold any."""
WITHOUT_LIBRARY = (
    "reading .xlsx needs one more library: in the folder where the program is, run "
    ".venv/bin/pip install 'openpyxl>=3.1,<4'; or save the sheet as CSV"
)

# Signs that cp1252 has for bytes which the older code pages of the console have for letters.
_ODD_IN_A_WORD = re.compile(r"(?<=[A-Za-z])[„”‚ƒ…†‡ˆ‰‹¢£¤¥](?=[A-Za-z])")


class CannotRead(Exception):
    """A file that is no sheet, or could be read in two ways."""


@dataclass(frozen=True, kw_only=True)
class Cell:
    """What stands in a cell, as text, and what the spreadsheet took it for."""

    text: str
    what: What = "text"


@dataclass(frozen=True, kw_only=True)
class Table:
    """One sheet.

    Parameters
    ----------
    label : str
        The file, and in a workbook the sheet.
    name : str
        The sheet's name, or the file's without its ending.
    rows : tuple
        Number of a row, from 1, and its cells; empty rows are left out.
    remarks : tuple of str
        How it was read, where that is not a matter of course.
    """

    label: str
    name: str
    rows: tuple[tuple[int, tuple[Cell, ...]], ...]
    remarks: tuple[str, ...] = ()


def read_tables(raw: bytes, *, file: str, encoding: str = "") -> list[Table]:
    """Return every sheet of a file that holds anything.

    Parameters
    ----------
    raw : bytes
    file : str
        Its name; the ending decides whether it is a workbook.
    encoding : str
        Of a CSV file; empty where the bytes tell.

    Raises
    ------
    CannotRead
        With what would work.
    """
    if raw.startswith(b"PK\x03\x04") or file.lower().endswith((".xlsx", ".xlsm")):
        tables = _workbook(raw, file=file)
    elif file.lower().endswith((".xls", ".ods", ".numbers")) or raw.startswith(b"\xd0\xcf\x11\xe0"):
        raise CannotRead(f"{file} is a spreadsheet of another kind; save it as .xlsx or CSV")
    else:
        tables = [_csv_table(raw, file=file, encoding=encoding)]
    tables = [table for table in tables if table.rows]
    if not tables:
        raise CannotRead(f"{file} holds no rows")
    for table in tables:
        count = max(sum(bool(cell.text) for cell in cells) for _, cells in table.rows)
        if count > MOST_COLUMNS:
            raise CannotRead(
                f"{table.label} has a row of {count} cells, and no sheet of notes has more than "
                f"{MOST_COLUMNS}; is it the right file?"
            )
    return tables


def decode(raw: bytes, *, file: str, encoding: str = "") -> tuple[str, str]:
    """Return the text of a CSV file, and a remark where its encoding is an inference."""
    if encoding:
        try:
            return raw.decode(encoding).removeprefix("\ufeff"), ""
        except (LookupError, UnicodeError):
            raise CannotRead(f"{file} cannot be read as {encoding}") from None
    if raw.startswith((codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)):
        return raw.decode("utf-16", errors="replace"), ""
    if len(raw) >= 4 and raw[:200].count(0) * 3 >= len(raw[:200]):
        ending = "utf-16-le" if raw[1:200:2].count(0) > raw[0:200:2].count(0) else "utf-16-be"
        return raw.decode(ending, errors="replace"), ""
    try:
        return raw.decode("utf-8-sig"), ""
    except UnicodeDecodeError as error:
        return _windows(raw, file=file, at=error.start)


def _windows(raw: bytes, *, file: str, at: int) -> tuple[str, str]:
    """Read the encoding of Windows, unless a word then looks like an older one."""
    text = raw.decode("cp1252", errors="replace")
    odd = _ODD_IN_A_WORD.search(text) or re.search("\ufffd", text)
    if odd:
        older = raw.decode("cp850", errors="replace")
        raise CannotRead(
            f"{file} is not UTF-8, and '{_word(text, odd.start())}' could be "
            f"'{_word(older, odd.start())}'; say --encoding cp1252 or --encoding cp850, or save it "
            "as UTF-8"
        )
    # A word of the trade shows better than a sign whether it is read right.
    letter = re.search(r"[^\W\d_a-zA-Z]", text)
    at = letter.start() if letter else at
    return text, f"{file} is read as Windows text (cp1252): '{_word(text, at)}'. Is that right?"


def _word(text: str, at: int) -> str:
    start = max(text.rfind(sign, 0, at) for sign in " ;,\t\n\"'") + 1
    end = min(found for sign in " ;,\t\n\r\"'" if (found := (text + sign).find(sign, at)) >= 0)
    return text[start:end]


def _csv_table(raw: bytes, *, file: str, encoding: str) -> Table:
    text, remark = decode(raw, file=file, encoding=encoding)
    if "\x00" in text:
        raise CannotRead(f"{file} is no text; save the sheet as CSV or .xlsx")
    first, _, rest = text.partition("\n")
    named = re.fullmatch(r"sep=(.)\s*", first)
    separator = named[1] if named else separator_of(text)
    if named:
        # The line is a row of the file, so that numbers stay right.
        text = "\n" + rest
    rows = []
    for number, cells in enumerate(_csv_rows(text, separator=separator, file=file), start=1):
        if any(cell.strip() for cell in cells) and not cells[0].lstrip().startswith("#"):
            rows.append((number, tuple(Cell(text=cell.strip()) for cell in cells)))
        if number > MOST_ROWS:
            raise CannotRead(f"{file} has more than {MOST_ROWS} rows; is it the right file?")
    name = re.sub(r"\.\w+$", "", file.replace("\\", "/").rpartition("/")[2])
    return Table(label=file, name=name, rows=tuple(rows), remarks=(remark,) if remark else ())


def _csv_rows(text: str, *, separator: str, file: str) -> Iterator[list[str]]:
    # A lone carriage return ends a row too: so older Macs wrote them, and some programs still do.
    lines = re.sub(r"\r\n?", "\n", text)
    try:
        yield from csv.reader(io.StringIO(lines), delimiter=separator)
    except csv.Error as error:
        raise CannotRead(f"{file} is no table that can be read ({error})") from None


def separator_of(text: str) -> str:
    """Return what separates the columns: what the first row has most of outside quotes."""
    lines = (line for line in text.splitlines() if line.strip(" ;,\t") and line[0] != "#")
    bare = re.sub(r'"[^"]*"', "", next(lines, ""))
    return max(SEPARATORS, key=lambda sign: (bare.count(sign), -SEPARATORS.index(sign)))


def _workbook(raw: bytes, *, file: str) -> list[Table]:
    try:
        import openpyxl
    except ImportError:
        raise CannotRead(WITHOUT_LIBRARY) from None
    try:
        with zipfile.ZipFile(io.BytesIO(raw)) as packed:
            # No reader takes more out of a zip than its list says.
            long = sum(member.file_size for member in packed.infolist()) > MOST_UNPACKED
        if long:
            raise ValueError("it unpacks to more than any sheet of a contractor's")
        workbook = openpyxl.load_workbook(io.BytesIO(raw), data_only=True)
    # It is somebody else's, and its reader raises whatever it trips over.
    except Exception as error:
        raise CannotRead(f"{file} is no workbook that can be read ({error})") from None
    tables = []
    for sheet in workbook.worksheets:
        if sheet.sheet_state == "visible" and (sheet.max_row or 0) <= MOST_ROWS:
            rows = tuple(_sheet_rows(sheet.iter_rows()))
            label = f"{file}, sheet {sheet.title}"
            tables.append(Table(label=label, name=str(sheet.title), rows=rows))
    return tables


def _sheet_rows(rows: Iterator[Sequence[object]]) -> Iterator[tuple[int, tuple[Cell, ...]]]:
    for number, cells in enumerate(rows, start=1):
        read = tuple(
            _workbook_cell(getattr(cell, "value", None), style=getattr(cell, "number_format", ""))
            for cell in cells
        )
        if any(cell.text for cell in read) and not read[0].text.startswith("# "):
            yield number, read


def _workbook_cell(value: object, *, style: str) -> Cell:
    if value is None:
        return Cell(text="")
    if isinstance(value, bool):
        return Cell(text="yes" if value else "no")
    if isinstance(value, datetime.datetime | datetime.date):
        day = value.date() if isinstance(value, datetime.datetime) else value
        return Cell(text=day.isoformat(), what="date")
    if isinstance(value, int | float):
        return Cell(text=_number_text(value, style=style), what="number")
    text = str(value).strip()
    return Cell(text=text, what="error" if re.fullmatch(r"#[A-Z/0!?]+", text) else "text")


def _number_text(value: float, *, style: str) -> str:
    """Return a number as the sheet shows it where that says more: `012`, `1 %`."""
    if style.endswith("%"):
        value = round(value * 100, 10)
    whole = isinstance(value, int) or float(value).is_integer()
    text = str(int(value)) if whole else repr(round(float(value), 12))
    return text.zfill(len(style)) if re.fullmatch("0+", style) else text


def column_letter(index: int) -> str:
    """Return the letter of a column, from 0: A, B, … Z, AA."""
    letters = ""
    index += 1
    while index:
        index, rest = divmod(index - 1, 26)
        letters = chr(ord("A") + rest) + letters
    return letters
