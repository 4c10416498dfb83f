"""`ohmfolio check`: its words are pinned by the bad entries; here its JSON and where it looks."""

from __future__ import annotations

import json

from kb.model import KINDS


def test_json_holds_problems_warnings_and_counts_and_nothing_else(run, notes):
    (notes / "docs_data" / "notes.txt").write_text("x")
    path = notes / "docs_data" / "sensors" / "unit-a" / "air-a.yaml"
    path.write_text(path.read_text().replace("reach: open", "reach: opn"))
    result = run("check", "--notes", notes, "--json")
    assert result.exit_code == 1
    told = json.loads(result.output)
    assert list(told) == ["problems", "warnings", "entries"]
    assert told["problems"] == [
        {
            "file": "docs_data/sensors/unit-a/air-a.yaml",
            "line": 9,
            "column": 8,
            "rule": "unknown-word",
            "message": "'opn' is not one of the words for 'reach'",
            "hint": "did you mean 'open'?",
        }
    ]
    assert [one["rule"] for one in told["warnings"]] == ["stranger"]
    assert set(told["warnings"][0]) == set(told["problems"][0])
    assert list(told["entries"]) == list(KINDS)
    assert told["entries"]["curves"] == 9


def test_json_of_good_notes_is_empty_of_problems(run, good):
    result = run("check", "--notes", good, "--json")
    assert result.exit_code == 0
    assert json.loads(result.output)["problems"] == []


def test_a_warning_alone_does_not_fail(run, notes):
    (notes / "docs_data" / "notes.txt").write_text("x")
    result = run("check", "--notes", notes)
    assert result.exit_code == 0
    assert result.output.endswith("\nNo problem and 1 warning in 50 entries.\n")


def test_it_finds_the_nearest_notes_upward(run, notes, monkeypatch):
    monkeypatch.chdir(notes / "docs_data" / "curves")
    assert run("check").output == "No problem in 50 entries.\n"


def test_a_folder_without_notes_is_named(run, tmp_path):
    result = run("check", "--notes", tmp_path)
    assert result.exit_code == 2
    assert result.output == (
        f"Error: {tmp_path} holds no 'docs_data/'; name the folder that does\n"
    )


def test_no_notes_upward_says_how_to_begin(run, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    result = run("check")
    assert result.exit_code == 2
    assert result.output == (
        f"Error: no 'docs_data/' in {tmp_path} nor above it; go to your notes, name them with "
        "--notes DIR, or begin some with 'ohmfolio start DIR'\n"
    )
