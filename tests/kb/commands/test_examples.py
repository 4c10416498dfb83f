"""`ohmfolio examples`: the examples of a beginning go by one command; what is the keeper's stays."""

from __future__ import annotations

import json

from kb.examples import own_ids
from kb.notes.load import load_notes


def begun(run, folder, way="--bare"):
    run("start", folder, way)
    return folder


def entries(folder):
    return sorted(path.stem for path in (folder / "docs_data").rglob("*.yaml"))


def test_they_are_named_and_taken_out_but_those_that_something_names(run, tmp_path):
    notes = begun(run, tmp_path / "ours")
    shown = run("examples", "--notes", notes)
    assert shown.output.startswith(
        "10 examples of 'start --bare' stand here; what they say is invented:\n"
    )
    assert shown.output.endswith(
        "Out with them: ohmfolio examples --remove\n"
        "They stay, since something of yours names them; write your own figures in:\n"
        "  docs_data/instruments/our-meter.yaml\n    named by docs_data/team.yaml\n"
        "  docs_data/instruments/our-thermometer.yaml\n    named by docs_data/team.yaml\n"
        "  docs_data/sources/example-sheet.yaml\n"
        "    named by docs_data/instruments/our-thermometer.yaml\n"
    )
    removed = run("examples", "--remove", "--notes", notes)
    assert removed.exit_code == 0
    assert removed.output.startswith("10 examples removed.\n")
    assert entries(notes) == ["example-sheet", "our-meter", "our-thermometer", "team"]
    # Theirs by name, and still with invented figures.
    checked = run("check", "--notes", notes).output
    assert "examples-left: 3 invented examples" in checked
    assert checked.endswith("No problem and 1 warning in 3 entries.\n")
    assert not (notes / "docs_data/sensors").exists()
    assert run("examples", "--remove", "--notes", notes).output.startswith("Nothing to remove.")


def test_one_that_was_changed_by_hand_stays_with_what_it_names(run, tmp_path):
    notes = begun(run, tmp_path / "ours")
    sensor = notes / "docs_data/sensors/example-unit/example-suction.yaml"
    sensor.write_text(sensor.read_text().replace("T1 ", "T7 "))
    result = run("examples", "--remove", "--notes", notes)
    assert result.exit_code == 1
    assert (
        "Changed by hand, so left alone (--remove --changed-too takes them too):\n"
        "  docs_data/sensors/example-unit/example-suction.yaml\n" in result.output
    )
    assert {"example-suction", "example-10k", "example-unit", "example-board"} <= {*entries(notes)}
    assert {"example-e1", "start-here", "2026-01-15-example"}.isdisjoint(entries(notes))
    assert run("check", "--notes", notes).exit_code == 0
    assert run("examples", "--remove", "--changed-too", "--notes", notes).exit_code == 0
    assert "example-suction" not in entries(notes)


def test_one_that_an_entry_of_the_keepers_names_stays(run, tmp_path):
    notes = begun(run, tmp_path / "ours")
    text = (notes / "docs_data/sensors/example-unit/example-suction.yaml").read_text()
    mine = notes / "docs_data/sensors/example-unit/mine.yaml"
    mine.write_text(text.replace("label: T1", "label: T2").replace("CN1", "CN2"))
    run("examples", "--remove", "--notes", notes)
    assert {"mine", "example-10k", "example-board"} <= {*entries(notes)}
    # The board that mine names names the example sensor; nothing names the code.
    assert "example-e1" not in entries(notes)


def test_other_ends_of_lines_are_no_change(run, tmp_path):
    notes = begun(run, tmp_path / "ours")
    for path in (notes / "docs_data").rglob("*.yaml"):
        path.write_bytes(path.read_bytes().replace(b"\n", b"\r\n"))
    assert run("examples", "--remove", "--notes", notes).output.startswith("10 examples removed.")


def test_in_the_demo_there_is_none(run, good):
    assert run("examples", "--notes", good).output == "No example stands in these notes.\n"


def test_machines_are_told_too(run, tmp_path):
    notes = begun(run, tmp_path / "ours")
    answer = json.loads(run("examples", "--remove", "--json", "--notes", notes).output)
    assert len(answer["removed"]) == 10
    assert answer["left"][0]["named_by"] == ["docs_data/team.yaml"]


def test_notes_can_begin_empty(run, tmp_path):
    notes = begun(run, tmp_path / "ours", "--empty")
    assert entries(notes) == ["example-sheet", "our-meter", "our-thermometer", "team"]
    # Theirs by name, and still with invented figures.
    checked = run("check", "--notes", notes).output
    assert "examples-left: 3 invented examples" in checked
    assert checked.endswith("No problem and 1 warning in 3 entries.\n")
    assert own_ids(load_notes(notes), kind="sources") == []
    assert run("start", tmp_path / "two", "--empty", "--bare").exit_code == 2


def test_changed_too_alone_takes_nothing(run, tmp_path):
    notes = begun(run, tmp_path / "ours")
    assert run("examples", "--changed-too", "--notes", notes).exit_code == 2
    assert len(entries(notes)) == 14
