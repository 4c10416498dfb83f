"""Remember of each finished page what it was made from, so that an unchanged one is not made again.

Nothing that is read here is believed: a page counts only when its file in the old site has the
checksum that is written here, and when the notes answer today as they did when it was made.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from .kept_files import kept_place, with_sum, without_sum
from .page_leads import PageLeads

FORM = 1
"""Another number when what is written here is laid out otherwise."""


@dataclass(frozen=True)
class KeptPage:
    """A finished page: its checksum, what it was made from, where it leads."""

    checksum: str
    made_from: str
    """The checksum of all answers to its questions."""
    questions: tuple[str, ...]
    leads: PageLeads


def kept_file(work: Path, *, out: Path) -> Path:
    """Return where the pages of a site are remembered; another place has pages of its own."""
    return kept_place(work, out=out, ends=".json")


def read_kept(file: Path, *, key: str) -> dict[str, KeptPage]:
    """Return what this program remembers; nothing when any of it is not as it was written."""
    try:
        content = json.loads(without_sum(file.read_bytes()))
        if content["form"] != FORM or content["key"] != key:
            return {}
        return _pages(content)
    except (OSError, ValueError, KeyError, TypeError, IndexError):
        return {}


def _pages(content: Mapping[str, object]) -> dict[str, KeptPage]:
    texts, rows = content["texts"], content["pages"]
    if not isinstance(texts, list) or not isinstance(rows, dict):
        raise TypeError
    pages = {}
    for path, (checksum, made_from, questions, anchors, targets, places) in rows.items():
        leads = PageLeads(
            anchors=frozenset([texts[i] for i in anchors]),
            leads=tuple([(texts[i], texts[j]) for i, j in zip(targets, places, strict=True)]),
            faults=(),
        )
        asked = tuple([texts[i] for i in questions])
        pages[path] = KeptPage(checksum, made_from, asked, leads)
    return pages


def kept_text(pages: Mapping[str, KeptPage], *, key: str) -> bytes:
    """Return the file that remembers these pages."""
    texts: dict[str, int] = {}

    def numbers(of: list[str]) -> list[int]:
        return [texts.setdefault(text, len(texts)) for text in of]

    rows = {
        path: [
            page.checksum,
            page.made_from,
            numbers([*page.questions]),
            numbers(sorted(page.leads.anchors)),
            numbers([target for target, _ in page.leads.leads]),
            numbers([anchor for _, anchor in page.leads.leads]),
        ]
        for path, page in pages.items()
    }
    content = {"form": FORM, "key": key, "pages": rows, "texts": list(texts)}
    return with_sum(json.dumps(content, ensure_ascii=False, separators=(",", ":")).encode())
