"""`ohmfolio start`: notes that check accepts at once, in a new folder or none."""

from __future__ import annotations

import os
import subprocess

import pytest

from kb import writer
from kb.model import KINDS
from kb.notes.folder import carried
from kb.notes.load import load_notes


def files_in(folder):
    return sorted(
        path.relative_to(folder).as_posix() for path in folder.rglob("*") if path.is_file()
    )


def test_bare_notes_hold_one_of_each_kind_and_no_problem_but_that_they_are_invented(run, tmp_path):
    result = run("start", tmp_path / "ours", "--bare")
    assert result.exit_code == 0
    notes = load_notes(tmp_path / "ours")
    assert all(notes.of_kind(kind) for kind in KINDS)
    checked = run("check", "--notes", tmp_path / "ours")
    assert checked.output == (
        "docs_data/sources/example-sheet.yaml:1:1: warning: examples-left: 13 invented examples of "
        "'ohmfolio start' are left: example-sheet, example-unit, example-10k, example-suction and 9 "
        "more\n    hint: write over them; those that nothing of yours names go by ohmfolio examples --remove\n\n"
        "No problem and 1 warning in 13 entries.\n"
    )


def test_an_example_that_was_written_over_is_an_example_no_more(run, tmp_path):
    run("start", tmp_path / "ours", "--bare")
    curve = tmp_path / "ours/docs_data/curves/example-10k.yaml"
    curve.write_text(curve.read_text().replace("# ", "#  "))
    assert ": 13 invented examples" in run("check", "--notes", tmp_path / "ours").output
    curve.write_text(curve.read_text().replace("name: ", "name: Our "))
    assert ": 12 invented examples" in run("check", "--notes", tmp_path / "ours").output


def test_bare_notes_explain_themselves(tmp_path, run):
    run("start", tmp_path / "ours", "--bare")
    for path in (tmp_path / "ours").rglob("*.yaml"):
        assert "#" in path.read_text() or path.stem == "our-thermometer", path


def test_the_demo_is_copied_whole_and_has_no_problem(run, tmp_path):
    assert run("start", tmp_path / "ours").exit_code == 0
    for name in ("docs_data", "content"):
        assert files_in(tmp_path / "ours" / name) == [
            one for one in files_in(carried(name)) if "/." not in f"/{one}"
        ]
    checked = run("check", "--notes", tmp_path / "ours")
    assert checked.output.startswith(
        "docs_data/team.yaml:2:1: warning: examples-left: these notes began as the demo: its "
        "contractor, machines, codes and jobs are invented\n"
    )
    team = tmp_path / "ours/docs_data/team.yaml"
    modeline, demo, text = team.read_text().split("\n", 2)
    team.write_text(f"{modeline}\n{text}")
    assert demo.startswith("# Begun from the demo")
    assert text == (carried("docs_data") / "team.yaml").read_text()
    checked = run("check", "--notes", tmp_path / "ours")
    assert (checked.output, checked.exit_code) == ("No problem in 382 entries.\n", 0)


def test_it_says_what_to_do_next(run, tmp_path):
    result = run("start", tmp_path / "ours", "--bare")
    assert result.output == (
        f"15 files in {tmp_path / 'ours'}: one commented example of each kind.\n"
        "Next:\n"
        f"  cd {tmp_path / 'ours'}\n"
        "  ohmfolio check       what is wrong with the notes\n"
        "  ohmfolio build       makes site/, to open in a browser or put on a host\n"
        "  ohmfolio examples    which examples still stand; --remove takes them out\n"
        "Begin with docs_data/team.yaml and content/safety.md: whose notes these are, and your "
        "rules of safety.\n"
        "Your editor completes and checks while you type: .vscode/settings.json, .build/schema/.\n"
    )


