"""A hand-written page on its way into the site; the team's words stand first on the Safety page."""

from __future__ import annotations

import json

from kb.notes.front_matter import read_front_matter
from kb.words.phrase import in_words

from ..components import team_rules
from ..html import Html, el
from ..page import OWN
from ..site_context import SiteContext

SAFETY = "safety"
"""The page that every page which leads to a measurement links to."""


def make_own(context: SiteContext, name: str, *, markdown: str) -> str:
    """Return the Markdown of a hand-written page as the frame takes it in.

    Its head is written here and never taken over: the frame reads leading lines such as
    `Warning: never alone.` as words about the page wherever a page has no head, and drops them.

    Parameters
    ----------
    context : SiteContext
    name : str
        The page's name from the site's root, without its ending.
    markdown : str
        The page as written.
    """
    front = read_front_matter(markdown, file=name)
    rules = _rules(context) if name == SAFETY else None
    text = _under_heading(front.text, rules) if rules else front.text
    # What JSON quotes, YAML reads as it was.
    words = (
        f"{key}: {json.dumps(written, ensure_ascii=False)}\n"
        for key, written in front.words.items()
    )
    head = "".join([f"kind: {OWN}\n", *words])
    return f"---\n{head}---\n\n{text}"


def own_title(markdown: str) -> str:
    """Return what a hand-written page is called: by its head, or by its first heading."""
    front = read_front_matter(markdown, file="")
    if "title" in front.words:
        return front.words["title"]
    for line in front.text.splitlines():
        if line.startswith("# "):
            return line[2:].strip()
    return in_words("own-page.untitled")


def _rules(context: SiteContext) -> Html | None:
    """Return the team's own words as a box that Markdown leaves alone: one line, no gap in it."""
    rules = team_rules(context)
    if not rules:
        return None
    title = in_words("own-page.rules", team=context.catalog.team.name)
    return el(
        "aside",
        el("h2", el("span", "⚠", aria_hidden="true"), " ", title),
        [el("p", rule) for rule in rules],
        class_="ohm-caution",
        aria_label=title,
    )


def _under_heading(markdown: str, box: Html) -> str:
    """Put a box under the first heading, or first of all where the page has none."""
    lines = markdown.splitlines()
    for number, line in enumerate(lines, start=1):
        if line.startswith("# "):
            return "\n".join([*lines[:number], "", box, "", *lines[number:], ""])
    return f"{box}\n\n{markdown}"
