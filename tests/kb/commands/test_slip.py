"""`ohmfolio case add` takes a slip of the team too, and `ohmfolio due` shows it until it is settled."""

from __future__ import annotations

import datetime
import json
from pathlib import Path

import pytest

from kb.check import check_notes
from tests.kb.commands.test_case_photos import sent

SLIP = """\
entry: sensors/suction-a
wrong: 'The plug is marked CN3'
better: 'CN7, as printed on the board'
by: 'AA'
on: 2026-03-01
release: '3 0123456789ab'
"""
NAME = "slip-suction-a-2026-03-01-1412"


def written(folder: Path, text: str = SLIP) -> Path:
    file = folder / f"{NAME}.yaml"
    file.write_text(text, encoding="utf-8")
    return file


def target(notes: Path) -> Path:
    return notes / f"docs_data/slips/{NAME}.yaml"


def test_a_slip_lands_among_the_slips_word_for_word_and_due_shows_it(run, notes, tmp_path):
    added = run("case", "add", written(tmp_path), "--notes", notes)
    assert (added.exit_code, added.output) == (
        0,
        f"docs_data/slips/{NAME}.yaml is in the notes: ohmfolio due shows it until it is settled.\n",
    )
    assert target(notes).read_text(encoding="utf-8") == SLIP
    assert check_notes(notes).problems == []
    shown = run("due", "--kind", "sensors", "--notes", notes).output
    today = datetime.date.today().isoformat()
    assert (
        "): Somebody of the team says that something here is wrong.\n"
        "    docs_data/sensors/unit-a/suction-a.yaml:1\n"
        "    AA on 2026-03-01: The plug is marked CN3\n"
        "    Should be: CN7, as printed on the board\n"
        f"    docs_data/slips/{NAME}.yaml: Once it is settled, add a line to it: "
        f"settled: {{by: XY, on: {today}}}\n"
    ) in shown
    assert "told by the team 1" in shown


def test_the_line_that_due_names_settles_it_and_the_slip_stays(run, notes, tmp_path):
    run("case", "add", written(tmp_path), "--notes", notes)
    shown = run("due", "--kind", "sensors", "--notes", notes).output
    line = next(line.partition("line to it: ")[2] for line in shown.splitlines() if "XY" in line)
    target(notes).write_text(f"{SLIP}{line}\n", encoding="utf-8")
    assert check_notes(notes).problems == []
    assert "told by the team" not in run("due", "--kind", "sensors", "--notes", notes).output


def test_an_entry_that_has_changed_since_is_said_to_have(run, notes, tmp_path):
    now = check_notes(notes).texts[("sensors", "suction-a")].version
    run("case", "add", written(tmp_path, f"{SLIP}version: {now}\n"), "--notes", notes)
    assert "changed since" not in run("due", "--notes", notes).output
    entry = notes / "docs_data/sensors/unit-a/suction-a.yaml"
    entry.write_text(entry.read_text(encoding="utf-8") + "# Mended.\n", encoding="utf-8")
    assert "    The entry has changed since then.\n" in run("due", "--notes", notes).output
    target(notes).unlink()
    added = run("case", "add", written(tmp_path, f"{SLIP}version: {now}\n"), "--notes", notes)
    assert added.output.endswith("suction-a.yaml: the entry has changed since then.\n")


def test_for_machines_due_gives_the_slip_and_add_its_place(run, notes, tmp_path):
    added = run("case", "add", written(tmp_path), "--notes", notes, "--json")
    file = f"docs_data/slips/{NAME}.yaml"
    assert json.loads(added.output) == {"slip": NAME, "file": file, "entry": "sensors/suction-a"}
    shown = json.loads(run("due", "--notes", notes, "--json").output)["due"]
    assert [item["slip"] for item in shown if item["reason"] == "slip"] == [
        {
            "file": file,
            "changed_since": False,
            "wrong": "The plug is marked CN3",
            "better": "CN7, as printed on the board",
            "by": "AA",
            "on": "2026-03-01",
            "release": "3 0123456789ab",
        }
    ]


@pytest.mark.parametrize(
    ("old", "new", "refused"),
    [
        ("suction-a\n", "suction-aa\n", "1:8: warning: unknown-entry: there is no sensor"),
        ("'The plug is marked CN3'", "…", "2:8: value: '…' says nothing"),
        ("'AA'", "…", "4:5: value: '…' says nothing"),
        ("The plug", "Mrs Example says the plug", "2:8: personal: 'Mrs Example' looks like"),
        ("by:", "from:", "4:1: unknown-key: "),
        ("wrong: 'The plug is marked CN3'\n", "", "1:1: missing-key: 'wrong' is missing"),
    ],
)
def test_a_slip_with_a_fault_is_refused_at_its_place_and_not_written(
    run, notes, tmp_path, old, new, refused
):
    assert old in SLIP
    added = run("case", "add", written(tmp_path, SLIP.replace(old, new)), "--notes", notes)
    assert added.exit_code == 1
    assert f"{NAME}.yaml:{refused}" in added.output
    assert added.output.endswith("Nothing was written.\n")
    assert not target(notes).exists()


def test_a_slip_without_what_is_better_is_one_too(run, notes, tmp_path):
    text = "".join(line for line in SLIP.splitlines(keepends=True) if "better" not in line)
    assert run("case", "add", written(tmp_path, text), "--notes", notes).exit_code == 0
    assert "Should be" not in run("due", "--notes", notes).output


def test_no_slip_is_written_over(run, notes, tmp_path):
    run("case", "add", written(tmp_path), "--notes", notes)
    again = run("case", "add", written(tmp_path, SLIP.replace("CN3", "CN4")), "--notes", notes)
    assert (again.exit_code, again.output) == (
        2,
        f"Error: there is a slip '{NAME}' already, and nothing is written over; "
        "give this one another name with --id\n",
    )
    assert target(notes).read_text(encoding="utf-8") == SLIP


def test_a_slip_in_a_zip_with_photos_is_refused(run, notes, tmp_path):
    added = run("case", "add", sent(tmp_path, case=SLIP), "--notes", notes)
    assert added.exit_code == 2
    assert "a slip has none; send the slip alone" in added.output
