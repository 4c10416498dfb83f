"""What a page is found and dressed by is alike in every language: anchors, classes, addresses."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path

import pytest

from generators.make import MAKERS
from generators.page import Page
from generators.pages.due import make_due
from generators.pages.home import make_home
from generators.pages.lists import make_list
from generators.site_context import SiteContext
from kb.catalog import Catalog
from kb.model import KINDS
from kb.notes.load import load_notes
from tests.unplaced_words import speaking_wide

GOOD = Path(__file__).resolve().parents[1] / "data" / "entries" / "good"
CONTEXT = SiteContext(Catalog(load_notes(GOOD)))
KEPT = re.compile(r'\b(?:id|class|href|for|name|aria-labelledby|data-[\w-]+)="[^"]*"')
SAID = re.compile(r'data-(?:ohm-shown|done|finish|name)="')
"""What of a tag is words all the same."""


def kept(page: Page) -> list[str]:
    """Return what no language may change in a page."""
    return [found for found in KEPT.findall(str(page.body)) if not SAID.match(found)]


def pages() -> dict[str, Callable[[], Page]]:
    """Return the makers of one page of each kind, of each list, of home and of what is due."""
    made: dict[str, Callable[[], Page]] = {
        "home": lambda: make_home(CONTEXT, own_pages=[]),
        "due": lambda: make_due(CONTEXT),
    }
    for kind in KINDS:
        made[f"list of {kind}"] = lambda kind=kind: make_list(CONTEXT, kind)
    for model, make in MAKERS.items():
        for entry in CONTEXT.notes.of(model).values():
            made[f"{entry.noun} {entry.id}"] = lambda make=make, entry=entry: make(CONTEXT, entry)
    return made


@pytest.mark.parametrize("name", pages())
def test_no_language_changes_what_a_page_is_found_by(name: str) -> None:
    make = pages()[name]
    english = make()
    with speaking_wide():
        wide = make()
    assert wide.title != english.title or str(wide.body) != str(english.body)
    assert (wide.path, kept(wide)) == (english.path, kept(english))
