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
class OfEach:
    """A rule of one entry at a time: `rule(entry, notes=notes)`; `Entry` stands for every kind."""

    rule: Callable[..., Found]
    models: tuple[type[Entry], ...]

    @property
    def name(self) -> str:
        """How the rule is called."""
        return self.rule.__name__

    @property
    def kinds(self) -> tuple[str, ...]:
        """The kinds whose entries it looks at, in their order."""
        return _kinds(self.models)


@dataclass(frozen=True)
class OfFile:
    """A rule of one entry's file, which may be unreadable as an entry: `rule(read)`."""

    rule: Callable[[YamlText], Found]

    @property
    def name(self) -> str:
        """How the rule is called."""
        return self.rule.__name__


@dataclass(frozen=True)
class OfAlike:
    """A rule of entries that share what one alone may have: `rule(entries, notes=notes)`.

    `shares(entry)` yields it as text. Entries come by kind, then by id.
    """

    rule: Callable[..., Found]
    models: tuple[type[Entry], ...]
    shares: Callable[..., Iterable[str]]

    @property
    def name(self) -> str:
        """How the rule is called."""
        return self.rule.__name__

    @property
    def kinds(self) -> tuple[str, ...]:
        """The kinds whose entries it looks at, in their order."""
        return _kinds(self.models)


@dataclass(frozen=True)
class OfNotes:
    """A rule of what is no entry, or of a few kinds: `rule(notes)`."""

    rule: Callable[[Notes], Found]

    @property
    def name(self) -> str:
        """How the rule is called."""
        return self.rule.__name__


@dataclass(frozen=True)
class OfOutlines:
    """A rule of all entries, which asks their outlines: `rule(notes, outlines=outlines)`."""

    rule: Callable[..., Found]

    @property
    def name(self) -> str:
        """How the rule is called."""
        return self.rule.__name__


Rule = OfEach | OfFile | OfAlike | OfNotes | OfOutlines


def _kinds(models: tuple[type[Entry], ...]) -> tuple[str, ...]:
    return tuple(KINDS) if Entry in models else tuple(model.kind for model in models)


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
