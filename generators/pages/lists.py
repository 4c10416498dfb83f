"""The list of each kind, so that every page can be reached by hand from home."""

from __future__ import annotations

import re

from kb.catalog import plain_name, reading_order
from kb.model import KINDS, Code, Entry, Family, Sensor

from ..components import card, cards
from ..html import Html, el, join, section
from ..page import Page
from ..site_context import SiteContext


def make_list(context: SiteContext, kind: str) -> Page:
    """Return the page that lists every entry of a kind, grouped by family where it has one."""
    model = KINDS[kind]
    entries = list(context.notes.of_kind(kind).values())
    groups = _by_family(context, entries)
    body = join(
        [
            el("p", model.list_lead, class_="ohm-lead"),
            el(
                "p",
                el(
                    "a",
                    "Which curve is this? From readings of an unmarked sensor",
                    href=f"{context.root}which.html",
                ),
            )
            if kind == "curves"
            else None,
            [section(name, _cards(context, group)) for name, group in groups]
            if groups
            else _cards(context, entries),
            None if entries else el("p", "Nothing here yet."),
        ]
    )
    return Page(
        path=f"{kind}/index.md",
        title=model.list_title,
        kind="index",
        summary=model.list_lead,
        body=body,
        trail=(("Home", "index.html"),),
    )


def _cards(context: SiteContext, entries: list[Entry]) -> Html:
    key = (lambda one: one.order) if entries and entries[0].kind == "lessons" else reading_order
    return cards([_card(context, one) for one in sorted(entries, key=key)])


def _card(context: SiteContext, one: Entry) -> Html:
    if isinstance(one, Code):
        return card(
            context.href(one), ", ".join(way.spoken() for way in one.shown), plain_name(one)
        )
    if isinstance(one, Sensor):
        return card(context.href(one), one.label, plain_name(one), one.senses)
    if isinstance(one, Family):
        return card(context.href(one), short_maker(one), one.name, one.does)
    what = getattr(one, "is_a", None) or getattr(one, "judges", None) or one.noun
    if one.kind == "cases":
        what = one.on.isoformat()
    note = getattr(one, "does", None) or getattr(one, "about", None) or getattr(one, "title", None)
    return card(context.href(one), what, one.name, note)


def short_maker(family: Family) -> str:
    """Return the maker's name without what follows it."""
    return re.split("[,;.(]", family.maker)[0].strip()


def _by_family(context: SiteContext, entries: list[Entry]) -> list[tuple[str, list[Entry]]]:
    groups: dict[str, list[Entry]] = {}
    for one in entries:
        family = getattr(one, "family", None) or next(iter(getattr(one, "families", [])), None)
        if family is None:
            return []
        groups.setdefault(family, []).append(one)
    return [(context.catalog.get(Family, key).name, groups[key]) for key in sorted(groups)]
