"""`ohmfolio bring`: sheets become entries, all or nothing; every wrong cell is named at once."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from kb.check import check_notes
from kb.commands import bring as bring_module
from kb.model import Code, Sensor

SENSORS = """\
Family;Source;Label;Measures;Location;Access;Curve;min °C;max °C;Plug;Board
unit-a;bench-sheet, page 2;S1;the first pipe;Left of the box;Open;table-ten;-5;30;;
unit-a;bench-sheet;S2;the second pipe;Right, low;Behind a panel;table-ten;-4,5;30;X9;board-a
"""
CODES = """\
family,source,code,fault,cause,minutes,cause 2,minutes 2,reset,blinks,lamp
unit-a,bench-sheet,E71,First pipe,S1,5,blocked strainer,20,Off | on again,3,red lamp
unit-a,bench-sheet,071,Second pipe,S2,5,,,Off,,
"""


def sheet(folder: Path, text: str, name: str = "sensors.csv", encoding: str = "utf-8") -> Path:
    path = folder / name
    path.write_text(text, encoding=encoding)
    return path


def faults(notes):
    return [problem for problem in check_notes(notes).problems if not problem.warning]


def test_two_sheets_become_entries_that_check_accepts(run, notes, tmp_path):
    files = sheet(tmp_path, SENSORS), sheet(tmp_path, CODES, "codes.csv")
    # Codes first: they accuse sensors by labels that come with the other sheet.
    result = run("bring", files[1], files[0], "--yes", "--notes", notes)
    assert result.exit_code == 0, result.output
    assert result.output.endswith("4 new.\n4 files written. Next: ohmfolio check\n")
    assert faults(notes) == []
    read = check_notes(notes)
    sensor = read.of(Sensor)["unit-a-s2"]
    assert (sensor.reach, sensor.meets_c, sensor.plug.mark) == ("behind a panel", (-4.5, 30), "X9")
    assert read.of(Sensor)["unit-a-s1"].source[0].at == "page 2"
    code = read.of(Code)["unit-a-e71"]
    assert [way.spoken() for way in code.shown] == ["E71", "3 short"]
    assert [(s.sensor, s.what, s.share) for s in code.suspects] == [
        ("unit-a-s1", None, 1),
        (None, "blocked strainer", 1),
    ]
    assert code.clear == ["Off", "on again"]
    assert read.of(Code)["unit-a-071"].shown[0].text == "071"


def test_what_was_brought_is_not_brought_again(run, notes, tmp_path):
    files = sheet(tmp_path, SENSORS), sheet(tmp_path, CODES, "codes.csv")
    run("bring", *files, "--yes", "--notes", notes)
    again = run("bring", *files, "--notes", notes)
    assert (again.exit_code, again.output) == (0, "Nothing differs from the notes.\n")


def test_without_a_yes_nothing_is_written_where_nobody_can_be_asked(run, notes, tmp_path):
    before = {path: path.read_bytes() for path in notes.rglob("*.yaml")}
    result = run("bring", sheet(tmp_path, SENSORS), "--notes", notes)
    assert result.exit_code == 1
    assert "+ label: S1" in result.output
    assert result.output.endswith("Nothing is written yet: say --yes.\n")
    assert {path: path.read_bytes() for path in notes.rglob("*.yaml")} == before


@pytest.mark.parametrize(("agrees", "there"), [(True, True), (False, False)])
def test_at_a_terminal_it_asks_first(run, notes, tmp_path, monkeypatch, agrees, there):
    asked = []
    monkeypatch.setattr(bring_module, "at_terminal", lambda: True)
    monkeypatch.setattr(bring_module, "agreed", lambda words: asked.append(words) or agrees)
    result = run("bring", sheet(tmp_path, SENSORS), "--notes", notes)
    assert asked == ["Write 2 files?"]
    assert result.exit_code == (0 if agrees else 1)
    assert (notes / "docs_data/sensors/unit-a/unit-a-s1.yaml").is_file() == there


def test_every_wrong_cell_is_named_at_once_by_sheet_row_and_column(run, notes, tmp_path):
    text = (
        "Our sensors;;\n"
        "label;measures;place;reach;curve;coldest;hottest;family;source;Our remark\n"
        "S1;x;y;opne;table-tne;-5;30;unit-a;bench-sheet;1\n"
        "S2;x;y;open;table-tne;-5;30;unit-a;bench-sheet;2\n"
        "S3;x;y;open;table-ten;30;-5;unit-a;Yellow sheet;3\n"
        "S4;;y;open;table-ten;-5;;unit-a;bench-sheet;4\n"
        "S2;x;y;open;table-ten;-5;30;unit-a;bench-sheet;5\n"
        ";x;y;open;table-ten;-5;30;unit-a;bench-sheet;6\n"
    )
    result = run("bring", sheet(tmp_path, text), "--notes", notes)
    assert result.exit_code == 1
    assert result.output == (
        "sensors.csv, row 3, column D 'reach': unknown-word: 'opne' is not one of the words for "
        "'reach'\n"
        "    hint: did you mean 'open'?\n\n"
        "sensors.csv, row 3, column E 'curve': unknown-id: there is no curve 'table-tne'\n"
        "    hint: did you mean 'table-ten'? If not, its file is missing: "
        "docs_data/curves/table-tne.yaml\n\n"
        "sensors.csv, row 4, column E 'curve': unknown-id: there is no curve 'table-tne'\n"
        "    hint: did you mean 'table-ten'? If not, its file is missing: "
        "docs_data/curves/table-tne.yaml\n\n"
        "sensors.csv, row 5, column I 'source': cell: 'Yellow sheet' is no source's id\n"
        "    hint: write the id, or the id, a comma and the place: maker-sheet, page 4\n\n"
        "sensors.csv, row 6: missing-key: 'senses' is missing\n"
        "    hint: What it measures: suction pipe, return air…\n\n"
        "sensors.csv, row 6, column F 'coldest': wrong-shape: 'meets_c' should be a pair such as "
        "[low, high]\n"
        "    -5\n"
        "    hint: give both, the lowest and the highest\n\n"
        "sensors.csv, row 7: same-id: this row is 'unit-a-s2', and so is row 4\n"
        "    hint: keep one of the two, or give one an id of its own\n\n"
        "sensors.csv, row 8: row: nothing says which entry this row is\n"
        "    hint: fill 'id', or its label or mark\n\n"
        "Mind: Left out: sensors.csv, row 2, column J 'Our remark', which is no field of\n"
        "a sensor.\n\n"
        "8 problems. Nothing was written.\n"
    )
    assert not (notes / "docs_data/sensors/unit-a/unit-a-s2.yaml").exists()


def test_rules_between_entries_are_named_at_the_cell_too(run, notes, tmp_path):
    text = SENSORS.replace(";S1;", ";T2;").replace("-4,5;30", "-40;30")
    result = run("bring", sheet(tmp_path, text), "--notes", notes)
    assert result.exit_code == 1
    assert "sensors.csv, row 3, column H 'min °C': curve-too-short: " in result.output
    assert "Nothing was written." in result.output


def test_a_column_with_a_slip_is_asked_about_and_its_rows_are_not(run, notes, tmp_path):
    result = run("bring", sheet(tmp_path, SENSORS.replace("Measures", "Measurs")), "--notes", notes)
    assert result.output == (
        "sensors.csv, row 1, column D 'Measurs': column: there is no column 'Measurs'\n"
        "    hint: did you mean 'measures'? See ohmfolio bring --columns sensors\n\n"
        "1 problem. Nothing was written.\n"
    )


@pytest.mark.parametrize("number", ["201", "2147483647", "9" * 5000])
def test_an_item_that_no_list_has_is_refused_at_once(run, notes, tmp_path, number):
    text = CODES.replace("cause 2", f"cause {number}")
    result = run("bring", sheet(tmp_path, text, "codes.csv"), "--notes", notes)
    assert result.exit_code == 1
    assert f"'cause {number}'" in result.output
    assert "Nothing was written." in result.output


def test_one_column_twice_is_refused(run, notes, tmp_path):
    result = run("bring", sheet(tmp_path, SENSORS.replace("Location", "senses")), "--notes", notes)
    assert "'Measures' and 'senses' are the same column" in result.output


def test_a_changed_cell_changes_its_line_and_an_empty_one_nothing(run, notes, tmp_path):
    path = notes / "docs_data/sensors/unit-a/suction-a.yaml"
    path.write_text("# Ours.\n" + path.read_text().replace("reach: open", "reach: open  # easy"))
    before = path.read_text()
    text = "id,place,reach,colour,methods\nsuction-a,On the long bench.,,-,\n"
    result = run("bring", sheet(tmp_path, text), "--yes", "--notes", notes)
    assert result.exit_code == 0, result.output
    assert path.read_text() == before.replace("On the bench.", "On the long bench.").replace(
        ", colour: white", ""
    )
    assert "- place: On the bench.\n+ place: On the long bench.\n" in result.output


@pytest.mark.parametrize(
    ("name", "text", "path", "line"),
    [
        ("sensors", "family,label,place\nunit-a,T1,Over there.\n", "sensors/unit-a/suction-a", "place: Over there."),
        ("codes", "family,code,meaning\nunit-a,012,Much.\n", "codes/unit-a/a-012", "meaning: Much."),
        ("parts", "family,name,does\nunit-a,Board of unit A,Much.\n", "parts/board-a", "does: Much."),
    ],
)  # fmt: skip
def test_a_row_without_an_id_finds_its_entry_by_what_it_is_called(
    run, notes, tmp_path, name, text, path, line
):
    before = set(notes.rglob("*.yaml"))
    result = run("bring", sheet(tmp_path, text, f"{name}.csv"), "--yes", "--notes", notes)
    assert result.exit_code == 0, result.output
    assert set(notes.rglob("*.yaml")) == before
    assert f"{line}\n" in (notes / f"docs_data/{path}.yaml").read_text()


def test_a_value_for_every_row_fills_what_the_sheet_leaves_empty(run, notes, tmp_path):
    lines = ["label,senses,place,reach,healthy when,healthy reads", "S5,x,y,open,off,nothing"]
    every = ["--every", "family=unit-a", "--every", "source=bench-sheet"]
    result = run("bring", sheet(tmp_path, "\n".join(lines)), *every, "--yes", "--notes", notes)
    assert result.exit_code == 0, result.output
    codes = "code,meaning,suspect,clear,suspect 2\nE9,x,oil,Off,water\n"
    result = run(
        "bring", sheet(tmp_path, codes, "codes.csv"), *every, "--every", "minutes=7", "--yes",
        "--notes", notes,
    )  # fmt: skip
    assert result.exit_code == 0, result.output
    code = check_notes(notes).of(Code)["unit-a-e9"]
    assert [suspect.minutes for suspect in code.suspects] == [7, 7]


@pytest.mark.parametrize(
    ("every", "says"),
    [
        ("famly=unit-a", "there is no column 'famly'; did you mean 'family'?"),
        ("family", "is no COLUMN=VALUE"),
        ("source=The sheet", "is no source's id"),
    ],
)
def test_a_wrong_value_for_every_row_is_refused(run, notes, tmp_path, every, says):
    result = run("bring", sheet(tmp_path, SENSORS), "--every", every, "--notes", notes)
    assert result.exit_code == 2
    assert says in result.output


def test_a_date_that_the_spreadsheet_made_is_refused_in_a_workbook(run, notes, tmp_path):
    import datetime

    from openpyxl import Workbook

    made = Workbook()
    made.active.title = "codes"
    made.active.append(["code", "meaning", "family", "source", "suspect", "minutes", "clear"])
    day = datetime.date(2026, 7, 3)
    made.active.append([day, "x", "unit-a", "bench-sheet", "oil", 5, "Off"])
    made.save(tmp_path / "unit.xlsx")
    result = run("bring", tmp_path / "unit.xlsx", "--notes", notes)
    assert result.output == (
        "unit.xlsx, sheet codes, row 2, column A 'code': cell: the spreadsheet has made a date of "
        "what was typed: 2026-07-03\n"
        "    hint: give the column the format 'text' and type it again\n\n"
        "1 problem. Nothing was written.\n"
    )


def test_codes_that_are_numbers_in_a_workbook_are_asked_about_once(run, notes, tmp_path):
    from openpyxl import Workbook

    made = Workbook()
    made.active.title = "codes"
    made.active.append(["code", "meaning", "family", "source", "suspect", "minutes", "clear"])
    for code in (71, 72):
        made.active.append([code, f"Fault {code}.", "unit-a", "bench-sheet", "oil", 5, "Off"])
    made.save(tmp_path / "unit.xlsx")
    result = run("bring", tmp_path / "unit.xlsx", "--yes", "--notes", notes)
    assert result.exit_code == 0, result.output
    assert result.output.count("Mind: Codes stand there as numbers: one such as 012 or 1E3") == 1
    assert "- {text: 71}" in (notes / "docs_data/codes/unit-a/unit-a-71.yaml").read_text()


def test_a_broken_entry_is_not_written_over(run, notes, tmp_path):
    path = notes / "docs_data/sensors/unit-a/suction-a.yaml"
    path.write_text("name: [T1\n")
    result = run("bring", sheet(tmp_path, "id,place,label\nsuction-a,Here.,T1\n"), "--notes", notes)
    assert result.exit_code == 1
    assert "mend docs_data/sensors/unit-a/suction-a.yaml" in result.output
    assert path.read_text() == "name: [T1\n"


POINTS = "curve;Temp [°C];R [kΩ]\nours;-10;55,3\nours;0;32,7\nours;25;10,0\nours;50;3,6\n"


def test_points_become_a_curve_and_add_to_one(run, notes, tmp_path):
    table = sheet(tmp_path, POINTS + "table-ten;60;2,95\n" + "table-ten;5;22,0\n", "points.csv")
    result = run("bring", table, "--every", "source=bench-sheet", "--yes", "--notes", notes)
    assert result.exit_code == 0, result.output
    assert "  25: 10,0k\n" in (notes / "docs_data/curves/ours.yaml").read_text()
    assert (
        "  0: 27.7k\n  5: 22,0k\n  10: 17.6k\n"
        in (notes / "docs_data/curves/table-ten.yaml").read_text()
    )
    assert faults(notes) == []


def test_a_wrong_point_is_named_by_row_and_column(run, notes, tmp_path):
    table = sheet(tmp_path, POINTS.replace("32,7", "3k2x").replace("25;", "warm;"), "points.csv")
    result = run("bring", table, "--notes", notes)
    assert result.exit_code == 1
    assert "points.csv, row 3, column C 'R [kΩ]': r_ohm: '3k2x'" in result.output
    assert "points.csv, row 4, column B 'Temp [°C]': t_c: 'warm'" in result.output


def test_points_of_a_curve_that_is_no_table_are_refused(run, notes, tmp_path):
    table = sheet(tmp_path, POINTS.replace("ours", "beta-ten"), "points.csv")
    result = run("bring", table, "--notes", notes)
    assert "the curve 'beta-ten' is no table, its law is beta" in result.output


def test_the_columns_are_shown_in_80_signs_with_what_else_they_are_called(run):
    result = run("bring", "--columns", "sensors")
    assert result.exit_code == 0
    assert max(map(len, result.output.splitlines())) <= 80
    assert (
        "* label                     Its label on the machine's wiring diagram or" in result.output
    )
    assert "or: tag, designation, mark on diagram, sensor" in result.output
    as_json = json.loads(run("bring", "--columns", "points", "--json").output)
    assert [row["column"] for row in as_json if row["needed"]] == ["temperature", "resistance"]


@pytest.mark.parametrize(
    ("words", "says"), [((), "name a file"), (("nothing.csv",), "cannot be read")]
)
def test_without_a_file_it_says_what_to_name(run, notes, words, says):
    result = run("bring", *words, "--notes", notes)
    assert (result.exit_code, says in result.output) == (2, True)


def test_a_sheet_that_could_be_anything_is_asked_about(run, notes, tmp_path):
    result = run("bring", sheet(tmp_path, "a,b\n1,2\n", "x.csv"), "--notes", notes)
    assert result.exit_code == 2
    assert "nothing says what its rows are; add --kind" in result.output


def test_machines_get_what_would_be_written_and_write_with_yes(run, notes, tmp_path):
    table = sheet(tmp_path, SENSORS)
    answer = json.loads(run("bring", table, "--json", "--notes", notes).output)
    assert (answer["written"], [file["new"] for file in answer["files"]]) == (False, [True, True])
    assert json.loads(run("bring", table, "--json", "--yes", "--notes", notes).output)["written"]
    wrong = run(
        "bring", sheet(tmp_path, SENSORS.replace("Open", "Opn")), "--json", "--notes", notes
    )
    assert wrong.exit_code == 1
    (fault,) = json.loads(wrong.output)["problems"]
    assert (fault["table"], fault["row"], fault["column"], fault["header"]) == (
        "sensors.csv",
        2,
        6,
        "Access",
    )
