"""A sheet is read however it was saved; what could be read two ways is asked."""

from __future__ import annotations

import datetime
import io

import pytest
from openpyxl import Workbook

from kb.bring import table_file
from kb.bring.table_file import CannotRead, column_letter, read_tables
from kb.bring.workbook import workbook_bytes

TEXT = "Label;Senses\nT1;Außenluft\nT2;Kälte\n"


def cells(raw, file="sensors.csv", **options):
    (table,) = read_tables(raw, file=file, **options)
    return [[cell.text for cell in row] for _, row in table.rows]


@pytest.mark.parametrize(
    "encoding", ["utf-8", "utf-8-sig", "utf-16", "utf-16-le", "utf-16-be", "cp1252"]
)
def test_each_way_of_saving_gives_the_same_words(encoding):
    assert cells(TEXT.encode(encoding))[1] == ["T1", "Außenluft"]


def test_what_is_read_as_windows_text_is_said_with_a_word_of_it():
    (table,) = read_tables(TEXT.encode("cp1252"), file="s.csv")
    assert table.remarks == ("s.csv is read as Windows text (cp1252): 'Außenluft'. Is that right?",)


def test_an_older_encoding_is_asked_about_with_both_readings():
    with pytest.raises(CannotRead) as error:
        cells("Label;Senses\nT1;Kälte\n".encode("cp850"))
    assert str(error.value) == (
        "sensors.csv is not UTF-8, and 'K„lte' could be 'Kälte'; say --encoding cp1252 or "
        "--encoding cp850, or save it as UTF-8"
    )
    assert cells("T1;Kälte\n".encode("cp850"), encoding="cp850") == [["T1", "Kälte"]]


@pytest.mark.parametrize("sign", [",", ";", "\t"])
def test_commas_semicolons_and_tabs_are_told_apart(sign):
    text = f'a{sign}b{sign}c\n1{sign}"2,5; x"{sign}3\n'
    assert cells(text.encode())[1] == ["1", "2,5; x", "3"]


def test_the_line_that_names_the_separator_is_no_row_and_the_numbers_stay():
    (table,) = read_tables(b"sep=;\na;b\n1,5;2\n", file="s.csv")
    assert [number for number, _ in table.rows] == [2, 3]


def test_blank_rows_and_comments_are_passed_over_and_counted():
    (table,) = read_tables(b"a,b\n\n,,\n# ours\n1,2\n", file="s.csv")
    assert [number for number, _ in table.rows] == [1, 5]


def workbook(rows, **formats):
    made = Workbook()
    sheet = made.active
    sheet.title = "Sensors"
    for row in rows:
        sheet.append(row)
    for place, style in formats.items():
        sheet[place].number_format = style
    raw = io.BytesIO()
    made.save(raw)
    return raw.getvalue()


def test_a_workbook_gives_numbers_as_it_shows_them():
    raw = workbook(
        [["code", "share", "on"], [12, 0.015, datetime.date(2026, 3, 1)], [3.0, True, "#N/A"]],
        A2="000",
        B2="0.0%",
    )
    (table,) = read_tables(raw, file="x.xlsx")
    assert table.label == "x.xlsx, sheet Sensors"
    assert [[(c.text, c.what) for c in row] for _, row in table.rows[1:]] == [
        [("012", "number"), ("1.5", "number"), ("2026-03-01", "date")],
        [("3", "number"), ("yes", "text"), ("#N/A", "error")],
    ]


def test_a_workbook_that_we_wrote_keeps_every_text_and_every_byte():
    head, rows = ["code", "reach"], [["012", "open"], ["1E3", ""], ["3-7", "built in"], ["=a", "x"]]
    raw = workbook_bytes(head, rows=rows, name="codes", choices={1: ("open", "built in")})
    assert cells(raw, file="c.xlsx") == [head, *rows]
    assert raw == workbook_bytes(head, rows=rows, name="codes", choices={1: ("open", "built in")})


def test_without_its_library_a_workbook_is_refused_with_what_to_do(monkeypatch):
    monkeypatch.setitem(__import__("sys").modules, "openpyxl", None)
    with pytest.raises(CannotRead, match=r"reading \.xlsx needs one more library") as error:
        cells(b"PK\x03\x04", file="x.xlsx")
    assert "or save the sheet as CSV" in str(error.value)


@pytest.mark.parametrize(
    ("raw", "file", "says"),
    [
        (b"", "s.csv", "holds no rows"),
        (b"PK\x03\x04 torn", "s.xlsx", "is no workbook"),
        (b"a,b", "s.ods", "of another kind"),
        (b"\xd0\xcf\x11\xe0", "s.csv", "of another kind"),
        (b"a;b\n" * (table_file.MOST_ROWS + 2), "s.csv", "more than 20000 rows"),
        (
            b"a;" * 1_001 + b"\nb;c\n",
            "s.csv",
            "a row of 1001 cells, and no sheet of notes has more",
        ),
    ],
)
def test_what_is_no_sheet_is_refused_with_the_reason(raw, file, says):
    with pytest.raises(CannotRead, match=says):
        read_tables(raw, file=file)


def test_columns_have_the_letters_of_a_spreadsheet():
    assert [column_letter(i) for i in (0, 25, 26, 27, 51, 52, 701, 702)] == [
        "A",
        "Z",
        "AA",
        "AB",
        "AZ",
        "BA",
        "ZZ",
        "AAA",
    ]
