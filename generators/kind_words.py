"""What a page calls a kind of entry, in the language in force."""

from __future__ import annotations

from kb.words.catalogue import name_of


def noun_of(kind: str) -> str:
    """Return what one of a kind is called: `sensor`.

    Raises
    ------
    LookupError
        If the catalogue's section `kind` has no such kind; the other two alike.
    """
    return name_of("kind", name=kind, form="noun")


def list_title(kind: str) -> str:
    """Return the heading of a kind's list: `Sensors`."""
    return name_of("kind", name=kind, form="title")


def list_lead(kind: str) -> str:
    """Return the line that says what is in a kind's list."""
    return name_of("kind", name=kind, form="lead")
