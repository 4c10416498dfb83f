"""Read the catalogue of words: templates, names and cautions by section and id."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path

LANGUAGE = "english"
FOLDER = Path(__file__).with_name(LANGUAGE)
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


@cache
def words() -> Words:
    """Return every section of the catalogue, from all files of the language.

    Raises
    ------
    ValueError
        If two files hold one section, or a section is none: at import of who asks first.
    """
    sections: dict[str, Mapping[str, object]] = {}
    for file in sorted(FOLDER.glob("*.toml")):
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
    if isinstance(found, Mapping):
        # A caution has more than its words.
        found = found.get("words")
    if not isinstance(found, str):
        raise LookupError(f"the catalogue of words has no '{statement_id}'")
    return found


def name_of(section: str, *, name: str, form: str = "name") -> str:
    """Return one form of a named thing: the `name` of a verdict, the `label` of a placement."""
    found = words().get(section, {}).get(name)
    if not isinstance(found, Mapping) or not isinstance(found.get(form), str):
        raise LookupError(f"the catalogue of words has no {form} of '{section}.{name}'")
    return str(found[form])


@cache
def cautions() -> Mapping[str, Caution]:
    """Return every caution by id."""
    return {
        caution_id: Caution(
            id=caution_id,
            words=name_of("caution", name=caution_id, form="words"),
            source=name_of("caution", name=caution_id, form="source"),
            where=_where(caution_id),
        )
        for caution_id in words()["caution"]
    }


def _where(caution_id: str) -> tuple[str, ...]:
    fields = words()["caution"][caution_id]
    return tuple(fields["where"]) if isinstance(fields, Mapping) else ()


@cache
def stops() -> tuple[Stop, ...]:
    """Return everything at which the work stops, in the order of the page."""
    return tuple(
        Stop(id=stop_id, heading=fields["heading"], do=tuple(fields["do"]), source=fields["source"])
        for stop_id, fields in words()["stop"].items()
        if isinstance(fields, Mapping)
    )
