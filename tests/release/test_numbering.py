"""A release counts on from what is published, wherever it was packed, and never begins anew unsaid."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

import pytest
from click.testing import CliRunner

from generators.publish.commands import pack_command
from generators.publish.numbering import learn_last, nothing_is_known
from generators.publish.pack import NotToPublish, pack
from generators.publish.published import NoCopyThere
from kb.check import check_notes
from kb.release_format.head import MOST_NUMBER

STARTER = Path(__file__).resolve().parents[2] / "kb" / "starter"
UNKNOWN = (
    "so nobody knows which number comes next; say the last one published, which stands at the foot "
    "of every page on a phone: --after NUMBER, or --after 0 for the very first release"
)


@pytest.fixture()
def notes(tmp_path: Path) -> Path:
    """The bare beginner's notes."""
    return Path(shutil.copytree(STARTER, tmp_path / "notes"))


def _publishes(notes: Path, where: object) -> None:
    with (notes / "docs_data/team.yaml").open("a", encoding="utf-8") as team:
        team.write(f"published: {where}\n")


def _changed(notes: Path, words: str) -> None:
    with (notes / "content/safety.md").open("a", encoding="utf-8") as page:
        page.write(f"\n{words}\n")


def _cloned(notes: Path, name: str) -> Path:
    """Return a copy of the notes as git hands it out: without what a build remembers."""
    skipped = shutil.ignore_patterns(".build")
    return Path(shutil.copytree(notes, notes.parent / name, ignore=skipped))


@pytest.mark.builds
def test_two_laptops_never_give_one_number_twice(notes: Path, tmp_path: Path) -> None:
    host = tmp_path / "host"
    pack(notes, to=host, after=0)
    _publishes(notes, host)
    _changed(notes, "Second.")
    assert pack(notes, to=host).summary.number == 2
    other = _cloned(notes, "other laptop")
    _changed(other, "Third, on the other laptop.")
    third = pack(other)
    assert (third.summary.number, third.to.name) == (3, "release-3.zip")
    shutil.rmtree(host)
    shutil.unpack_archive(third.to, host)
    _changed(notes, "Fourth, on a laptop that last knew of the second.")
    assert pack(notes, to=tmp_path / "fourth.zip").summary.number == 4


@pytest.mark.builds
def test_the_keeper_may_say_the_last_number_and_is_then_believed(
    notes: Path, tmp_path: Path
) -> None:
    _publishes(notes, tmp_path / "not mounted now")
    assert pack(notes, after=3).summary.number == 4
    assert pack(notes, after=3).summary.number == 4
    (notes / "docs_data/release.yaml").write_text("number: 3\ndate: 2026-03-01\n")
    with pytest.raises(NotToPublish) as refused:
        pack(_cloned(notes, "clone"), after=3)
    assert refused.value.reasons == [
        "docs_data/release.yaml:1:9: used-number: number 3 was published already elsewhere: the "
        "last is 3\n    number: 3\n            ^\n    hint: write number: 4"
    ]


def test_where_the_team_says_a_host_no_number_is_begun_without_it(
    notes: Path, tmp_path: Path
) -> None:
    host = tmp_path / "host"
    _publishes(notes, host)
    with pytest.raises(NoCopyThere) as gone:
        pack(notes)
    assert str(gone.value) == f"there is no folder, zip file or address '{host}', {UNKNOWN}"
    host.mkdir()
    with pytest.raises(NoCopyThere) as empty:
        pack(notes)
    assert str(empty.value) == f"{host} holds no release that can be read, {UNKNOWN}"
    assert not list(notes.glob("release-*"))


def test_a_list_without_its_record_still_says_its_number(notes: Path, tmp_path: Path) -> None:
    head = {"number": 7, "date": "2026-03-01", "title": "", "team": "Ours"}
    (tmp_path / "release.json").write_text(json.dumps({"release": head, "files": {}}))
    where = str(tmp_path)
    assert learn_last(check_notes(notes), to=None, published=where, after=None) == 7


@pytest.mark.parametrize("number", [MOST_NUMBER + 1, 2**53 - 1])
def test_a_host_cannot_make_the_next_number_one_that_no_release_has(
    notes: Path, tmp_path: Path, number: int
) -> None:
    head = {"number": number, "date": "2026-03-01", "title": "", "team": "Ours"}
    (tmp_path / "release.json").write_text(json.dumps({"release": head, "files": {}}))
    with pytest.raises(NoCopyThere) as refused:
        learn_last(check_notes(notes), to=None, published=str(tmp_path), after=None)
    assert str(refused.value) == (
        f"{tmp_path} calls its release number {number}, which none has, {UNKNOWN}"
    )


@pytest.mark.builds
def test_numbers_that_begin_unsaid_are_said(notes: Path, tmp_path: Path) -> None:
    assert nothing_is_known(check_notes(notes), to=None, published=None, after=None)
    words = ["--notes", str(notes), "--to", str(tmp_path / "first.zip")]
    first = CliRunner().invoke(pack_command, words)
    assert (first.exit_code, first.output.splitlines()[0][:9]) == (0, "Release 1")
    assert first.stderr.startswith(
        "No earlier release is known on this computer: numbers begin at 1. Were the notes "
        "published before, do not upload this; say the last number with --after, or where it is "
        "published with --published; 'published' in team.yaml says it for good.\n"
        "docs_data/sources/example-sheet.yaml:1:1: warning: examples-left: 13 invented examples "
        "of 'ohmfolio start' are left: "
    )
    _changed(notes, "Second.")
    second = CliRunner().invoke(pack_command, words)
    assert second.stdout[:9] == "Release 2"
    assert "numbers begin" not in second.stderr


@pytest.mark.parametrize("to_come", ["2062-03-01", "2999-12-31"])
def test_a_date_to_come_is_not_packed(notes: Path, tmp_path: Path, to_come: str) -> None:
    case = next((notes / "docs_data/cases").glob("*.yaml"))
    text = case.read_text(encoding="utf-8")
    case.write_text(text.replace("on: 2026-01-15", f"on: {to_come}"), encoding="utf-8")
    with pytest.raises(NotToPublish) as refused:
        pack(notes, to=tmp_path / "host")
    (reason,) = refused.value.reasons
    assert reason == (
        f"docs_data/cases/{case.name}:3:5: to-come: {to_come} is still to come, and a phone would "
        f"never call its copy old\n    on: {to_come}\n        ^\n    hint: look at the year, or at "
        "this machine's clock"
    )
