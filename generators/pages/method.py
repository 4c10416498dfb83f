"""A method's page: tools, cautions, steps, how to judge, and when to leave it alone."""

from __future__ import annotations

from kb.catalog import reading_order
from kb.model import Family, Method, Part, Sensor
from kb.numbers.rounding import format_plain

from ..components import (
    draft_badge,
    live_marked,
    method_cautions,
    other_names,
    rated_line,
    source_line,
)
from ..html import Child, Html, bullets, el, facts, join, section, steps
from ..page import Page
from ..said import value_of
from ..site_context import SiteContext


def make_method(context: SiteContext, method: Method) -> Page:
    """Return the page of one method."""
    body = join(
        [
            draft_badge(method),
            facts(
                [
                    ("Judges", value_of("judges", method.judges)),
                    ("Machine", value_of("live", method.live)),
                    ("Takes", f"{format_plain(method.minutes)} min" if method.minutes else None),
                    ("People", _people(method)),
                    ("Open for it", method.doors),
                ]
            ),
            other_names(method),
            method_cautions(context, method),
            section("Not when", bullets(method.not_when)),
            section("Have in hand", bullets(_in_hand(context, method))),
            section("Steps", steps(map(live_marked, method.steps))),
            section("How to judge", el("p", method.judge)),
            section("What it cannot tell", bullets(method.limits)),
            _used_on(context, method),
            source_line(context, method),
        ]
    )
    return Page(
        path=f"methods/{method.id}.md",
        title=method.name,
        kind="method",
        summary=f"Judges {value_of('judges', method.judges)}",
        trail=(("Methods", "methods/index.html"),),
        body=body,
    )


def _people(method: Method) -> str | None:
    return f"{format_plain(method.people)}, for safety's sake" if method.people > 1 else None


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
        "Used on",
        facts(
            (context.catalog.get(Family, family).name, bullets(links))
            for family, links in families.items()
        ),
    )
