"""What Find can find: for every entry, the words and marks that somebody would type."""

from __future__ import annotations

from functools import partial
from typing import Any

from kb.catalog import Catalog, shown_name
from kb.model import KINDS, Entry, Family

from .find_index import FindItem, text_words
from .kind_words import noun_of
from .site_context import SiteContext

SKIPPED_IN_TEXT = {"id", "checked", "source"}


def find_items(context: SiteContext) -> list[FindItem]:
    """Return one item per entry, codes first, in a fixed order."""
    models = sorted(KINDS.values(), key=lambda model: model.find_place)
    found = []
    for model in models:
        for entry_id in context.notes.of(model):
            item = context.worked.of_questions(
                f"find {model.kind}/{entry_id}",
                context.catalog,
                make=partial(_item, model=model, entry_id=entry_id),
            )
            found.append(FindItem(**item))
    return found


def _item(catalog: Catalog, *, model: type[Entry], entry_id: str) -> dict[str, Any]:
    """Return the fields of an entry's item."""
    entry = catalog.get(model, entry_id)
    title, text = shown_name(entry), " ".join(_words(entry.model_dump(exclude=SKIPPED_IN_TEXT)))
    family = _family(catalog, entry)
    context = family.name if family else ""
    return {
        "kind": entry.noun,
        "title": title,
        "url": entry.href,
        "keys": entry.find_keys(),
        "words": text_words(f"{title} {context} {text}"),
        "context": context,
        "family": family.id if family else "",
        "noun": noun_of(entry.kind),
    }


def _family(catalog: Catalog, entry: Entry) -> Family | None:
    if isinstance(entry, Family) or not entry.family_ids:
        return None
    return catalog.get(Family, entry.family_ids[0])


def _words(value: object) -> list[str]:
    """Return every text inside an entry, in order."""
    if isinstance(value, str):
        return [value]
    if isinstance(value, dict):
        return [word for inner in value.values() for word in _words(inner)]
    if isinstance(value, list | tuple):
        return [word for inner in value for word in _words(inner)]
    return []
