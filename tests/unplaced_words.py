"""Find words of the site that no catalogue holds: build it in a language that nobody writes.

Every word of the catalogue is put into letters that stand nowhere else; whatever is then still read
in plain letters comes from the notes, or was written where no translator finds it.

Run `python -m tests.unplaced_words` for the list, with a page's beginning to see only such pages.
"""

from __future__ import annotations

import re
import sys
import tempfile
from collections.abc import Iterable, Iterator, Mapping
from contextlib import contextmanager
from functools import cache
from html.parser import HTMLParser
from pathlib import Path
from typing import Literal, get_args, get_origin
from unittest import mock

import yaml
from pydantic import BaseModel

import kb.model
from kb.made_pages import FIELDS, GUIDE, STYLE
from kb.words import catalogue

TOP = Path(__file__).resolve().parents[1]
WIDE = {
    ord(letter): ord(letter) + 0xFEE0
    for letter in "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz"
}
"""Plain letter → the wide form of it."""
READ_ALOUD = {"title", "aria-label", "placeholder", "alt", "aria-description"}
KEPT = {("language", "code")}
"""What a browser reads, and nobody else."""
ENGLISH_PAGES = {f"{FIELDS}.html", f"{GUIDE}.html", f"{STYLE}.html"}
"""The pages for keepers and whoever adds to the program, in English as the commands are."""
_PLAIN = re.compile(
    r"(?<![A-Za-z0-9])[A-Za-z][A-Za-z’'\-]*(?![A-Za-z0-9])"
    r"(?:[ ,;:.()/\-–]+[A-Za-z][A-Za-z’'\-]*(?![A-Za-z0-9]))*"
)
_PIECES = re.compile(r"[.;:,()|·\uff21-\uff5a]+")
"""Between what of a text may come from different places."""
_SIGNS = re.compile(r"(?:[A-Z]{1,5}\b[^A-Za-z]*)+")
"""Marks, units, and what a meter shows: alike in every language."""
_DATA = re.compile(r"\bdocs_data/\S+|\bentry: \w+/.*", re.DOTALL)
"""Where an entry stands, and what a slip's file says: names of the notes' own, and data."""
_PLACEHOLDER = re.compile(r"(\{[^}]*\})")


def widened(value: object, *, at: tuple[str, ...] = ()) -> object:
    """Return a piece of the catalogue with its words in wide letters, placeholders as they are."""
    if at in KEPT:
        return value
    if isinstance(value, str):
        parts = _PLACEHOLDER.split(value)
        return "".join(p if p.startswith("{") else p.translate(WIDE) for p in parts)
    if isinstance(value, Mapping):
        # A caution's places are read by tests, not by people.
        return {
            k: v if k == "where" and isinstance(v, list) else widened(v, at=(*at, k))
            for k, v in value.items()
        }
    if isinstance(value, list):
        return [widened(item, at=at) for item in value]
    return value


@contextmanager
def speaking_wide() -> Iterator[None]:
    """Speak English in wide letters, whatever language is asked for."""
    wide = widened(catalogue.words_of(catalogue.ENGLISH))
    with mock.patch.object(catalogue, "words_of", lambda _: wide):
        yield


class _Words(HTMLParser):
    """Gathers what is read or read aloud, element by element."""

    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.found: list[str] = []
        self._silent = 0

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self._silent += tag in ("script", "style")
        told = dict(attrs)
        for name, value in attrs:
            if value and name in READ_ALOUD:
                self.found.append(value)
        if tag == "meta" and told.get("name") == "description":
            self.found.append(told.get("content") or "")

    def handle_endtag(self, tag: str) -> None:
        self._silent -= tag in ("script", "style")

    def handle_data(self, data: str) -> None:
        if not self._silent and data.strip():
            self.found.append(data)


def texts_of(html: str) -> list[str]:
    """Return every text of a page."""
    parser = _Words()
    # A word of the glossary is a link within a sentence, which stays one text.
    parser.feed(re.sub(r'<a class="ohm-word"[^>]*>(.*?)</a>', r"\1", html))
    return parser.found


def even(text: str) -> str:
    """Return a text without what differs between a note and its page: case, lines, quotes."""
    text = text.replace("’", "'").replace("\N{NO-BREAK SPACE}", " ")
    return re.sub(r"\s+", " ", text).casefold().strip()


def said_by_notes(folder: Path) -> str:
    """Return everything that the notes say, one text to a line."""
    lines: list[str] = []
    for path in sorted((folder / "docs_data").rglob("*.yaml")):
        lines.append(path.stem)
        lines += _strings(yaml.safe_load(path.read_text(encoding="utf-8")))
    for path in sorted((folder / "content").rglob("*.md")):
        linked = re.sub(r"\[([^\]]*)\]\([^)]*\)", r"\n\1\n", path.read_text(encoding="utf-8"))
        page = re.sub(r"[*_`#>\[\]]", "", path.read_text(encoding="utf-8"))
        lines += re.sub(r"[*_`#>]", "", linked).split("\n")
        lines += [page, *re.split(r"[|\n]", page)]
    return "\n".join(["", *map(even, lines), ""])


