"""Stop and ring: when the work stops, what to do first, and whom to ring."""

from __future__ import annotations

import re

from kb.made_pages import STOP
from kb.model.team import Ring
from kb.words.catalogue import Stop, stops

from ..components import sentence
from ..html import Html, bullets, el, join, section, slug, steps
from ..page import Page
from ..site_context import SiteContext

TITLE = "Stop and ring"


def make_stop(context: SiteContext) -> Page:
    """Return the page that every caution leads to."""
    body = join(
        [
            _ring(context),
            el(
                "nav",
                [el("a", stop.heading, href=f"#{slug(stop.heading)}") for stop in stops()],
                class_="ohm-jumps ohm-ways-in",
                aria_label="What happened",
            ),
            [_stop(stop) for stop in stops()],
            el(
                "p",
                "The maker's instructions, local codes and licensed practice come first. ",
                el("a", "Safety", href=f"{context.root}safety.html"),
                class_="ohm-hint",
            ),
        ]
    )
    return Page(
        path=f"{STOP}.md",
        title=TITLE,
        kind="stop",
        summary="When the work stops, what to do first, and whom to ring.",
        trail=(("Home", "index.html"),),
        body=body,
    )


def _ring(context: SiteContext) -> Html:
    """Return whom to ring; where the team has named nobody, that."""
    rings = context.catalog.team.ring
    if not rings:
        return el(
            "p",
            el("strong", "These notes name nobody to ring."),
            " Ask before you climb, and know the number of the emergency services here.",
            class_="ohm-lead",
        )
    return section("Whom to ring", bullets(map(_whom, rings)))


def _whom(ring: Ring) -> Html:
    """Return somebody to ring; a number is a key that a phone dials."""
    if ring.number is None:
        return join([el("strong", f"{ring.who}: "), sentence(ring.when)])
    digits = re.sub(r"[^\d+*#]", "", ring.number)
    dialled = el("a", f"Ring {ring.number}", href=f"tel:{digits}", class_="ohm-ring")
    return join([el("strong", f"{ring.who}: "), sentence(ring.when), dialled])


def _stop(stop: Stop) -> Html:
    return section(
        stop.heading, steps(stop.do), el("p", f"Source: {stop.source}.", class_="ohm-source")
    )