def test_an_empty_folder_is_filled_where_it_stands(run, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    before = os.stat(".").st_ino
    result = run("start", ".", "--bare")
    assert result.exit_code == 0
    assert "cd " not in result.output
    assert os.stat(".").st_ino == before
    assert sorted(path.name for path in tmp_path.iterdir()) == [
        ".build",
        ".gitignore",
        ".vscode",
        "content",
        "docs_data",
    ]


def test_a_new_repository_is_filled_and_what_stands_in_it_is_left_alone(run, tmp_path):
    (tmp_path / ".git").mkdir()
    (tmp_path / ".git" / "config").write_text("theirs")
    for name in (".gitignore", "LICENSE", "README.md"):
        (tmp_path / name).write_text("mine")
    result = run("start", tmp_path, "--bare")
    assert result.exit_code == 0
    assert result.output.startswith(f"15 files in {tmp_path}: one commented example")
    assert {(tmp_path / name).read_text() for name in (".gitignore", "LICENSE", "README.md")} == {
        "mine"
    }
    assert files_in(tmp_path / ".git") == ["config"]
    assert run("check", "--notes", tmp_path).exit_code == 0


@pytest.mark.parametrize("folder", ["new", "empty"])
def test_what_commands_make_is_not_kept_with_the_notes(run, tmp_path, folder):
    notes = tmp_path / folder
    if folder == "empty":
        notes.mkdir()
    run("start", notes, "--bare")
    subprocess.run(["git", "init", "-q", notes], check=True)
    made = [".build/lock", "site/index.html", "pocket/a.html", "release-12.zip"]
    kept = ["docs_data/team.yaml", "content/safety.md", ".vscode/settings.json", ".gitignore"]
    for path in [*made, *kept]:
        (notes / path).parent.mkdir(exist_ok=True)
        (notes / path).touch()
    status = ["git", "-C", notes, "status", "--porcelain", "-uall"]
    seen = subprocess.run(status, check=True, capture_output=True, text=True).stdout
    listed = {line[3:] for line in seen.splitlines()}
    assert listed.isdisjoint(made)
    assert listed.issuperset(kept)


def test_no_name_at_all_fills_nothing(run, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    result = run("start", "", "--bare")
    assert result.exit_code == 2
    assert result.output.endswith(
        "Error: Invalid value for 'DIR': the name is empty; name a folder, such as our-notes\n"
    )
    assert list(tmp_path.iterdir()) == []


def test_the_home_folder_is_found_in_a_quoted_name(run, tmp_path, monkeypatch):
    monkeypatch.setenv("HOME", str(tmp_path))
    monkeypatch.chdir(tmp_path)
    assert run("start", "~/ours", "--bare").exit_code == 0
    assert [path.name for path in tmp_path.iterdir()] == ["ours"]


@pytest.mark.parametrize("there", ["mine.txt", ".hidden", "README"])
def test_a_folder_that_is_not_empty_is_left_alone(run, tmp_path, there):
    (tmp_path / there).write_text("mine")
    (tmp_path / "mine.txt").write_text("mine")
    result = run("start", tmp_path)
    assert result.exit_code == 2
    assert result.output == (
        f"Error: {tmp_path} is not an empty folder, and nothing is ever written over; "
        "name a new one\n"
    )
    assert {path.name for path in tmp_path.iterdir()} == {there, "mine.txt"}


@pytest.mark.parametrize("stands", [True, False])
def test_a_disk_that_fills_up_leaves_nothing(run, tmp_path, monkeypatch, stands):
    target = tmp_path / "ours"
    if stands:
        target.mkdir()
    copied = []

    write = writer.write_if_changed

    def full(path, content):
        copied.append(path)
        if len(copied) == 5:
            raise OSError(28, "No space left on device")
        write(path, content)

    monkeypatch.setattr(writer, "write_if_changed", full)
    result = run("start", target, "--bare")
    assert result.exit_code == 1
    assert result.output == (
        f"Error: {target} could not be filled: No space left on device; nothing was left there\n"
    )
    assert list(tmp_path.rglob("*")) == ([target] if stands else [])


def test_a_second_rename_that_fails_undoes_the_first(run, tmp_path, monkeypatch):
    rename, renamed = os.rename, []

    def once(old, new):
        renamed.append(new)
        if len(renamed) == 2:
            raise OSError(5, "Input/output error")
        rename(old, new)

    monkeypatch.setattr(writer.os, "rename", once)
    assert run("start", tmp_path, "--bare").exit_code == 1
    assert list(tmp_path.iterdir()) == []
