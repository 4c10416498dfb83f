"""Where the glossary's terms stand in some words: whole words, the longest term first."""

from __future__ import annotations

import re
import zlib
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache

from pydantic import BaseModel

from kb.model import Entry, Term
from kb.model.off_page import off_page
from kb.model.words import ID_PATTERN
from kb.words.catalogue import language, template

WORD = re.compile(r"\w++(?:-\w++)*+")
"""A word as it is looked up: `pull-up` is one, and so is `ntc-10k`, which is no NTC."""
_SIGNS = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+-"
_NOT_SHOWN = frozenset({"id", "source", "was", "checked", "law"})
_AN_ID = re.compile(ID_PATTERN)


@dataclass(frozen=True)
class Mention:
    """A term in some words: which, and from where to where."""

    term_id: str
    begin: int
    end: int


def forms_of(terms: Iterable[Term]) -> dict[str, str]:
    """Return what is looked for → the id of its term; who claims a form first has it."""
    forms: dict[str, str] = {}
    for term in terms:
        for form in term.forms:
            forms.setdefault(form, term.id)
    return forms


def small_words(text: str) -> set[str]:
    """Return each word of a text once, small."""
    return set(WORD.findall(text.casefold()))


def sieve_of(words: Iterable[str]) -> str:
    """Return which small words a text has, as a sieve: another may pass it, none of them is lost.

    Two signs stand for each word, so that a page can be asked later whether a term that is new to
    the notes may stand on it: with 250 words on a page, one new word in sixteen passes wrongly.
    """
    return "".join(sorted(map(_mesh, words)))


def passing(forms: Mapping[str, str], *, sieve: str) -> dict[str, str]:
    """Return those forms that may stand in the text a sieve was made of."""
    meshes = {sieve[at : at + 2] for at in range(0, len(sieve), 2)}
    spoken = language()
    return {
        form: term_id
        for form, term_id in forms.items()
        if not meshes.isdisjoint(_meshes(form, spoken))
    }


def mentions(words: str, *, forms: Mapping[str, str]) -> Iterator[Mention]:
    """Yield each place where a term stands, in order; none within another."""
    if not forms:
        return
    by_word = _by_first_word(tuple(forms), language())
    past = 0
    for found in WORD.finditer(words):
        known = by_word.get(found[0].casefold())
        if known is None or found.start() < past:
            continue
        for form, pattern in known:
            whole = pattern.match(words, found.start())
            if whole is not None:
                past = whole.end()
                yield Mention(forms[form], found.start(), past)
                break


def shown_words(entry: Entry) -> str:
    """Return the words of an entry that a page may show: its texts, without ids."""
    return "\n".join(_texts(entry))


def _texts(value: object) -> Iterator[str]:
    if isinstance(value, str):
        if not _AN_ID.fullmatch(value):
            yield value
    elif isinstance(value, BaseModel):
        hidden = _hidden(type(value))
        for name, inner in vars(value).items():
            if name not in hidden:
                yield from _texts(inner)
    elif isinstance(value, list | tuple):
        for inner in value:
            yield from _texts(inner)
    elif isinstance(value, dict):
        for inner in value.values():
            yield from _texts(inner)


@lru_cache
def _hidden(model: type[BaseModel]) -> frozenset[str]:
    """Return the fields of a model that no page shows as words."""
    off = {name for name, field in model.model_fields.items() if off_page(field)}
    return _NOT_SHOWN | off


@lru_cache(maxsize=65536)
def _mesh(word: str) -> str:
    """Return one of 4096 pairs of signs, alike for the same word on every computer."""
    number = zlib.crc32(word.encode("utf-8"))
    return _SIGNS[number & 63] + _SIGNS[number >> 6 & 63]


@lru_cache(maxsize=8192)
def _meshes(form: str, spoken: str) -> frozenset[str]:
    return frozenset(map(_mesh, _first_words(form, spoken)))


def first_words(form: str) -> tuple[str, ...]:
    """Return how the first word of a form may be written, small, in the language in force."""
    return _first_words(form, language())


@lru_cache(maxsize=8192)
def _first_words(form: str, spoken: str) -> tuple[str, ...]:
    words = WORD.findall(form.casefold())
    if len(words) != 1:
        return tuple(words[:1])
    return tuple(f"{words[0]}{ending}" for ending in ("", *_endings(spoken)))


@lru_cache(maxsize=4096)
def _by_first_word(
    forms: tuple[str, ...], spoken: str
) -> dict[str, list[tuple[str, re.Pattern[str]]]]:
    found: dict[str, list[tuple[str, re.Pattern[str]]]] = {}
    for form in sorted(forms, key=len, reverse=True):
        for word in _first_words(form, spoken):
            found.setdefault(word, []).append((form, _pattern(form, spoken)))
    return found


@lru_cache(maxsize=8192)
def _pattern(form: str, spoken: str) -> re.Pattern[str]:
    """Return what finds a form as whole words: its first letter may be a capital.

    A form that is a sign, such as `B value`, `OL` or `NTC`, is found as it is written alone.
    """
    first = WORD.findall(form)[0]
    sign = len(first) == 1 or any(letter.isupper() for letter in form[1:])
    begin = re.escape(form[0]) if sign else f"[{form[0].lower()}{form[0].upper()}]"
    rest = r"\s+".join(map(re.escape, form[1:].split(" ")))
    ending = "|".join(map(re.escape, _endings(spoken)))
    # In a file's way or an address it is a name, and no word.
    return re.compile(rf"(?<!/){begin}{rest}(?:{ending})?(?![\w/-]|\.\w)")


@lru_cache(maxsize=8)
def _endings(spoken: str) -> tuple[str, ...]:
    """Return what a word may end in besides, in the language in force."""
    return tuple(template("term-page.endings").split())
