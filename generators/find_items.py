"""What Find can find: for every entry, the words and marks that somebody would type."""

from __future__ import annotations

from kb.catalog import shown_name
from kb.model import Code, Entry, Family, Part, Sensor

from .find_index import FindItem
from .site_context import SiteContext

SKIPPED_IN_TEXT = {"id", "checked", "source"}


def find_items(context: SiteContext) -> list[FindItem]:
    """Return one item per entry, codes first, in a fixed order."""
    kinds = (
        "codes",
        "sensors",
        "parts",
        "families",
        "methods",
        "instruments",
        "curves",
        "cases",
        "drawings",
        "lessons",
        "sources",
    )
    return [_item(context, one) for kind in kinds for one in context.notes.of_kind(kind).values()]


def _item(context: SiteContext, entry: Entry) -> FindItem:
    return FindItem(
        kind=entry.noun,
        title=shown_name(entry),
        url=entry.href,
        keys=_keys(entry),
        text=" ".join(_words(entry.model_dump(exclude=SKIPPED_IN_TEXT))),
        context=_context(context, entry),
    )


def _context(context: SiteContext, entry: Entry) -> str:
    family = getattr(entry, "family", None) or next(iter(getattr(entry, "families", [])), None)
    return context.catalog.get(Family, family).name if family else ""


def _keys(entry: Entry) -> list[tuple[str, str]]:
    keys = [("name", entry.name), *(("aka", one) for one in entry.aka)]
    if isinstance(entry, Code):
        for way in entry.shown:
            if way.blinks:
                keys.append(("blinks", f"{way.blinks.long}L{way.blinks.short}S"))
            else:
                keys.append(("code", way.spoken()))
    if isinstance(entry, Sensor):
        keys.append(("label", entry.label))
        if entry.plug:
            keys.append(("plug", entry.plug.mark))
        if entry.order:
            keys.append(("order", entry.order))
    if isinstance(entry, Part) and entry.order:
        keys.append(("order", entry.order))
    return keys


def _words(value: object) -> list[str]:
    """Return every text inside an entry, in order."""
    if isinstance(value, str):
        return [value]
    if isinstance(value, dict):
        return [word for told in value.values() for word in _words(told)]
    if isinstance(value, list | tuple):
        return [word for told in value for word in _words(told)]
    return []