def _strings(value: object) -> Iterator[str]:
    if isinstance(value, str):
        yield value
    elif isinstance(value, dict):
        for name, inner in value.items():
            if name in _chosen_fields() and isinstance(inner, str) and even(inner) in _choices():
                continue
            # A pair of leads and a pin are the team's own words; a field's name is none.
            if not re.fullmatch(r"[a-z_]+", str(name)):
                yield str(name)
            yield from _strings(inner)
    elif isinstance(value, list):
        for inner in value:
            yield from _strings(inner)


@cache
def _chosen_fields() -> frozenset[str]:
    """Return the names of fields that choose from words."""
    return frozenset(
        name
        for model in blocks()
        for name, field in model.model_fields.items()
        if any(get_origin(kind) is Literal for kind in types_in(field.annotation))
    )


def chosen_words() -> set[str]:
    """Return every word that a field of an entry chooses from, and of kinds: no keeper's own."""
    found = {word for kind in kb.model.KINDS.values() for word in (kind.noun, kind.list_title)}

    def gather(kind: object) -> None:
        if get_origin(kind) is Literal:
            found.update(str(value) for value in get_args(kind))
        for inner in get_args(kind):
            gather(inner)

    for model in blocks():
        for field in model.model_fields.values():
            gather(field.annotation)
    return found


def blocks() -> Iterable[type[BaseModel]]:
    waiting, seen = list(kb.model.KINDS.values()), set()
    while waiting:
        model = waiting.pop()
        waiting += [sub for sub in model.__subclasses__() if sub not in seen]
        for field in model.model_fields.values():
            waiting += [
                inner
                for inner in types_in(field.annotation)
                if isinstance(inner, type) and issubclass(inner, BaseModel) and inner not in seen
            ]
        if model not in seen:
            seen.add(model)
            yield model


def types_in(kind: object) -> Iterator[object]:
    yield kind
    for inner in get_args(kind):
        yield from types_in(inner)


def unplaced(texts: Iterable[str], *, notes: str) -> list[str]:
    """Return the runs of plain words that neither the catalogue nor the notes said."""
    choices = _choices()
    found = []
    for text in texts:
        if _in_notes(even(text), notes=notes) and even(text) not in choices:
            continue
        parts = map(even, _PIECES.split(text))
        whole = [part for part in parts if _in_notes(part, notes=notes)]
        for run in _PLAIN.findall(_DATA.sub("", text)):
            words = even(run)
            if len(words) < 3 or _SIGNS.fullmatch(run):
                continue
            if _placed(words, notes=notes, whole=whole):
                continue
            pieces = re.split(r"\s*(?:[.;:,()]|\s[–/-]\s)\s*", run)
            found += [p for p in pieces if p and not _placed(even(p), notes=notes, whole=whole)]
    return found


@cache
def _choices() -> frozenset[str]:
    return frozenset(even(word) for word in chosen_words())


def _placed(words: str, *, notes: str, whole: list[str]) -> bool:
    """Return whether words are the notes' own; a word of choice needs others of theirs around it,
    or is what an entry is called and stands there alone."""
    if len(words) < 3 or words in ALLOWED:
        return True
    if words not in _choices():
        return _in_notes(words, notes=notes)
    return f"\n{words}\n" in notes or any(words in piece != words for piece in whole)


@cache
def _in_notes(words: str, *, notes: str) -> bool:
    return words in notes


ALLOWED = {"ohmfolio", "ohmfolio case add file", "ntc", "ptc", "iec", "min", "kω"}
"""Names that are alike in every language."""


def unplaced_by_page(site: Path, *, notes: Path) -> dict[str, list[str]]:
    """Return for each page of a built site the words that nobody placed."""
    said = said_by_notes(notes)
    found = {}
    for path in sorted(site.rglob("*.html")):
        name = path.relative_to(site).as_posix()
        left = unplaced(texts_of(path.read_text(encoding="utf-8")), notes=said)
        if left and name not in ENGLISH_PAGES:
            found[name] = left
    return found


def build_wide(notes: Path, *, out: Path) -> None:
    """Build a site whose catalogue speaks in wide letters."""
    from generators.build import build

    with speaking_wide():
        build(notes, out=out)


def main() -> None:
    """Print what is unplaced on the demo, each run of words once with the pages it stands on."""
    import shutil

    beginning = sys.argv[1] if len(sys.argv) > 1 else ""
    with tempfile.TemporaryDirectory() as folder:
        notes = Path(folder) / "notes"
        for name in ("docs_data", "content"):
            shutil.copytree(TOP / name, notes / name)
        build_wide(notes, out=Path(folder) / "site")
        pages = unplaced_by_page(Path(folder) / "site", notes=notes)
    where: dict[str, list[str]] = {}
    for page, runs in pages.items():
        if page.startswith(beginning):
            for run in runs:
                where.setdefault(run, []).append(page)
    for run, on in sorted(where.items(), key=lambda found: -len(found[1])):
        print(f"{len(on):4}  {run!r}  {on[0]}")


if __name__ == "__main__":
    main()
