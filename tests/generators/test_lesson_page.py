"""A lesson calls the pages that it sends to by what they call themselves."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from generators.pages.lesson import make_lesson
from generators.site_context import SiteContext
from kb.catalog import Catalog
from kb.check import check_notes
from kb.model import Lesson
from kb.words.catalogue import speaking

GOOD = Path(__file__).resolve().parents[1] / "data" / "entries" / "good"


@pytest.fixture
def lesson_page(tmp_path: Path) -> str:
    notes = tmp_path / "notes"
    shutil.copytree(GOOD, notes)
    (notes / "content" / "safety.md").write_text("# Sicherheit zuerst\n", encoding="utf-8")
    checked = check_notes(notes)
    context = SiteContext(catalog=Catalog(checked), root="../")
    with speaking("german"):
        return make_lesson(context, checked.of(Lesson)["first"]).body


def test_a_hand_written_page_is_called_by_its_own_heading(lesson_page):
    assert '<a href="../safety.html">Sicherheit zuerst</a>' in lesson_page


def test_a_made_page_is_called_in_the_language_of_the_site(lesson_page):
    assert '<a href="../numbers.html">Zu den Zahlen</a>' in lesson_page
