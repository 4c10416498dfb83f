"""Read the catalogue of words: templates, names and cautions by section and id, in one language.

The language in force is English until somebody says otherwise: a build speaks the team's for as
long as it lasts (`speaking`), a command always speaks English. Each language is a folder beside
this file, and a test holds them all to the same sections, ids and placeholders.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from kb.numbers.same import once_each

ENGLISH = "english"
FOLDER = Path(__file__).parent
"""Holds one folder a language."""
PLACEHOLDER = re.compile(r"\{(\w+)(?::([^}]*))?\}")
"""`{t_c}`, or `{t_c:0}` with what the unit's printing may be told."""

Words = Mapping[str, Mapping[str, object]]


@dataclass(frozen=True, kw_only=True)
class Caution:
    """Something that can hurt, and where it must stand.

    Parameters
    ----------
    id, words, source : str
        Its source may be "common practice, no source".
    where : tuple of str
        The answers and forms that show it.
    """

    id: str
    words: str
    source: str
    where: tuple[str, ...]


@dataclass(frozen=True, kw_only=True)
class Stop:
    """Something at which the work stops, and what to do first.

    Parameters
    ----------
    id, heading, source : str
    do : tuple of str
        In this order.
    """

    id: str
    heading: str
    do: tuple[str, ...]
    source: str


_IN_FORCE: ContextVar[str] = ContextVar("language", default=ENGLISH)


@cache
def languages() -> tuple[str, ...]:
    """Return the languages that there are words in."""
    return tuple(sorted(path.name for path in FOLDER.iterdir() if any(path.rglob("*.toml"))))


def language() -> str:
    """Return the language in force."""
    return _IN_FORCE.get()


@contextmanager
def speaking(chosen: str) -> Iterator[None]:
    """Speak another language for as long as the block lasts.

    Raises
    ------
    LookupError
        If there are no words in it.
    """
    if chosen not in languages():
        raise LookupError(f"there are no words in {chosen}; there are {', '.join(languages())}")
    before = _IN_FORCE.set(chosen)
    try:
        yield
    finally:
        _IN_FORCE.reset(before)


def words() -> Words:
    """Return every section of the catalogue, from all files of the language in force.

    Raises
    ------
    ValueError
        If two files hold one section, or a section is none.
    """
    return words_of(language())


@cache
def words_of(chosen: str) -> Words:
    """Return every section of one language; raises as `words` does."""
    sections: dict[str, Mapping[str, object]] = {}
    for file in sorted((FOLDER / chosen).rglob("*.toml")):
        for section, entries in tomllib.loads(file.read_text(encoding="utf-8")).items():
            if section in sections or not isinstance(entries, dict):
                raise ValueError(f"{file.name}: '{section}' must be a section, and stand once")
            sections[section] = entries
    return sections


def template(statement_id: str) -> str:
    """Return the words of a statement, placeholders in place.

    Raises
    ------
    LookupError
        If the catalogue has no such words.
    """
    section, _, name = statement_id.partition(".")
    found = words().get(section, {}).get(name)
    if isinstance(found, str):
        return found
    if isinstance(found, Mapping) and isinstance(found.get("words"), str):
        # A caution has more than its words.
        return str(found["words"])
    raise LookupError(f"the catalogue of words has no '{statement_id}'")


@cache
def cut(template_words: str) -> tuple[str, tuple[tuple[str, str, str], ...]]:
    """Return the words of a template up to its first placeholder; then each placeholder.

    Each comes as its name, what its printing may be told, and the words after it. The catalogue
    has some thousand templates, and a build says each of them a hundred times.
    """
    first, *rest = PLACEHOLDER.split(template_words)
    return first, tuple(
        (name, spec or "", after)
        for name, spec, after in zip(rest[::3], rest[1::3], rest[2::3], strict=True)
    )


def name_of(section: str, *, name: str, form: str = "name") -> str:
    """Return one form of a named thing: the `name` of a verdict, the `label` of a placement."""
    found = words().get(section, {}).get(name)
    if not isinstance(found, Mapping) or not isinstance(found.get(form), str):
        raise LookupError(f"the catalogue of words has no {form} of '{section}.{name}'")
    return str(found[form])


def cautions() -> Mapping[str, Caution]:
    """Return every caution by id."""
    return _cautions_in(words()["caution"])


def _each_caution(section: Mapping[str, object]) -> Mapping[str, Caution]:
    return {
        caution_id: Caution(
            id=caution_id,
            words=fields["words"],
            source=fields["source"],
            where=tuple(fields["where"]),
        )
        for caution_id, fields in section.items()
        if isinstance(fields, Mapping)
    }


_cautions_in = once_each(_each_caution, most=8)
"""By the section of a language: every page of a sensor asks for them."""


def stops() -> tuple[Stop, ...]:
    """Return everything at which the work stops, in the order of the page."""
    return tuple(
        Stop(id=stop_id, heading=fields["heading"], do=tuple(fields["do"]), source=fields["source"])
        for stop_id, fields in words()["stop"].items()
        if isinstance(fields, Mapping)
    )
