"""The catalog as one page sees it: each question that its maker asks is noted with the answer.

A maker is pure, so what it was answered is all that its page depends on, beside the program. Asked
the same questions later, and answered the same, it makes the same page: it need not run.
"""

from __future__ import annotations

import datetime
import hashlib
import json
from collections.abc import Callable, Mapping
from typing import Any, cast

from pydantic import BaseModel

from kb.catalog import Catalog
from kb.model import KINDS, Curve, Entry, Slip, Team
from kb.notes.load import Notes
from kb.numbers.characteristic import Characteristic

OF_NOTES = "notes."
TEXT = "text"
"""Asks for nothing of an entry's file but its name and its version."""


class NotComparable(TypeError):
    """A question or an answer that cannot be held against an earlier one."""


class Answers:
    """What the notes answer to any question now, each as a checksum, worked out once."""

    def __init__(self, catalog: Catalog) -> None:
        self._catalog = catalog
        self._known: dict[str, str] = {}

    def to(self, question: str) -> str:
        """Return the checksum of an answer; of one that cannot be given, nothing."""
        if question not in self._known:
            self._known[question] = self._asked(question)
        return self._known[question]

    def to_all(self, questions: tuple[str, ...]) -> str:
        """Return the checksum of all answers; nothing when one of them cannot be given."""
        answers = [self.to(question) for question in questions]
        return _checksum(" ".join(answers)) if all(answers) else ""

    def _asked(self, question: str) -> str:
        try:
            name, *arguments = json.loads(question)
            given = [self._argument(argument) for argument in arguments]
            if name == TEXT:
                return _checksum(self._file(cast(Entry, given[0])))
            holder: object = self._catalog
            if name.startswith(OF_NOTES):
                holder, name = self._catalog.notes, name.removeprefix(OF_NOTES)
            value = getattr(holder, name)
            return _checksum(self._print(value(*given) if callable(value) else value))
        except (LookupError, AttributeError, TypeError, ValueError):
            return ""

    def _argument(self, argument: list[str]) -> object:
        match argument:
            case ["kind", "*"]:
                return Entry
            case ["kind", kind]:
                return KINDS[kind]
            case ["entry", kind, entry_id]:
                return self._catalog.notes.of_kind(kind)[entry_id]
            case ["text", text]:
                return text
        raise NotComparable(argument)

    def _file(self, entry: Entry) -> str:
        read = self._catalog.notes.texts[(entry.kind, entry.id)]
        if not read.checksum:
            raise NotComparable(read.file)
        return f"{read.file}={read.checksum}"

    def _print(self, value: object) -> str:
        """Return an answer as text that is another for every other answer."""
        match value:
            case Entry():
                return f"<{value.kind} {value.id} {self._file(value)}>"
            case Team() | Slip():
                return value.model_dump_json()
            case Characteristic():
                return self._print(self._catalog.get(Curve, value.id))
            case None | str() | bool() | int() | float() | datetime.date():
                return repr(value)
            case list() | tuple():
                return f"[{','.join(self._print(item) for item in value)}]"
            case Mapping():
                pairs = (f"{self._print(key)}:{self._print(value[key])}" for key in value)
                return f"{{{','.join(pairs)}}}"
        raise NotComparable(type(value).__name__)


class TracedCatalog:
    """Stands for a catalog while one page is made, and notes what it is asked."""

    def __init__(self, catalog: Catalog) -> None:
        self._catalog = catalog
        self._questions: dict[str, None] = {}
        self._comparable = True

    @property
    def questions(self) -> tuple[str, ...] | None:
        """Every question asked, in a fixed order; None when one of them cannot be repeated."""
        return tuple(sorted(self._questions)) if self._comparable else None

    @property
    def notes(self) -> Notes:
        """The notes, traced as well."""
        return cast(Notes, _TracedNotes(self))

    def __getattr__(self, name: str) -> object:
        return self.answer(self._catalog, name)

    def answer(self, holder: Catalog | Notes, name: str) -> object:
        """Return what stands under a name of the catalog or its notes, and note that it did."""
        if name.startswith("_"):
            raise AttributeError(name)
        value = getattr(holder, name)
        asked = f"{OF_NOTES}{name}" if isinstance(holder, Notes) else name
        if not callable(value):
            self.note(asked)
            return value
        call = cast(Callable[..., object], value)

        def answered(*arguments: object) -> object:
            self.note(asked, *arguments)
            return call(*arguments)

        return answered

    def note(self, name: str, *arguments: object) -> None:
        """Note a question."""
        try:
            words = [name, *(_written(argument) for argument in arguments)]
        except NotComparable:
            self._comparable = False
        else:
            self._questions[json.dumps(words, ensure_ascii=False)] = None


class _TracedNotes:
    """The notes as one page sees them."""

    def __init__(self, traced: TracedCatalog) -> None:
        self._traced = traced

    @property
    def texts(self) -> _TracedTexts:
        return _TracedTexts(self._traced)

    def __getattr__(self, name: str) -> object:
        return self._traced.answer(self._traced._catalog.notes, name)


class _TracedTexts:
    """The files that entries were read from: only how one is called, and its version."""

    def __init__(self, traced: TracedCatalog) -> None:
        self._traced = traced

    def __getitem__(self, key: tuple[str, str]) -> Any:
        notes = self._traced._catalog.notes
        self._traced.note(TEXT, notes.of_kind(key[0])[key[1]])
        return notes.texts[key]


def _written(argument: object) -> list[str]:
    if isinstance(argument, str):
        return ["text", argument]
    if isinstance(argument, Entry):
        return ["entry", argument.kind, argument.id]
    if argument is Entry:
        return ["kind", "*"]
    if isinstance(argument, type) and issubclass(argument, BaseModel):
        kind = getattr(argument, "kind", "")
        if KINDS.get(kind) is argument:
            return ["kind", kind]
    raise NotComparable(argument)


def _checksum(text: str) -> str:
    return hashlib.sha256(text.encode("utf-8", "surrogatepass")).hexdigest()
