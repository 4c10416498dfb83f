"""`ohmfolio case add` puts a sound case into the notes, and writes nothing of a faulty one."""

from __future__ import annotations

import json
import re
from pathlib import Path

from kb.check import check_notes
from kb.model import Case, Code
from kb.suspects import rank_suspects

CASE = """\
name: 'K4-2: suction sensor open'
on: 2026-03-01
by: 'AA'
family: unit-a
code: a-k4-2
found: 'Over range at the plug.'
readings:
- {sensor: suction-a, r: 'OL', t_c: 7, how: strapped, meter: bench-meter, thermometer: bench-probe}
cause: {sensor: suction-a}
cure: 'A new sensor.'
minutes: 40
"""


def _written(folder: Path, text: str, name: str = "a-k4-2-2026-03-01.yaml") -> Path:
    file = folder / name
    file.write_text(text, encoding="utf-8")
    return file


def test_a_sound_case_lands_in_its_familys_folder_and_the_counts_are_told(run, notes, tmp_path):
    told = run("case", "add", _written(tmp_path, CASE), "--notes", notes)
    assert told.exit_code == 0
    assert told.output == (
        "docs_data/cases/unit-a/a-k4-2-2026-03-01.yaml is in the notes.\n"
        "K4-2 now has 2 past jobs here, 2 of them with this cause. Build, and the shares follow.\n"
    )
    target = notes / "docs_data/cases/unit-a/a-k4-2-2026-03-01.yaml"
    assert target.read_text(encoding="utf-8") == CASE
    assert not [one for one in check_notes(notes).problems if not one.warning]


def test_the_share_of_its_cause_rises(run, notes, tmp_path):
    def share() -> float:
        checked = check_notes(notes)
        ranking = rank_suspects(checked.of(Code)["a-k4-2"], cases=checked.of(Case).values())
        return next(one.share for one in ranking.suspects if one.suspect.sensor == "suction-a")

    before = share()
    run("case", "add", _written(tmp_path, CASE), "--notes", notes)
    assert share() > before


def test_a_case_with_a_fault_is_refused_with_its_place_and_nothing_is_written(run, notes, tmp_path):
    file = _written(tmp_path, CASE.replace("a-k4-2\n", "a-k4-9\n"))
    told = run("case", "add", file, "--notes", notes)
    assert told.exit_code == 1
    assert told.output.startswith(
        "a-k4-2-2026-03-01.yaml:5:7: unknown-id: there is no code 'a-k4-9'\n"
        "    code: a-k4-9\n"
        "          ^\n"
    )
    assert told.output.endswith("Nothing was written.\n")
    assert not (notes / "docs_data/cases/unit-a").exists()


def test_a_case_that_names_somebody_is_refused(run, notes, tmp_path):
    file = _written(tmp_path, CASE.replace("Over range", "Mrs Example said: over range"))
    told = run("case", "add", file, "--notes", notes)
    assert told.exit_code == 1
    assert "personal: 'Mrs Example' looks like a person's name" in told.output


def test_nothing_is_written_over(run, notes, tmp_path):
    file = _written(tmp_path, CASE)
    run("case", "add", file, "--notes", notes)
    told = run("case", "add", file, "--notes", notes)
    assert told.exit_code == 2
    assert told.output == (
        "Error: there is a case 'a-k4-2-2026-03-01' already, and nothing is written over; "
        "give this one another name with --id\n"
    )


def test_a_name_that_is_no_id_is_refused_with_what_would_work(run, notes, tmp_path):
    told = run("case", "add", _written(tmp_path, CASE, "My Case.yaml"), "--notes", notes)
    assert told.exit_code == 2
    assert told.output == (
        "Error: 'My Case' cannot be an id; use small letters, digits and single hyphens, "
        "with --id\n"
    )


def test_for_machines_it_says_where_the_case_stands(run, notes, tmp_path):
    told = run("case", "add", _written(tmp_path, CASE), "--notes", notes, "--json")
    assert json.loads(told.output) == {
        "case": "a-k4-2-2026-03-01",
        "file": "docs_data/cases/unit-a/a-k4-2-2026-03-01.yaml",
        "code": "a-k4-2",
    }


def test_a_disk_that_is_full_keeps_the_notes_as_they_were(run, notes, tmp_path, monkeypatch):
    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("kb.writer.os.replace", full)
    told = run("case", "add", _written(tmp_path, CASE), "--notes", notes)
    target = notes / "docs_data/cases/unit-a/a-k4-2-2026-03-01.yaml"
    assert told.exit_code == 1
    assert told.output == (
        f"Error: {target} could not be written: No space left on device; nothing was changed\n"
    )
    assert not target.exists()


def test_the_phones_form_as_nobody_filled_it_in_is_no_case(run, notes, tmp_path):
    untouched = re.sub("by: .*", "by: 'initials'", CASE)
    untouched = re.sub("found: .*", "found: 'Say what was found.'", untouched)
    untouched = untouched.replace("cure: 'A new sensor.'", "cure: 'Say what was done.'")
    refused = run("case", "add", _written(tmp_path, untouched), "--notes", notes)
    assert refused.exit_code == 1
    found = re.findall(r":(\d+):\d+: not-filled-in: '(\w+)'", refused.output)
    assert [name for _, name in found] == ["by", "found", "cure"]
    assert not (notes / "docs_data/cases/unit-a").exists()


def test_a_job_that_is_told_already_is_refused_under_any_name(run, notes, tmp_path):
    there = notes / "docs_data/cases/2026-02-01-suction.yaml"
    text = there.read_text().replace("minutes: 45", "minutes: 50")
    told = run("case", "add", _written(tmp_path, text, "another-name.yaml"), "--notes", notes)
    assert told.exit_code == 2
    assert told.output == (
        "Error: this job is in the notes already, as '2026-02-01-suction': same family, day, code, "
        "cause and readings; nothing was written. What this file says beside it, write into "
        "docs_data/cases/2026-02-01-suction.yaml; was it another machine, say in both which, such "
        "as 'machine: the left one'\n"
    )
    right = text.replace("family: unit-a", "family: unit-a\nmachine: the right one")
    assert run("case", "add", _written(tmp_path, right), "--notes", notes).exit_code == 0


def test_a_job_that_may_be_told_already_is_asked_about_and_added(run, notes, tmp_path):
    run("case", "add", _written(tmp_path, CASE), "--notes", notes)
    other = CASE.replace("cause: {sensor: suction-a}", "cause: {part: board-a}")
    told = run("case", "add", _written(tmp_path, other, "other-cause.yaml"), "--notes", notes)
    assert told.exit_code == 0
    assert "same-job: the case 'a-k4-2-2026-03-01' may tell this job too" in told.output
