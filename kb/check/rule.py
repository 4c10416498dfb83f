"""What a rule looks at: one entry and the few it names, entries that may clash, or all of them.

A rule of one entry need not run again while the files are as they were that it looked into.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from kb.model import KINDS, Entry
from kb.notes.load import Notes
from kb.notes.problem import Problem
from kb.notes.yaml_text import YamlText

from .outline import Key, Outline

Found = Iterable[Problem]


@dataclass(frozen=True)
class _Ruling:
    """A rule, called as its function is."""

    rule: Callable[..., Found]

    @property
    def name(self) -> str:
        """How the rule is called."""
        return self.rule.__name__


@dataclass(frozen=True)
class _OfKinds(_Ruling):
    """A rule of entries of some kinds."""

    models: tuple[type[Entry], ...]

    @property
    def kinds(self) -> tuple[str, ...]:
        """The kinds whose entries it looks at, in their order."""
        return tuple(KINDS) if Entry in self.models else tuple(own.kind for own in self.models)


@dataclass(frozen=True)
class OfEach(_OfKinds):
    """A rule of one entry at a time: `rule(entry, notes=notes)`; `Entry` stands for every kind."""


@dataclass(frozen=True)
class OfFile(_Ruling):
    """A rule of one entry's file, which may be unreadable as an entry: `rule(read)`."""

    rule: Callable[[YamlText], Found]


@dataclass(frozen=True)
class OfAlike(_OfKinds):
    """A rule of entries that share what one alone may have: `rule(entries, notes=notes)`.

    `shares(entry)` yields it as text. Entries come by kind, then by id.
    """

    shares: Callable[..., Iterable[str]]


@dataclass(frozen=True)
class OfNotes(_Ruling):
    """A rule of what is no entry, or of a few kinds: `rule(notes)`."""

    rule: Callable[[Notes], Found]


@dataclass(frozen=True)
class OfOutlines(_Ruling):
    """A rule of all entries, which asks their outlines: `rule(notes, outlines=outlines)`."""


Rule = OfEach | OfFile | OfAlike | OfNotes | OfOutlines


def alike(
    outlines: Mapping[Key, Outline], *, notes: Notes, of: Sequence[OfAlike]
) -> Iterator[Problem]:
    """Yield what the rules find among entries that share something; the others are not read."""
    sharing: dict[str, list[Key]] = {}
    for key, outline in outlines.items():
        for shared in outline.shares:
            sharing.setdefault(shared, []).append(key)
    rules = {each.name: each for each in of}
    for shared, keys in sharing.items():
        rule = rules.get(shared.partition("\n")[0])
        if rule is not None and len(keys) > 1:
            members: list[Any] = [notes.of_kind(kind)[own] for kind, own in dict.fromkeys(keys)]
            yield from rule.rule(members, notes=notes)
