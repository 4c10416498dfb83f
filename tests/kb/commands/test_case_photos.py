"""`ohmfolio case add FILE.zip`: the photos of a case come along when somebody looked at them."""

from __future__ import annotations

import io
import json
import zipfile
from pathlib import Path

import pytest
from click.testing import CliRunner
from PIL import Image

from kb.check import check_notes
from kb.commands.main import ohmfolio
from kb.model import Case

from .test_case import CASE

LISTED = """\
photos:
- {file: sent-2.jpg, of: 'The plug, file: sent-9.jpg'}
- {file: sent-10.jpg, of: 'The sleeve.'}
"""
NAME = "a-k4-2-2026-03-01"


def photo(colour: str = "red") -> bytes:
    raw = io.BytesIO()
    Image.new("RGB", (8, 6), colour).save(raw, "JPEG", comment=b"the house of somebody")
    return raw.getvalue()


def sent(folder: Path, *, listed: str = LISTED, case: str = CASE, **photos: bytes) -> Path:
    """Write the zip that a phone sends; `sent_2` names `sent-2.jpg`."""
    photos = photos or {"sent_2": photo("red"), "sent_10": photo("blue")}
    file = folder / f"{NAME}.zip"
    with zipfile.ZipFile(file, "w") as pack:
        pack.writestr(f"{NAME}.yaml", case + listed)
        for name, raw in photos.items():
            pack.writestr(f"{name.replace('_', '-')}.jpg", raw)
    return file


def cases(notes: Path) -> Path:
    return notes / "docs_data/cases/unit-a"


def test_photos_that_were_looked_at_stand_beside_the_case_under_its_name(run, notes, tmp_path):
    told = run("case", "add", sent(tmp_path), "--photos", "--notes", notes)
    assert told.exit_code == 0, told.output
    assert told.output.startswith(
        f"docs_data/cases/unit-a/{NAME}.yaml is in the notes, with 2 photos.\n"
    )
    checked = check_notes(notes)
    assert not [fault for fault in checked.problems if not fault.warning]
    assert [(shown.file, shown.of) for shown in checked.of(Case)[NAME].photos] == [
        (f"{NAME}-2.jpg", "The plug, file: sent-9.jpg"),
        (f"{NAME}-1.jpg", "The sleeve."),
    ]
    blue = (cases(notes) / f"{NAME}-1.jpg").read_bytes()
    assert b"somebody" not in blue
    with Image.open(io.BytesIO(blue)) as image:
        red, _, most = image.getpixel((2, 2))  # type: ignore[misc]
    assert most > 200 > red


def test_another_id_names_the_photos_too(run, notes, tmp_path):
    run("case", "add", sent(tmp_path), "--photos", "--notes", notes)
    run("case", "add", sent(tmp_path), "--photos", "--id", "other", "--notes", notes)
    assert sorted(path.name for path in cases(notes).iterdir() if path.stem < "b") == [
        f"{NAME}-1.jpg",
        f"{NAME}-2.jpg",
        f"{NAME}.yaml",
    ]
    assert (cases(notes) / "other-2.jpg").is_file()


def test_without_photos_the_case_is_added_as_if_none_had_been_taken(run, notes, tmp_path):
    told = run("case", "add", sent(tmp_path), "--no-photos", "--notes", notes)
    assert told.output.startswith(f"docs_data/cases/unit-a/{NAME}.yaml is in the notes.\n")
    assert [path.name for path in cases(notes).iterdir()] == [f"{NAME}.yaml"]
    assert (cases(notes) / f"{NAME}.yaml").read_text(encoding="utf-8") == CASE


@pytest.mark.parametrize(("typed", "files"), [("y\n", 3), ("\n", 1), ("n\n", 1)])
def test_it_asks_before_a_photo_goes_to_every_phone(notes, tmp_path, typed, files):
    words = ["case", "add", str(sent(tmp_path)), "--notes", str(notes)]
    told = CliRunner().invoke(ohmfolio, words, input=typed)
    assert told.exit_code == 0
    assert told.stderr.startswith("2 photos came with it and would go to every phone of the team.")
    assert len(list(cases(notes).iterdir())) == files


def test_nobody_there_to_be_asked_writes_nothing(notes, tmp_path):
    words = ["case", "add", str(sent(tmp_path)), "--notes", str(notes)]
    told = CliRunner().invoke(ohmfolio, words, input="")
    assert told.exit_code == 1
    assert not cases(notes).exists()
    told = CliRunner().invoke(ohmfolio, [*words, "--json"])
    assert told.exit_code == 2
    assert json.loads(told.output)["refused"] == (
        f"{NAME}.zip holds 2 photos; say --photos or --no-photos"
    )


def test_for_machines_it_names_the_photos(run, notes, tmp_path):
    told = run("case", "add", sent(tmp_path), "--photos", "--notes", notes, "--json")
    assert json.loads(told.output)["photos"] == [f"{NAME}-1.jpg", f"{NAME}-2.jpg"]


@pytest.mark.parametrize(
    ("changed", "message"),
    [
        (
            {"listed": LISTED + "- {file: sent-3.jpg, of: x}\n"},
            "names the photo sent-3.jpg and does not hold it; nothing was written",
        ),
        (
            {"listed": LISTED.rsplit("- ", 1)[0]},
            f"holds photos that its case does not name, the first as {NAME}-1.jpg; nothing was "
            "written",
        ),
    ],
)
def test_photos_and_their_list_must_fit_together(run, notes, tmp_path, changed, message):
    told = run("case", "add", sent(tmp_path, **changed), "--photos", "--notes", notes)
    assert told.exit_code == 2
    assert told.output == f"Error: {NAME}.zip {message}\n"
    assert not cases(notes).exists()


def test_what_is_no_photo_inside_is_refused(run, notes, tmp_path):
    file = sent(tmp_path, sent_2=b"<svg/>", sent_10=photo())
    told = run("case", "add", file, "--photos", "--notes", notes)
    assert told.output == (
        f"Error: {NAME}.zip: sent-2.jpg holds no picture that can be read here; nothing was "
        "written\n"
    )
    assert not cases(notes).exists()


def test_a_fault_of_the_case_is_told_as_of_a_plain_one(run, notes, tmp_path):
    file = sent(tmp_path, case=CASE.replace("a-k4-2\n", "a-k4-9\n"))
    told = run("case", "add", file, "--photos", "--notes", notes)
    assert told.exit_code == 1
    assert told.output.startswith(
        f"{NAME}.zip:5:7: unknown-id: there is no code 'a-k4-9'\n    code: a-k4-9\n"
    )
    assert not cases(notes).exists()


def test_a_case_that_names_photos_comes_with_them_or_not_at_all(run, notes, tmp_path):
    file = tmp_path / f"{NAME}.yaml"
    file.write_text(CASE + LISTED, encoding="utf-8")
    told = run("case", "add", file, "--notes", notes)
    assert told.exit_code == 1
    assert "photo: there is no file 'sent-2.jpg' beside the entry" in told.output


def test_a_full_disk_leaves_no_photo_behind(run, notes, tmp_path, monkeypatch):
    from kb import writer

    real, written = writer.os.replace, []

    def full(source: object, target: object) -> None:
        if len(written) == 2:
            raise OSError(28, "No space left on device")
        written.append(target)
        real(source, target)

    monkeypatch.setattr("kb.writer.os.replace", full)
    told = run("case", "add", sent(tmp_path), "--photos", "--notes", notes)
    assert told.exit_code == 1
    assert "No space left on device; nothing was changed" in told.output
    assert len(written) == 2
    assert list(cases(notes).iterdir()) == []
