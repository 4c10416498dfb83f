"""Editors: what `start` writes for them, and that its ids stay those of the notes by themselves."""

from __future__ import annotations

import json
import os
import shutil

import pytest

from kb.bring import draft
from kb.editor import MODELINE, keeps_schemas
from kb.notes.folder import carried
from kb.schema import NAMES

SENSORS = ".build/schema/sensors.json"
SOURCE = ("--title", "Wall chart", "--publisher", "Us", "--year", "2020")


def ids_offered(notes, *, kind="families"):
    """Return the families that the sensors' schema offers, or what another field offers."""
    fields = json.loads((notes / SENSORS).read_text())["definitions"]["Sensor"]["properties"]
    field = {"families": "family", "curves": "curve"}[kind]
    found = fields[field]
    return found.get("enum") or found["anyOf"][0].get("enum")


@pytest.mark.parametrize("way", ["--bare", "--empty", None])
def test_every_beginning_has_schemas_settings_and_lines_that_lead_there(run, tmp_path, way):
    result = run("start", tmp_path / "ours", *([way] if way else []))
    assert result.exit_code == 0
    ours = tmp_path / "ours"
    assert sorted(path.stem for path in (ours / ".build/schema").iterdir()) == sorted(NAMES)
    assert set(json.loads((ours / ".vscode/settings.json").read_text())) == {"yaml.schemas"}
    files = sorted((ours / "docs_data").rglob("*.yaml"))
    for path in files:
        line = path.read_text(encoding="utf-8").splitlines()[0]
        assert line.startswith(MODELINE), path
        leads = (path.parent / line.removeprefix(MODELINE)).resolve()
        kind = path.relative_to(ours / "docs_data").parts[0].removesuffix(".yaml")
        assert leads == ours.resolve() / f".build/schema/{kind}.json"
    if way is None:
        assert len(files) == len(list(carried("docs_data").rglob("*.yaml")))


def test_settings_that_stand_in_a_new_repository_are_kept(run, tmp_path):
    settings = tmp_path / ".vscode" / "settings.json"
    settings.parent.mkdir()
    settings.write_text("{}\n")
    result = run("start", tmp_path, "--bare")
    assert settings.read_text() == "{}\n"
    said, line = result.output.splitlines()[-2:]
    assert said == ".vscode/settings.json is yours and was left as it is. Add this line to it:"
    assert json.loads("{" + line + "}")["yaml.schemas"][SENSORS][0] == "docs_data/sensors/**/*.yaml"


def test_a_disk_that_refuses_the_editors_files_leaves_whole_notes(run, tmp_path, monkeypatch):
    def full(folder, files):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("kb.commands.editor_files.write_folder", full)
    result = run("start", tmp_path / "ours", "--bare")
    assert result.exit_code == 0
    assert result.output.endswith(
        "Nothing for your editor was written: No space left on device; try ohmfolio schema.\n"
    )
    assert run("check", "--notes", tmp_path / "ours").exit_code == 0


def test_whatever_changes_the_entries_changes_what_an_editor_offers(run, notes, tmp_path):
    run("schema", "--notes", notes)
    added = run("add", "source", "--id", "wall-chart", "--name", "Chart", *SOURCE, "--notes", notes)
    assert added.exit_code == 0, added.output
    assert '"wall-chart"' in (notes / SENSORS).read_text()
    assert run("rename", "wall-chart", "door-chart", "--notes", notes).exit_code == 0
    text = (notes / SENSORS).read_text()
    assert '"door-chart"' in text
    assert '"wall-chart"' not in text
    assert run("remove", "door-chart", "--notes", notes).exit_code == 0
    assert '"door-chart"' not in (notes / SENSORS).read_text()


def test_check_sees_a_file_that_came_by_hand_or_by_git(run, notes):
    run("schema", "--notes", notes)
    shutil.copy(notes / "docs_data/curves/beta-ten.yaml", notes / "docs_data/curves/beta-two.yaml")
    assert "beta-two" not in ids_offered(notes, kind="curves")
    run("check", "--notes", notes)
    assert "beta-two" in ids_offered(notes, kind="curves")


def test_what_is_fresh_is_not_written_again(run, notes):
    run("schema", "--notes", notes)
    before = os.stat(notes / SENSORS).st_mtime_ns
    run("check", "--notes", notes)
    assert os.stat(notes / SENSORS).st_mtime_ns == before


def test_notes_without_schemas_get_none_and_no_line(run, notes):
    run("check", "--notes", notes)
    run("add", "source", "--id", "wall-chart", "--name", "Chart", *SOURCE, "--notes", notes)
    assert not keeps_schemas(notes)
    assert not (notes / ".build").exists()
    text = (notes / "docs_data/sources/wall-chart.yaml").read_text()
    assert not text.startswith(MODELINE)


def test_a_fresh_clone_whose_settings_ask_for_schemas_gets_them(run, notes):
    run("schema", "--notes", notes)
    shutil.rmtree(notes / ".build")
    run("check", "--notes", notes)
    assert ids_offered(notes) == ["unit-a", "unit-b"]


def test_a_disk_that_refuses_fails_no_command(run, notes, monkeypatch):
    run("schema", "--notes", notes)

    def full(folder, files):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("kb.commands.editor_files.write_folder", full)
    result = run("check", "--notes", notes)
    assert (result.output, result.exit_code) == ("No problem in 50 entries.\n", 0)


def test_what_add_writes_begins_with_the_line(run, notes):
    run("schema", "--notes", notes)
    added = run("add", "source", "--id", "wall-chart", "--name", "Chart", *SOURCE, "--notes", notes)
    assert added.exit_code == 0, added.output
    text = (notes / "docs_data/sources/wall-chart.yaml").read_text()
    assert text.startswith(f"{MODELINE}../../.build/schema/sources.json\n# A source")
    path = draft.path_for("sensors", entry_id="x", value={"family": "unit-a"})
    assert draft.with_modeline("", file=path) == f"{MODELINE}../../../{SENSORS}\n"


def test_a_sheet_that_is_brought_is_offered_and_a_case_that_comes_looks_too(run, notes, tmp_path):
    run("schema", "--notes", notes)
    sheet = tmp_path / "codes.csv"
    sheet.write_text(
        "id,name,family,source,code,display,means,clear,suspect,minutes\n"
        "a-e77,Lost,unit-a,bench-sheet,E77,board display,Nothing answers.,Isolate.,air-a,5\n"
    )
    brought = run("bring", sheet, "--kind", "codes", "--yes", "--notes", notes)
    assert brought.exit_code == 0, brought.output
    assert '"a-e77"' in (notes / ".build/schema/cases.json").read_text()
    (notes / SENSORS).unlink()
    case = tmp_path / "2026-02-04-again.yaml"
    text = (notes / "docs_data/cases/2026-02-01-suction.yaml").read_text()
    case.write_text(text.replace("2026-02-01", "2026-02-04"))
    added = run("case", "add", case, "--notes", notes)
    assert added.exit_code == 0, added.output
    assert (notes / SENSORS).is_file()
