"""The page at an address that an entry had before it got another id: it leads to the new one."""

from __future__ import annotations

from kb.catalog import shown_name
from kb.model import Entry
from kb.words.phrase import in_words

from ..html import el
from ..in_words import words_around
from ..kind_words import list_title
from ..page import Page
from ..site_context import SiteContext


def make_former(context: SiteContext, entry: Entry, *, path: str) -> Page:
    """Return the page at a former address of an entry.

    Parameters
    ----------
    context : SiteContext
    entry : Entry
        What stands elsewhere now.
    path : str
        Where it stood, ending in `.md`.
    """
    # The page of a family's jobs moves with the family.
    folder = path.partition("/")[0]
    href = f"{context.root}{folder}/{entry.id}.html"
    return Page(
        path=path,
        title=in_words("former-page.title", entry=entry.name),
        kind="former",
        summary=in_words("former-page.summary", entry=entry.name),
        trail=((list_title(entry.kind), f"{entry.kind}/index.html"),),
        body=el("p", words_around("former-page.moved", link=el("a", shown_name(entry), href=href))),
        moved_to=href,
    )
