"""Mark a field that no page shows, and say why not: every other field reaches whoever reads."""

from __future__ import annotations

from dataclasses import dataclass

from pydantic.fields import FieldInfo


@dataclass(frozen=True)
class OffPage:
    """Marks a field that no page shows.

    Parameters
    ----------
    why : str
        What the field is for instead, in a sentence.
    """

    why: str


def off_page(field: FieldInfo) -> OffPage | None:
    """Return the mark of a field that no page shows; None for one that has to be shown."""
    return next((mark for mark in field.metadata if isinstance(mark, OffPage)), None)
