"""The catalog as one page sees it: each question that its maker asks is noted with the answer.

A maker is pure, so what it was answered is all that its page depends on, beside the program. Asked
the same questions later, and answered the same, it makes the same page: it need not run.
"""

from __future__ import annotations

import json
from collections.abc import Callable
from typing import Any, cast

from pydantic import BaseModel

from kb.catalog import Catalog
from kb.model import KINDS, Entry
from kb.notes.load import Notes

from .answers import OF_NOTES, TEXT, NotComparable


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
