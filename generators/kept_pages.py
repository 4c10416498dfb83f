"""Remember of each finished page what it was made from, so that an unchanged one is not made again.

Nothing that is read here is believed: a page counts only when its file in the old site has the
checksum that is written here, and when the notes answer today as they did when it was made.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from .answers import Answer, States
from .kept_files import kept_place, with_sum, without_sum
from .page_leads import PageLeads
from .worked_out import Piece

FORM = 3
"""Another number when what is written here is laid out otherwise."""


@dataclass(frozen=True)
class KeptPage:
    """A finished page: its checksum, what it was made from, where it leads."""

    checksum: str
    content: str
    """The checksum of what was dressed."""
    beside: str
    """The checksum of what it is made from beside answers of the notes."""
    questions: tuple[str, ...] | None
    """What its maker asked of the notes; None when that is not all that it is made from."""
    leads: PageLeads


@dataclass(frozen=True)
class Kept:
    """What is remembered of a site."""

    pages: Mapping[str, KeptPage] = field(default_factory=dict)
    answers: Mapping[str, Answer] = field(default_factory=dict)
    """What the notes answered to every question of those pages."""
    states: States = field(default_factory=dict)
    """What the notes were then."""
    pieces: Mapping[str, Piece] = field(default_factory=dict)
    """What was worked out of entries, by name."""


def kept_file(work: Path, *, out: Path) -> Path:
    """Return where the pages of a site are remembered; another place has pages of its own."""
    return kept_place(work, out=out, ends=".json")


def read_kept(file: Path, *, key: str) -> Kept:
    """Return what this program remembers; nothing when any of it is not as it was written."""
    try:
        content = json.loads(without_sum(file.read_bytes()))
        if content["form"] != FORM or content["key"] != key:
            return Kept()
        return _kept(content)
    except (OSError, ValueError, KeyError, TypeError, IndexError, AttributeError):
        return Kept()


def _kept(content: Mapping[str, Any]) -> Kept:
    text = content["texts"].__getitem__
    lead = [(text(target), text(anchor)) for target, anchor in content["leads"]].__getitem__
    pages = {}
    for path, row in content["pages"].items():
        checksum, made_from, beside, questions, anchors, leads = row
        asked = None if questions is None else tuple(map(text, questions))
        led = PageLeads(frozenset(map(text, anchors)), tuple(map(lead, leads)), ())
        pages[path] = KeptPage(checksum, made_from, beside, asked, led)
    answers = {
        text(question): Answer(checksum, tuple(map(text, shows)))
        for question, checksum, shows in content["answers"]
    }
    pieces = {
        name: (tuple(map(text, made_from)) if isinstance(made_from, list) else made_from, piece)
        for name, (made_from, piece) in content["pieces"].items()
    }
    return Kept(pages, answers, content["states"], pieces)


def kept_text(kept: Kept, *, key: str) -> bytes:
    """Return the file that remembers a site."""
    texts, leads = _Numbers(), _Numbers()
    rows = {
        path: [
            page.checksum,
            page.content,
            page.beside,
            None if page.questions is None else texts.of(page.questions),
            texts.of(sorted(page.leads.anchors)),
            leads.of(page.leads.leads),
        ]
        for path, page in kept.pages.items()
    }
    content = {
        "form": FORM,
        "key": key,
        "pages": rows,
        "leads": [texts.of(lead) for lead in leads],
        "answers": [
            [*texts.of([question]), answer.checksum, texts.of(answer.shows)]
            for question, answer in kept.answers.items()
        ],
        "states": kept.states,
        "pieces": {
            name: [texts.of(made_from) if isinstance(made_from, tuple) else made_from, piece]
            for name, (made_from, piece) in kept.pieces.items()
        },
        "texts": list(texts),
    }
    return with_sum(json.dumps(content, ensure_ascii=False, separators=(",", ":")).encode())


class _Numbers(dict[Any, int]):
    """What stands in many rows, each written once and numbered."""

    def __missing__(self, key: Any) -> int:
        self[key] = len(self)
        return self[key]

    def of(self, keys: Iterable[Any]) -> list[int]:
        return [self[key] for key in keys]
