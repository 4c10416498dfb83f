"""One command switches signing on; a key is changed, replaced and given up by one each."""

from __future__ import annotations

import datetime
import json
from pathlib import Path

import pytest

from generators.publish.pack import pack
from generators.publish.signing import signer_of
from kb.check import check_notes
from kb.check.publishing import refused_by_pack
from kb.model.team import Signing
from kb.notes.load import load_notes
from kb.release_format.newest import newest_of, read_newest
from kb.release_format.places import LIST, NEWEST, record_path
from kb.release_format.release_list import list_of
from kb.release_format.signed import NOBODY
from kb.signing.ed25519 import NoSigning, mark_of
from kb.signing.key_file import usual_place
from kb.signing.releases import broken_hand_over, why_not_signed
from tests.release.test_formats import FILES, head

TEAM = "docs_data/team.yaml"
RELEASE = list_of(FILES, head=head())
NEWS = newest_of(RELEASE, whole=9, steps={}, worker="1" * 64).text
FILES_OF_RELEASE = [
    (record_path(RELEASE.name), b"record"),
    (LIST, RELEASE.text.encode()),
    (NEWEST, NEWS.encode()),
]


@pytest.fixture(autouse=True)
def settings(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path / "settings"))
    monkeypatch.delenv("OHMFOLIO_PASSPHRASE", raising=False)


def signing_in(notes: Path) -> Signing:
    signing = load_notes(notes).team.signing
    assert signing is not None
    return signing


def packed(notes: Path):
    """Return the news of a release as `pack` would write them."""
    signer = signer_of(load_notes(notes), file=None)
    newest = read_newest(dict(signer.signed(FILES_OF_RELEASE))[NEWEST])
    assert newest is not None
    return newest


def test_one_command_switches_signing_on_and_pack_signs(run, notes):
    before = (notes / TEAM).read_text()
    assert packed(notes).signed is None
    made = run("key", "make", "--notes", notes)
    key = signing_in(notes).key
    file = usual_place(key)
    assert made.exit_code == 0, made.output
    assert f"The key {mark_of(key)} is made.\n  private: {file}: copy it to a stick" in made.output
    assert made.output.endswith("Next: ohmfolio pack\n")
    # No other line of the team's file is touched, and nothing in it is taken for a secret.
    assert (notes / TEAM).read_text() == f"{before.rstrip()}\nsigning:\n  key: {key}\n"
    assert file.read_bytes().split(b"\n")[1] not in b"".join(
        path.read_bytes() for path in notes.rglob("*") if path.is_file()
    )
    checked = check_notes(notes)
    assert [p for p in refused_by_pack(checked, today=datetime.date.max) if p.file == TEAM] == []
    newest = packed(notes)
    assert newest.signed.list_sum.startswith(newest.name)
    assert why_not_signed(newest, key=key) is None
    again = run("key", "make", "--notes", notes)
    assert (again.exit_code, "another key follows it by 'ohmfolio key change'" in again.output) == (
        2,
        True,
    )


def test_a_changed_key_is_vouched_for_by_the_one_before(run, notes):
    run("key", "make", "--notes", notes)
    first = signing_in(notes).key
    for _ in range(2):
        assert run("key", "change", "--notes", notes).exit_code == 0
    signing = signing_in(notes)
    newest = packed(notes)
    assert [each.key for each in newest.signed.before] == [each.key for each in signing.before]
    assert (signing.before[0].key, len(signing.before)) == (first, 2)
    assert broken_hand_over(newest.signed) is None
    shown = json.loads(run("key", "show", "--json", "--notes", notes).output)
    assert (shown["mark"], shown["there"], shown["locked"]) == (mark_of(signing.key), True, False)
    assert shown["before"] == [mark_of(each.key) for each in signing.before]


def test_a_lost_key_stops_pack_before_anything_and_is_replaced(run, notes, tmp_path):
    run("key", "make", "--notes", notes)
    old = signing_in(notes).key
    usual_place(old).unlink()
    with pytest.raises(NoSigning, match="Is it lost for good: ohmfolio key lost"):
        pack(notes, to=tmp_path / "out", after=0)
    assert not (tmp_path / "out").exists()
    changed = run("key", "change", "--notes", notes)
    assert (changed.exit_code, "; nothing was changed" in changed.output) == (1, True)
    lost = run("key", "lost", "--notes", notes)
    new = signing_in(notes)
    assert new.before == [] and new.key != old
    assert f"by telephone to type there: {mark_of(new.key)}\n" in lost.output
    assert "still lies at" not in lost.output
    assert why_not_signed(packed(notes), key=new.key) is None


def test_a_key_that_is_given_up_says_so_in_every_later_release(run, notes):
    run("key", "make", "--notes", notes)
    key = signing_in(notes).key
    stopped = run("key", "stop", "--notes", notes)
    assert f"a phone that trusts {mark_of(key)} reads there" in stopped.output
    usual_place(key).unlink()
    newest = packed(notes)
    assert (newest.signed.key, newest.signed.by) == (NOBODY, "")
    assert why_not_signed(newest, key=None) is None
    assert run("key", "show", "--notes", notes).output.startswith("Releases are not signed.")
    assert run("key", "make", "--notes", notes).exit_code == 0


def test_a_key_is_locked_by_a_passphrase_of_the_environment(run, notes, monkeypatch):
    refused = run("key", "make", "--passphrase", "--notes", notes)
    assert (
        refused.exit_code,
        "set OHMFOLIO_PASSPHRASE; nothing was changed" in refused.output,
    ) == (1, True)
    monkeypatch.setenv("OHMFOLIO_PASSPHRASE", "short")
    assert "at least 12 signs" in run("key", "make", "--passphrase", "--notes", notes).output
    monkeypatch.setenv("OHMFOLIO_PASSPHRASE", "four plain words here")
    assert run("key", "make", "--passphrase", "--notes", notes).exit_code == 0
    assert packed(notes).signed is not None
    assert ", locked." in run("key", "show", "--notes", notes).output
    monkeypatch.delenv("OHMFOLIO_PASSPHRASE")
    with pytest.raises(NoSigning, match="nobody can be asked here"):
        packed(notes)


def test_a_key_never_goes_into_the_notes_and_a_spoilt_line_is_named(run, notes):
    before = (notes / TEAM).read_bytes()
    inside = run("key", "make", "--to", notes / "key.pem", "--notes", notes)
    assert (inside.exit_code, "would get the key too" in inside.output) == (1, True)
    assert not (notes / "key.pem").exists() and (notes / TEAM).read_bytes() == before
    for words in (("change",), ("lost",), ("stop",)):
        refused = run("key", *words, "--notes", notes)
        assert (refused.exit_code, "begin with: ohmfolio key make" in refused.output) == (2, True)
    with (notes / TEAM).open("a") as opened:
        opened.write("signing:\n  key: D75A\n")
    found = [problem for problem in check_notes(notes).problems if problem.file == TEAM]
    assert "this is not what 'ohmfolio key' writes: 64 of 0-9 and a-f" in found[0].picture()
    refused = run("key", "show", "--notes", notes)
    assert (refused.exit_code, "'ohmfolio check' says why" in refused.output) == (1, True)
