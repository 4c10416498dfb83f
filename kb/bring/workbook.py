"""Write a sheet as a workbook: cells as text, so that 012 stays 012, choices to pick from."""

from __future__ import annotations

import datetime
import io
import zipfile
from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

from .table_file import WITHOUT_LIBRARY, CannotRead, column_letter

if TYPE_CHECKING:
    from openpyxl.worksheet.worksheet import Worksheet

WIDEST = 40
MADE = datetime.datetime(2000, 1, 1)
"""What the file says of when it was made: the same notes give the same bytes."""


def workbook_bytes(
    head: Sequence[str],
    *,
    rows: Sequence[Sequence[str]],
    name: str,
    choices: Mapping[int, Sequence[str]],
) -> bytes:
    """Return a workbook of one sheet.

    Parameters
    ----------
    head : sequence of str
        The columns' names.
    rows : sequence of sequence of str
    name : str
        Of the sheet.
    choices : mapping
        Column, from 0 → the words to pick from.

    Raises
    ------
    CannotRead
        Without the library for it.
    """
    try:
        from openpyxl import Workbook
        from openpyxl.worksheet.datavalidation import DataValidation
    except ImportError:
        raise CannotRead(WITHOUT_LIBRARY) from None
    workbook = Workbook()
    workbook.properties.created = workbook.properties.modified = MADE
    sheet = workbook.worksheets[0]
    sheet.title = name
    for number, row in enumerate([head, *rows], start=1):
        _fill(sheet, row=number, texts=row)
    for index in range(len(head)):
        widest = max((len(row[index]) for row in [head, *rows]), default=0)
        sheet.column_dimensions[column_letter(index)].width = min(widest + 2, WIDEST)
    for index, words in choices.items():
        picked = DataValidation(type="list", formula1=f'"{",".join(words)}"', allow_blank=True)
        letter = column_letter(index)
        picked.add(f"{letter}2:{letter}1000")
        sheet.add_data_validation(picked)
    sheet.freeze_panes = "B2"
    made = io.BytesIO()
    workbook.save(made)
    return _without_clock(made.getvalue())


def _fill(sheet: Worksheet, *, row: int, texts: Sequence[str]) -> None:
    """Write a row as texts; the first is the head."""
    from openpyxl.styles import Alignment, Font

    for column, text in enumerate(texts, start=1):
        cell = sheet.cell(row=row, column=column)
        cell.number_format = "@"
        cell.value = text or None
        # A text that begins with = is no formula here.
        cell.data_type = "s" if text else "n"
        cell.alignment = Alignment(vertical="top", wrap_text=row > 1)
        if row == 1:
            cell.font = Font(bold=True)


def _without_clock(raw: bytes) -> bytes:
    """Return the same workbook without the hour at which it was packed."""
    made = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(raw)) as packed, zipfile.ZipFile(made, "w") as bare:
        for entry in packed.infolist():
            fixed = zipfile.ZipInfo(entry.filename, date_time=(2000, 1, 1, 0, 0, 0))
            fixed.compress_type = zipfile.ZIP_DEFLATED
            bare.writestr(fixed, packed.read(entry))
    return made.getvalue()
