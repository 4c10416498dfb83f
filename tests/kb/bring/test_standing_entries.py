"""A sheet's rows look entries up: what is asked of the notes does not grow with the rows."""

from __future__ import annotations

import pytest

from kb import examples
from kb.bring.sheet_rows import read_rows
from kb.bring.standing_entries import StandingEntries
from kb.bring.table_file import read_tables
from kb.notes.load import load_notes
from tests.fuzz.note_target import GOOD


@pytest.fixture(scope="module")
def loaded():
    return load_notes(GOOD)


def test_a_sheet_of_many_rows_looks_through_the_examples_as_often_as_one_of_two(
    loaded, monkeypatch
):
    asked = []
    whole = examples.starter_files
    monkeypatch.setattr(examples, "starter_files", lambda: asked.append(1) or whole())
    counts = []
    for rows in (2, 2_000):
        text = "name,means\n" + "".join(f"Term {row},A word\n" for row in range(rows))
        (table,) = read_tables(text.encode(), file="terms.csv", encoding="")
        asked.clear()
        read = read_rows(table, kind="terms", notes=loaded, every={}, coming={})
        assert len(read.drafts) == rows
        counts.append(len(asked))
    assert counts[0] == counts[1]


@pytest.mark.parametrize("kind", ["sensors", "codes", "parts", "terms", "families"])
def test_each_entry_is_meant_by_what_it_is_called(loaded, kind):
    there = StandingEntries(loaded, kind=kind)
    texts = {entry_id: loaded.texts[(kind, entry_id)].value for entry_id in loaded.of_kind(kind)}
    assert texts
    assert {entry_id: there.meant(value) for entry_id, value in texts.items()} == {
        entry_id: entry_id for entry_id in texts
    }
    assert there.meant({"name": "nobody", "family": "nobody"}) == ""
