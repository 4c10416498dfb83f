"""`ohmfolio sheet`: what stands, to edit and bring back; what was not touched stays as it is."""

from __future__ import annotations

import csv
import datetime
import json
import shutil
from pathlib import Path

import pytest

from kb.bring.headings import NO_SHEET
from kb.commands.bring import KINDS_BROUGHT
from kb.model import KINDS

TOP = Path(__file__).resolve().parents[3]


def texts(notes):
    return {path: path.read_bytes() for path in (notes / "docs_data").rglob("*.yaml")}


@pytest.mark.parametrize("ending", ["csv", "xlsx"])
@pytest.mark.parametrize("kind", KINDS_BROUGHT)
def test_a_sheet_brought_back_as_it_is_changes_nothing(run, notes, tmp_path, kind, ending):
    file = tmp_path / f"{kind}.{ending}"
    assert run("sheet", kind, file, "--notes", notes).exit_code == 0
    result = run("bring", file, "--notes", notes)
    assert (result.exit_code, result.output) == (0, "Nothing differs from the notes.\n")


def test_the_whole_demo_goes_out_and_comes_back(run, tmp_path):
    notes = tmp_path / "demo"
    shutil.copytree(TOP / "docs_data", notes / "docs_data")
    shutil.copytree(TOP / "content", notes / "content")
    files = [tmp_path / f"{kind}.csv" for kind in KINDS_BROUGHT]
    for kind, file in zip(KINDS_BROUGHT, files, strict=True):
        run("sheet", kind, file, "--semicolon", "--notes", notes)
    assert run("bring", *files, "--notes", notes).output == "Nothing differs from the notes.\n"


def test_one_cell_that_was_edited_changes_one_line(run, notes, tmp_path):
    file = tmp_path / "codes.csv"
    run("sheet", "codes", file, "--notes", notes)
    rows = list(csv.reader(file.read_text("utf-8-sig").splitlines()))
    at = rows[0].index("meaning")
    row = next(row for row in rows if row[0] == "a-k4-2")
    row[at] = "Colder than any pipe: look at the plug."
    with file.open("w", encoding="utf-8", newline="") as out:
        csv.writer(out).writerows(rows)
    before = texts(notes)
    result = run("bring", file, "--yes", "--notes", notes)
    assert result.exit_code == 0, result.output
    changed = {path: raw for path, raw in texts(notes).items() if raw != before[path]}
    (path,) = changed
    gone = set(before[path].decode().splitlines()) - set(changed[path].decode().splitlines())
    assert gone == {"meaning: The suction sensor reads what no pipe can be."}
    assert b'meaning: "Colder than any pipe: look at the plug."' in changed[path]


def test_a_spreadsheet_sees_that_the_file_is_utf_8(run, notes, tmp_path):
    run("sheet", "parts", tmp_path / "p.csv", "--notes", notes)
    assert (tmp_path / "p.csv").read_bytes().startswith(b"\xef\xbb\xbf")


def test_one_family_alone(run, notes):
    rows = json.loads(
        run("sheet", "sensors", "--family", "unit-b", "--json", "--notes", notes).output
    )
    assert [row["id"] for row in rows] == ["suction-b"]
    wrong = run("sheet", "sensors", "--family", "unit-x", "--notes", notes)
    assert (wrong.exit_code, "there is no family 'unit-x'" in wrong.output) == (2, True)


def test_nothing_is_written_over(run, notes, tmp_path):
    (tmp_path / "s.csv").write_text("mine")
    result = run("sheet", "sensors", tmp_path / "s.csv", "--notes", notes)
    assert (result.exit_code, (tmp_path / "s.csv").read_text()) == (2, "mine")


def test_without_a_file_it_is_printed(run, notes):
    assert run("sheet", "sensors", "--notes", notes).output.startswith("id,name,")


def test_every_kind_has_a_sheet_or_says_why_not(run, notes):
    assert {*KINDS} <= {*KINDS_BROUGHT, *NO_SHEET}
    for kind, why in NO_SHEET.items():
        for words in (("sheet", kind, "--notes", notes), ("bring", "--columns", kind)):
            refused = run(*words)
            assert (refused.exit_code, why in refused.output) == (1, True)


