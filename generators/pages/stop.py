"""Stop and ring: when the work stops, what to do first, and whom to ring."""

from __future__ import annotations

import re
from collections.abc import Mapping

from kb.made_pages import STOP
from kb.model.team import Ring
from kb.words.catalogue import ENGLISH, Stop, stops, words_of
from kb.words.phrase import in_words

from ..components import sentence
from ..html import Html, bullets, el, join, section, slug, steps
from ..in_words import words_around
from ..page import Page
from ..site_context import SiteContext


def make_stop(context: SiteContext) -> Page:
    """Return the page that every caution leads to."""
    safety = el("a", _words("safety"), href=f"{context.root}safety.html")
    body = join(
        [
            _ring(context),
            el(
                "nav",
                [el("a", stop.heading, href=f"#{_anchor(stop)}") for stop in stops()],
                class_="ohm-jumps ohm-ways-in",
                aria_label=_words("what"),
            ),
            [_stop(stop) for stop in stops()],
            el("p", words_around("stop-page.first", safety=safety), class_="ohm-hint"),
        ]
    )
    return Page(
        path=f"{STOP}.md",
        title=_words("title"),
        kind="stop",
        summary=_words("summary"),
        trail=((_words("home"), "index.html"),),
        body=body,
    )


def _ring(context: SiteContext) -> Html:
    """Return whom to ring; where the team has named nobody, that."""
    rings = context.catalog.team.ring
    if not rings:
        return el(
            "p",
            words_around("stop-page.nobody-then", nobody=el("strong", _words("nobody"))),
            class_="ohm-lead",
        )
    return section(_words("whom"), bullets(map(_whom, rings)), id_="whom-to-ring")


def _whom(ring: Ring) -> Html:
    """Return somebody to ring; a number is a key that a phone dials."""
    who = el("strong", _words("who", who=ring.who), " ")
    if ring.number is None:
        return join([who, sentence(ring.when)])
    digits = re.sub(r"[^\d+*#]", "", ring.number)
    dialled = el("a", _words("ring", number=ring.number), href=f"tel:{digits}", class_="ohm-ring")
    return join([who, sentence(ring.when), dialled])


def _stop(stop: Stop) -> Html:
    source = el("p", _words("source", source=stop.source), class_="ohm-source")
    return section(stop.heading, steps(stop.do), source, id_=_anchor(stop))


def _anchor(stop: Stop) -> str:
    """Return where it stands on the page: by its English heading, whatever the site speaks."""
    english = words_of(ENGLISH)["stop"][stop.id]
    return slug(english["heading"] if isinstance(english, Mapping) else stop.id)


def _words(name: str, /, **figures: object) -> str:
    return in_words(f"stop-page.{name}", **figures)
