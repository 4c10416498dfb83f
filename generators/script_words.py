"""Find which sections of the catalogue of words a script says something from.

A page is sent the words that its own scripts can say. They are found in the sources: whoever says a
statement writes its section out, as in `statement("reading.open")`, `nameOf("verdict", state)` or
`WORDS.case.by`, and puts together at most what comes after the section's full stop.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Mapping

from .browser_catalog import SECTIONS

_SECTION = re.compile(
    r"""["'`]([a-z][a-z-]*)\.[a-z$]"""  # "reading.open", `reading.${why}`
    r"""|\bnameOf\(\s*["']([a-z][a-z-]*)["']"""
    r"""|\bWORDS\.([a-z]\w*)"""
    r"""|\bWORDS\[["']([a-z][a-z-]*)["']\]"""
)


def words_needed(
    sources: Mapping[str, str], *, written: Collection[str]
) -> dict[str, tuple[str, ...]]:
    """Return for each source the modules that hold the words it says.

    Parameters
    ----------
    sources : mapping of path → text
    written : collection of paths
        The modules that hold a section each, as `browser_catalog.catalog_modules` writes them.
    """
    return {
        path: tuple(sorted(_sections_of(text) & set(written)))
        for path, text in sources.items()
        if path not in written
    }


def _sections_of(text: str) -> set[str]:
    return {
        SECTIONS.format(next(filter(None, found.groups()))) for found in _SECTION.finditer(text)
    }
