"""`ohmfolio sheet`: what stands, to edit and bring back; what was not touched stays as it is."""

from __future__ import annotations

import csv
import json
import shutil
from pathlib import Path

import pytest

from kb.bring.headings import BROUGHT

TOP = Path(__file__).resolve().parents[3]


def texts(notes):
    return {path: path.read_bytes() for path in (notes / "docs_data").rglob("*.yaml")}


@pytest.mark.parametrize("ending", ["csv", "xlsx"])
@pytest.mark.parametrize("kind", BROUGHT)
def test_a_sheet_brought_back_as_it_is_changes_nothing(run, notes, tmp_path, kind, ending):
    file = tmp_path / f"{kind}.{ending}"
    assert run("sheet", kind, file, "--notes", notes).exit_code == 0
    result = run("bring", file, "--notes", notes)
    assert (result.exit_code, result.output) == (0, "Nothing differs from the notes.\n")


def test_the_whole_demo_goes_out_and_comes_back(run, tmp_path):
    notes = tmp_path / "demo"
    shutil.copytree(TOP / "docs_data", notes / "docs_data")
    shutil.copytree(TOP / "content", notes / "content")
    files = [tmp_path / f"{kind}.csv" for kind in BROUGHT]
    for kind, file in zip(BROUGHT, files, strict=True):
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
