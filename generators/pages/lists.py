"""The list of each kind, so that every page can be reached by hand from home."""

from __future__ import annotations

import re

from kb.catalog import plain_name, reading_order, spoken
from kb.model import Case, Code, Entry, Family, Instrument, Method, Part, Sensor, Source
from kb.words.phrase import in_words

from ..components import card, cards
from ..html import Html, el, join, section
from ..in_words import value_of
from ..kind_words import list_lead, list_title
from ..page import Page
from ..site_context import SiteContext


def make_list(context: SiteContext, kind: str) -> Page:
    """Return the page that lists every entry of a kind, grouped by family where it has one."""
    entries = list(context.notes.of_kind(kind).values())
    groups = _by_family(context, entries)
    body = join(
        [
            el("p", list_lead(kind), class_="ohm-lead"),
            el("p", el("a", in_words("lists.which-curve"), href=f"{context.root}which.html"))
            if kind == "curves"
            else None,
            [section(name, _cards(context, group)) for name, group in groups]
            if groups
            else _cards(context, entries),
            None if entries else el("p", in_words("shared.nothing")),
        ]
    )
    return Page(
        path=f"{kind}/index.md",
        title=list_title(kind),
        kind="index",
        summary=list_lead(kind),
        body=body,
        trail=((in_words("shared.home"), "index.html"),),
    )


def _cards(context: SiteContext, entries: list[Entry]) -> Html:
    return cards([_card(context, entry) for entry in sorted(entries, key=reading_order)])


def _card(context: SiteContext, entry: Entry) -> Html:
    href = context.href(entry)
    if isinstance(entry, Code):
        return card(
            href, mark=", ".join(spoken(way) for way in entry.shown), title=plain_name(entry)
        )
    if isinstance(entry, Sensor):
        return card(href, mark=entry.label, title=plain_name(entry), note=entry.senses)
    if isinstance(entry, Family):
        return card(href, kind=short_maker(entry), title=entry.name, note=entry.does)
    return card(href, kind=_what(entry), title=entry.name, note=_note(entry))


def _what(entry: Entry) -> str:
    """Return what an entry is, in a word above its name; nothing where all of its list are it."""
    if isinstance(entry, Case):
        return entry.on.isoformat()
    if isinstance(entry, Part):
        return value_of("part", entry.is_a)
    if isinstance(entry, Instrument):
        return value_of("instrument", entry.is_a)
    if isinstance(entry, Method):
        return value_of("judges", entry.judges)
    return ""


def _note(entry: Entry) -> str | None:
    """Return a line about an entry, below its name."""
    if isinstance(entry, Part):
        return entry.does
    return entry.title if isinstance(entry, Source) else None


def short_maker(family: Family) -> str:
    """Return the maker's name without what follows it."""
    return re.split("[,;.(]", family.maker)[0].strip()


def _by_family(context: SiteContext, entries: list[Entry]) -> list[tuple[str, list[Entry]]]:
    """Return entries by the first family each belongs to; nothing if some belong to none."""
    groups: dict[str, list[Entry]] = {}
    for entry in entries:
        if isinstance(entry, Family) or not entry.family_ids:
            return []
        groups.setdefault(entry.family_ids[0], []).append(entry)
    return [(context.catalog.get(Family, key).name, groups[key]) for key in sorted(groups)]
