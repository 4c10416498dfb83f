"""Where the notes are, and what travels with the program."""

from __future__ import annotations

import pytest

from kb.notes.folder import NotesNotFound, carried, dress_folder, find_notes


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
