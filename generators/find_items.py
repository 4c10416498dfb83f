"""What Find can find: for every entry, the words and marks that somebody would type."""

from __future__ import annotations

from kb.catalog import shown_name
from kb.model import KINDS, Entry, Family

from .find_index import FindItem
from .kind_words import noun_of
from .site_context import SiteContext

SKIPPED_IN_TEXT = {"id", "checked", "source"}


def find_items(context: SiteContext) -> list[FindItem]:
    """Return one item per entry, codes first, in a fixed order."""
    models = sorted(KINDS.values(), key=lambda model: model.find_place)
    return [_item(context, entry) for model in models for entry in context.notes.of(model).values()]


def _item(context: SiteContext, entry: Entry) -> FindItem:
    family = _family(context, entry)
    return FindItem(
        kind=entry.noun,
        title=shown_name(entry),
        url=entry.href,
        keys=entry.find_keys(),
        text=" ".join(_words(entry.model_dump(exclude=SKIPPED_IN_TEXT))),
        context=family.name if family else "",
        family=family.id if family else "",
        noun=noun_of(entry.kind),
    )


def _family(context: SiteContext, entry: Entry) -> Family | None:
    if isinstance(entry, Family) or not entry.family_ids:
        return None
    return context.catalog.get(Family, entry.family_ids[0])


def _words(value: object) -> list[str]:
    """Return every text inside an entry, in order."""
    if isinstance(value, str):
        return [value]
    if isinstance(value, dict):
        return [word for inner in value.values() for word in _words(inner)]
    if isinstance(value, list | tuple):
        return [word for inner in value for word in _words(inner)]
    return []
