"""What a release says of the notes it is made of: number, date, words, and a record of them."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from generators.release.coming_release import Coming, coming_release
from generators.release.manifest import manifest_text
from generators.site_context import SiteContext
from kb.catalog import Catalog
from kb.check import check_notes
from kb.release_format.record import Record
from kb.release_format.release_list import list_of

STARTER = Path(__file__).resolve().parents[2] / "kb/starter"


@pytest.fixture()
def notes(tmp_path: Path) -> Path:
    return Path(shutil.copytree(STARTER, tmp_path / "notes"))


def coming(notes: Path, *, history: list[Record] | None = None) -> Coming:
    context = SiteContext(Catalog(check_notes(notes)))
    return coming_release(context, history=history or [], pages=29)


def published(release: Coming) -> Record:
    return Record(list_of({}, head=release.head), notes=release.notes)


def test_without_words_of_the_keeper_the_entries_give_the_date_and_the_history_the_number(notes):
    first = coming(notes)
    assert (first.head.number, first.head.title, first.head.words) == (1, "", ())
    assert first.head.date == "2026-01-15"
    assert (first.head.entries, first.head.pages, first.head.offline) == (13, 29, True)
    assert first.head.since == {}


def test_the_date_is_the_newest_day_of_a_check_or_a_job(notes):
    source = next((notes / "docs_data/sources").glob("*.yaml"))
    text = source.read_text(encoding="utf-8")
    for day, newest in (("2026-01-14", "2026-01-15"), ("2026-01-16", "2026-01-16")):
        source.write_text(f"{text}checked: {{by: RT, on: {day}}}\n", encoding="utf-8")
        assert coming(notes).head.date == newest
    source.write_text(text, encoding="utf-8")
    for case in (notes / "docs_data/cases").glob("*.yaml"):
        case.unlink()
    assert coming(notes).head.date == ""


def test_the_keepers_number_date_and_words_come_first(notes):
    (notes / "docs_data/release.yaml").write_text(
        "number: 7\ndate: 2026-03-01\ntitle: Spring\nwords: [Look twice.]\noffline: no\n"
    )
    head = coming(notes).head
    assert (head.number, head.date, head.title) == (7, "2026-03-01", "Spring")
    assert (head.words, head.offline) == (("Look twice.",), False)


def test_the_same_notes_again_are_the_same_release_and_others_count_on(notes):
    first = published(coming(notes))
    assert coming(notes, history=[first]).head == first.release_list.release
    safety = notes / "content/safety.md"
    safety.write_text(safety.read_text(encoding="utf-8") + "\nTwice.\n", encoding="utf-8")
    second = coming(notes, history=[first])
    assert second.head.number == 2
    assert second.head.since == {first.name: {"changes": 1, "safety": 1}}


def test_curves_are_remembered_at_set_temperatures_within_their_range(notes):
    (curve_id, samples), *_ = coming(notes).notes["numbers"].items()
    curve = SiteContext(Catalog(check_notes(notes))).catalog.characteristic(curve_id)
    places = [t_c for t_c, _, _ in samples]
    assert places == sorted({*places, 20.0, 25.0})
    assert {t_c for t_c in places if t_c % 10} == {25.0}
    assert curve.low_c <= places[0] < curve.low_c + 10
    assert curve.high_c - 10 < places[-1] <= curve.high_c
    for t_c, r_ohm, slope in samples:
        assert r_ohm == pytest.approx(curve.r_ohm(t_c), rel=1e-6)
        assert slope == pytest.approx(curve.slope_ohm_per_k(t_c), rel=1e-6)


@pytest.mark.parametrize(
    ("title", "team", "short"),
    [
        ("Our notes", "Fenwick Cooling", "Our notes"),
        ("Twelve signs", "Fenwick Cooling", "Twelve signs"),
        ("Thirteen sign", "Fenwick Cooling", "Fenwick"),
        ("The notes of a team", "Refrigerationists of the north", "Refrigeratio"),
    ],
)
def test_the_name_below_an_icon_is_short(title, team, short):
    assert f'"short_name": "{short}"' in manifest_text(title=title, team=team)


def test_the_manifest_can_be_read_line_by_line():
    assert manifest_text(title="Notes", team="Fenwick").startswith('{\n "name": "Notes",\n')
