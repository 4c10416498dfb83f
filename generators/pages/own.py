"""A hand-written page on its way into the site; the team's words stand first on the Safety page."""

from __future__ import annotations

import re

from kb.words.phrase import in_words

from ..components import team_rules
from ..html import Html, el
from ..site_context import SiteContext

SAFETY = "safety"
"""The page that every page which leads to a measurement links to."""
_FRONT_MATTER = re.compile(r"\A---\n.*?\n---\n", re.DOTALL)


def make_own(context: SiteContext, name: str, *, markdown: str) -> str:
    """Return the Markdown of a hand-written page as the frame takes it in.

    Parameters
    ----------
    context : SiteContext
    name : str
        The page's name from the site's root, without its ending.
    markdown : str
        The page as written.
    """
    if name != SAFETY:
        return markdown
    rules = _rules(context)
    return _under_heading(markdown, rules) if rules else markdown


def own_title(markdown: str) -> str:
    """Return the first heading of a hand-written page."""
    for line in markdown.splitlines():
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
    front = _FRONT_MATTER.match(markdown)
    head = front[0] if front else ""
    return f"{head}\n{box}\n\n{markdown[len(head) :]}"