def changed_by(run, notes, file, *, old: str, new: str) -> str:
    """Return the lines that differ once a sheet is brought back with other words in it."""
    text = file.read_text("utf-8-sig")
    assert text.count(old) == 1
    file.write_text(text.replace(old, new), encoding="utf-8")
    result = run("bring", file, "--yes", "--full", "--notes", notes)
    assert result.exit_code == 0, result.output
    return "\n".join(line for line in result.output.splitlines() if line[:2] in ("- ", "+ "))


def test_a_pin_that_was_moved_in_the_sheet_moves_in_its_drawing_and_comments_stay(
    run, notes, tmp_path
):
    drawing = next((notes / "docs_data/drawings").rglob("*.yaml"))
    raw = drawing.read_text().replace("pins:", "pins: # by eye")
    drawing.write_text(raw)
    file = tmp_path / "pins.csv"
    run("sheet", "drawings", file, "--notes", notes)
    row = next(line for line in file.read_text("utf-8-sig").splitlines()[1:])
    _, name, x, y, *_ = row.split(",")
    old, new = f",{name},{x},{y},", f",{name},12.5,{y},"
    lines = changed_by(run, notes, file, old=old, new=new)
    assert lines.count("\n") == 1 and "x: 12.5" in lines
    assert drawing.read_text() == raw.replace(f"{name}: {{x: {x},", f"{name}: {{x: 12.5,")


def test_a_pin_of_no_drawing_is_named_in_its_cell(run, notes, tmp_path):
    file = tmp_path / "pins.csv"
    file.write_text("drawing,pin,x,y,where\ngone,T1,10,20,Low\n,T2,1,2,High\n")
    result = run("bring", file, "--yes", "--json", "--notes", notes)
    found = json.loads(result.output)
    assert (result.exit_code, found["written"]) == (1, False)
    assert [(p["row"], p["column"], p["message"]) for p in found["problems"]] == [
        (2, 1, "there is no drawing 'gone'"),
        (3, None, "nothing says which pin of which drawing this row is"),
    ]


def test_a_law_s_parameter_and_a_job_are_changed_in_a_sheet(run, notes, tmp_path):
    file = tmp_path / "curves.csv"
    file.write_text("id,R25,B value\nntc-by-b,9.9k,\n")
    curve = {
        "name": "By B",
        "law": "beta",
        "r_ref": "10k",
        "b_k": "3435",
        "range_c": "[-20, 60]",
        "source": "bench-sheet",
    }
    path = notes / "docs_data/curves/ntc-by-b.yaml"
    path.write_text("".join(f"{key}: {value}\n" for key, value in curve.items()) + "# ours\n")
    result = run("bring", file, "--kind", "curves", "--yes", "--notes", notes)
    assert result.exit_code == 0, result.output
    assert path.read_text().replace("9.9k", "10k").splitlines()[2] == "r_ref: 10k"
    assert "# ours" in path.read_text()
    file = tmp_path / "new.csv"
    file.write_text("id,name,law,R25,B,coldest,hottest\nother,Other,beta,5k,3470,-30,50\n")
    result = run(
        "bring",
        file,
        "--kind",
        "curves",
        "--yes",
        "--every",
        "source=bench-sheet",
        "--notes",
        notes,
    )
    assert result.exit_code == 0, result.output
    assert "r_ref: 5k\n" in (notes / "docs_data/curves/other.yaml").read_text()
    jobs = tmp_path / "cases.csv"
    run("sheet", "cases", jobs, "--notes", notes)
    rows = list(csv.DictReader(jobs.read_text("utf-8-sig").splitlines()))
    assert {"on", "by", "found", "cure"} <= rows[0].keys()


def test_a_date_that_a_spreadsheet_made_is_a_job_s_day_and_nothing_else(run, notes, tmp_path):
    from openpyxl import Workbook

    book = Workbook()
    sheet = book.worksheets[0]
    sheet.append(["date", "who", "name", "found", "cause", "cure", "minutes", "family"])
    day = datetime.date(2026, 3, 1)
    sheet.append([day, "XY", "Wet plug", "It read cold.", "water", "Dried.", 30, "unit-a"])
    file = tmp_path / "cases.xlsx"
    book.save(file)
    result = run("bring", file, "--kind", "cases", "--yes", "--notes", notes)
    assert result.exit_code == 0, result.output
    assert "on: 2026-03-01\n" in (notes / "docs_data/cases/unit-a/wet-plug.yaml").read_text()
    sheet["E2"] = day
    book.save(file)
    assert run("bring", file, "--kind", "cases", "--yes", "--notes", notes).exit_code == 1
