"""A method's page: tools, cautions, steps, how to judge, and when to leave it alone."""

from __future__ import annotations

from kb.catalog import reading_order
from kb.model import Family, Method, Part, Sensor
from kb.words.phrase import in_words

from ..components import (
    draft_badge,
    live_marked,
    method_cautions,
    other_names,
    rated_line,
    source_line,
)
from ..html import Child, Html, bullets, el, facts, join, section, steps
from ..in_words import value_of
from ..page import Page
from ..site_context import SiteContext


def make_method(context: SiteContext, method: Method) -> Page:
    """Return the page of one method."""
    body = join(
        [
            draft_badge(method),
            method_cautions(context, method),
            facts(
                [
                    (in_words("method-page.judges"), value_of("judges", method.judges)),
                    (in_words("method-page.machine"), value_of("live", method.live)),
                    (in_words("method-page.takes"), _takes(method)),
                    (in_words("method-page.people"), _people(method)),
                    (in_words("method-page.doors"), method.doors),
                ]
            ),
            other_names(method),
            section(in_words("method-page.not-when"), bullets(method.not_when), id_="not-when"),
            section(
                in_words("method-page.in-hand"),
                bullets(_in_hand(context, method)),
                id_="have-in-hand",
            ),
            section(
                in_words("method-page.steps"), steps(map(live_marked, method.steps)), id_="steps"
            ),
            section(in_words("method-page.how"), el("p", method.judge), id_="how-to-judge"),
            section(
                in_words("method-page.limits"), bullets(method.limits), id_="what-it-cannot-tell"
            ),
            _used_on(context, method),
            source_line(context, method),
        ]
    )
    return Page(
        path=f"methods/{method.id}.md",
        title=method.name,
        kind="method",
        summary=in_words("method-page.summary", what=value_of("judges", method.judges)),
        trail=((in_words("method-page.all"), "methods/index.html"),),
        on_paper=True,
        body=body,
    )


def _people(method: Method) -> str | None:
    if method.people < 2:
        return None
    return in_words("method-page.people-for-safety", people=method.people)


def _takes(method: Method) -> str | None:
    return in_words("method-page.minutes", minutes=method.minutes) if method.minutes else None


def _in_hand(context: SiteContext, method: Method) -> list[Child]:
    """Return the tools; where volts may stand at the tips, which instruments are rated for them."""
    rated = [rated_line(context, method.volts)] if method.volts else []
    return [*method.tools, *rated]


def _used_on(context: SiteContext, method: Method) -> Html:
    """Return what it is used on, family by family: many machines have a T5."""
    families: dict[str, list[Html]] = {}
    users = context.catalog.users_of
    sensors = sorted(users(method, Sensor), key=reading_order)
    for entry in (*sensors, *sorted(users(method, Part), key=reading_order)):
        families.setdefault(entry.family_ids[0], []).append(context.link(entry))
    return section(
        in_words("method-page.used"),
        facts(
            (context.catalog.get(Family, family).name, bullets(links))
            for family, links in families.items()
        ),
        id_="used-on",
    )
