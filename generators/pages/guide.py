"""The keeper's guide as a page: what to type, from an empty folder to a host."""

from __future__ import annotations

from kb.guide import Block, Step, guide
from kb.made_pages import GUIDE
from kb.words.catalogue import name_of

from ..html import Html, el, join, section
from ..page import Page


def make_guide() -> Page:
    """Return the page; a test runs its commands, and it says nothing of these notes."""
    steps = list(enumerate(guide(), start=1))
    body = join(
        [
            el("p", _marked(_words("page", form="lead")), class_="ohm-lead"),
            el("p", _marked(_words("page", form="before"))),
            el(
                "nav",
                [el("a", _heading(step, number=n), href=f"#{step.id}") for n, step in steps],
                class_="ohm-jumps ohm-ways-in",
                aria_label=_words("page", form="ways"),
            ),
            [_step(step, number=n) for n, step in steps],
        ]
    )
    return Page(
        path=f"{GUIDE}.md",
        title=_words("page", form="title"),
        kind="guide",
        summary=_words("page", form="summary"),
        trail=(("Home", "index.html"),),
        body=body,
    )


def _heading(step: Step, *, number: int) -> str:
    return f"{number}. {_words(step.id, form='heading')}"


def _step(step: Step, *, number: int) -> Html:
    return section(
        _heading(step, number=number),
        el("p", _marked(_words(step.id, form="lead"))),
        [_block(block, words=_words(step.id, form=block.id)) for block in step.blocks],
        id_=step.id,
    )


def _block(block: Block, *, words: str) -> list[Html]:
    """Return what a block is about, then the block; a file says its name first."""
    label = _words("page", form="file").format(file=block.file) if block.file else ""
    about = el("p", [el("strong", label), ". "] if label else None, _marked(words))
    typed = block.commands or block.text
    if not typed:
        return [about]
    name = label or words.partition(". ")[0].rstrip(".:")
    return [about, el("pre", el("code", typed), tabindex="0", role="region", aria_label=name)]


def _marked(words: str) -> list[Html]:
    """Return words in which what stands between backticks is code."""
    parts = words.split("`")
    return [el("code", part) if i % 2 else join(part) for i, part in enumerate(parts)]


def _words(name: str, *, form: str) -> str:
    return name_of("guide", name=name, form=form)
