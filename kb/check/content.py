"""Hand-written pages: the safety page is there, and none takes a made page's name."""

from __future__ import annotations

from collections.abc import Iterator

from kb.model import KINDS
from kb.notes.folder import CONTENT
from kb.notes.load import Notes
from kb.notes.problem import Problem

from .references import MADE_PAGES

SAFETY = f"{CONTENT}/safety.md"


def safety_page_is_there(notes: Notes) -> Iterator[Problem]:
    """Yield a problem when there is no safety page, which every page that leads to a meter names."""
    if not (notes.folder / SAFETY).is_file():
        yield Problem(
            SAFETY, 1, 1, "no-safety-page",
            "every page that leads to a measurement links to this page, and it is not there",
            "write it; 'ohmfolio start DIR --bare' has one to begin with",
        )


def pages_keep_their_names(notes: Notes) -> Iterator[Problem]:
    """Yield each hand-written page that has the name of a page made from entries."""
    folder = notes.folder / CONTENT
    made = {*MADE_PAGES, *(f"{kind}/index" for kind in KINDS)}
    made |= {f"{kind}/{entry_id}" for kind in KINDS for entry_id in notes.of(kind)}
    for path in sorted(folder.rglob("*.md")):
        name = path.relative_to(folder).with_suffix("").as_posix()
        if name in made:
            yield Problem(
                f"{CONTENT}/{name}.md", 1, 1, "made-page",
                "a page of this name is made from entries", "give this page another name",
            )
