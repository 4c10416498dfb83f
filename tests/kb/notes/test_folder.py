"""Where the notes are, and what travels with the program."""

from __future__ import annotations

import pytest

from kb.model import Method, Sensor
from kb.notes.folder import NotesNotFound, carried, dress_folder, find_notes
from kb.notes.load import load_notes


def test_the_nearest_folder_upward_that_holds_docs_data_is_the_notes(notes):
    assert find_notes(notes / "docs_data" / "sensors" / "unit-a") == notes


def test_no_notes_upward_says_what_to_do(tmp_path):
    with pytest.raises(NotesNotFound) as error:
        find_notes(tmp_path)
    assert str(error.value) == (
        f"no 'docs_data/' in {tmp_path} nor above it; go to your notes, name them with "
        "--notes DIR, or begin some with 'ohmfolio start DIR'"
    )


def test_notes_of_ones_own_may_bring_their_own_dress(notes):
    assert dress_folder(notes) == carried("site_config")
    (notes / "site_config").mkdir()
    assert dress_folder(notes) == carried("site_config")
    (notes / "site_config" / "mkdocs.yml").write_text("site_name: x")
    assert dress_folder(notes) == notes / "site_config"


def strangers(notes):
    return [one.picture() for one in load_notes(notes).problems]


def test_a_linked_folder_inside_the_notes_is_read(notes):
    sensors = notes / "docs_data" / "sensors"
    (sensors / "unit-a").rename(notes / "kept")
    (sensors / "unit-a").symlink_to("../../kept", target_is_directory=True)
    assert "air-a" in load_notes(notes).of(Sensor)
    assert strangers(notes) == []


def test_a_linked_folder_outside_the_notes_is_passed_over_with_a_warning(notes, tmp_path):
    sensors = notes / "docs_data" / "sensors"
    (sensors / "unit-a").rename(tmp_path / "elsewhere")
    (sensors / "unit-a").symlink_to(tmp_path / "elsewhere", target_is_directory=True)
    assert strangers(notes) == [
        "docs_data/sensors/unit-a:1:1: warning: stranger: this link leads out of the notes\n"
        "    hint: put what it leads to itself here, or a link to one inside the notes"
    ]


def test_links_in_a_circle_or_to_nothing_are_passed_over_with_a_warning(notes):
    curves = notes / "docs_data" / "curves"
    (curves / "round").symlink_to(".", target_is_directory=True)
    (curves / "gone.yaml").symlink_to("nowhere.yaml")
    hint = "\n    hint: put what it leads to itself here, or a link to one inside the notes"
    assert strangers(notes) == [
        "docs_data/curves/gone.yaml:1:1: warning: stranger: this link leads nowhere" + hint,
        "docs_data/curves/round:1:1: warning: stranger: this link leads back to a folder that it "
        "stands in" + hint,
    ]


def test_a_folder_with_the_name_of_an_entry_is_told_and_read(notes):
    folder = notes / "docs_data" / "methods" / "more.yaml"
    folder.mkdir()
    (notes / "docs_data" / "methods" / "look.yaml").rename(folder / "look.yaml")
    assert "look" in load_notes(notes).of(Method)
    assert strangers(notes) == [
        "docs_data/methods/more.yaml:1:1: warning: stranger: this is a folder and no entry\n"
        "    hint: an entry is a file that ends in .yaml; give the folder another name"
    ]
