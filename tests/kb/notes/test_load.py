"""Loading: every fault is collected, nothing stops the reading of the rest."""

from __future__ import annotations

from kb.model import Method, Part, Sensor
from kb.notes.load import load_notes


def test_notes_without_a_team_say_whose_they_are_not(notes):
    (notes / "docs_data" / "team.yaml").unlink()
    assert [one.picture() for one in load_notes(notes).problems] == [
        "docs_data/team.yaml:1:1: no-team: the notes do not say whose they are\n"
        "    hint: write docs_data/team.yaml: name, title, meter, thermometer"
    ]


def test_one_broken_file_does_not_hide_the_others(notes):
    (notes / "docs_data" / "methods" / "look.yaml").write_text("name: 'Look")
    loaded = load_notes(notes)
    assert loaded.broken == {("methods", "look")}
    assert loaded.knows("methods", "look")
    assert len(loaded.of(Method)) == 4
    assert loaded.counts()["methods"] == 5


def test_an_entry_may_begin_with_a_byte_order_mark(notes):
    path = notes / "docs_data" / "methods" / "look.yaml"
    path.write_bytes(b"\xef\xbb\xbf" + path.read_bytes())
    assert load_notes(notes).problems == []
    path.write_bytes(b"\xef\xbb\xbf" + b"nam: Look\n")
    assert {one.text for one in load_notes(notes).problems} == {"nam: Look"}


def test_sub_folders_are_read_and_hidden_files_are_not(notes):
    hidden = notes / "docs_data" / "methods" / ".look.yaml"
    hidden.write_text("not: an entry")
    loaded = load_notes(notes)
    assert "air-a" in loaded.of(Sensor)
    assert loaded.problems == []


def test_a_key_with_nothing_behind_it_counts_as_not_written(notes):
    path = notes / "docs_data" / "parts" / "board-b.yaml"
    path.write_text(path.read_text() + "order:\n")
    loaded = load_notes(notes)
    assert loaded.problems == []
    assert loaded.of(Part)["board-b"].order is None
