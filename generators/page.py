"""A page before it is dressed: front matter for the frame, and one block of ready HTML."""

from __future__ import annotations

from dataclasses import dataclass

import yaml

from kb.model import Family

from .html import Html, el

OWN = "page"
"""The kind of a hand-written page: its text is Markdown, and never ready."""


@dataclass(frozen=True)
class Page:
    """One page of the site; `path` ends in `.md` and is where its HTML will stand."""

    path: str
    title: str
    kind: str
    summary: str
    body: Html
    trail: tuple[tuple[str, str], ...] = ()
    """Ancestors, nearest last, each (title, href from the site's root)."""
    moved_to: str = ""
    """Where a browser goes on to by itself, from the page; empty for a page to read."""
    on_paper: bool = False
    """It is made for paper as well: every printed page says of which release it is."""
    families: tuple[Family, ...] = ()
    """The families whose jobs the page belongs to."""

    @property
    def href(self) -> str:
        """The finished page, from the site's root."""
        return self.path.removesuffix(".md") + ".html"

    def front(self) -> dict[str, object]:
        """Return what the page says to its frame."""
        front: dict[str, object] = {
            "title": self.title,
            "kind": self.kind,
            "summary": self.summary,
            "trail": [{"title": title, "href": href} for title, href in self.trail],
        }
        if self.moved_to:
            front["moved_to"] = self.moved_to
        if self.on_paper:
            front["paper"] = self.path.removesuffix(".md")
        if self.families:
            front["families"] = list(map(_of_bar, self.families))
        return front

    def block(self) -> Html:
        """Return the block of ready HTML that stands in the frame."""
        return el("div", self.body, class_=f"ohm ohm-{self.kind}")

    def markdown(self) -> str:
        """Return the page as one text: front matter, then the block."""
        head = yaml.safe_dump(self.front(), sort_keys=True, allow_unicode=True, width=10_000)
        return f"---\n{head}---\n\n{self.block()}\n"


def _of_bar(family: Family) -> dict[str, str]:
    """Return what the bar of jobs needs of a family; its former ids lead a phone's jobs to it."""
    was = {"was": " ".join(family.was)} if family.was else {}
    return {"id": family.id, "name": family.name, **was}
