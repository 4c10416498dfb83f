"""Join modules in one scope: names that clash or are only a module's own get others."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import count

from .names import RESERVED, ScriptNames, Statement, names_of
from .tokens import ScriptNotRead, tokens_of

_FIRST = "etnrisoalcdupmhfgbvyTxEDIAkwSRCMjKLPNOzqWFBHGQUVJXYZ$_"
"""Letters in about the order in which the words around them have them: such names pack best."""
_SHORT = [*_FIRST, *(a + b for a in _FIRST for b in _FIRST + "0123456789")]
_SHORT = [name for name in _SHORT if name not in RESERVED]


@dataclass(frozen=True)
class Part:
    """A module as a part of a script: its path and text, and what it takes and hands on by name."""

    path: str
    text: str
    takes: frozenset[str]
    hands_on: frozenset[str]


class NotOneScope(Exception):
    """A module that cannot stand in one scope with others."""

    def __init__(self, path: str, *, why: str, name: str = "") -> None:
        super().__init__(f"{path}: {why}")
        self.path = path
        self.why = why
        self.name = name

    def placed(self, source: str) -> str:
        """Return what is wrong with the line of the module as it was written."""
        why, line = self.why, 1
        if self.name:
            found = re.search(rf"(?<![\w$]){re.escape(self.name)}(?![\w$])", source)
            line = source.count("\n", 0, found.start()) + 1 if found else 1
        else:
            try:
                tokens_of(source)
            except ScriptNotRead as fault:
                why, line = fault.why, fault.line
        return f"{self.path}:{line}: {why}"


@lru_cache(maxsize=1000)
def _read(text: str) -> ScriptNames:
    """Return the names of a module's text, read once however many scripts carry it."""
    return names_of(text)


def _names(part: Part) -> ScriptNames:
    try:
        return _read(part.text)
    except ScriptNotRead as fault:
        raise NotOneScope(part.path, why=fault.why) from fault


def in_one_scope(parts: Sequence[Part], *, shorter: bool) -> list[str]:
    """Return the texts of modules as they stand one after the other in one scope.

    Parameters
    ----------
    parts : sequence of Part
        A name that one of them takes or hands on stays as it is.
    shorter : bool
        Whether each other name that a module binds becomes a short one, inside a statement another
        one than in the next. Otherwise only those change that would meet at the top: by a number.

    Raises
    ------
    NotOneScope
    """
    scope = _scope(parts, shorter=shorter)
    short_before: dict[str, str] = {}
    texts = []
    for part in parts:
        names = _names(part)
        tokens = list(names.tokens)
        for statement in names.statements:
            new = {name: scope.get((part.path, name), name) for name in statement.uses}
            if shorter:
                own = [name for name in statement.own if name not in part.takes]
                new.update(_short(own, statement=statement, new=new, before=short_before))
            for name, uses in statement.uses.items():
                if new[name] != name:
                    for at, is_key_too in uses:
                        tokens[at] = f"{name}:{new[name]}" if is_key_too else new[name]
        texts.append("".join(tokens))
    return texts


def _scope(parts: Sequence[Part], *, shorter: bool) -> dict[tuple[str, str], str]:
    """Return the name that each name at the top of a module has in the scope of all."""
    shared = frozenset[str]().union(*(part.takes | part.hands_on for part in parts))
    taken = {*RESERVED, *shared}
    read_by_path = {part.path: _names(part) for part in parts}
    uses: Counter[tuple[str, str]] = Counter()
    for part in parts:
        names = read_by_path[part.path]
        private = names.top - part.hands_on
        _refuse(part, private=private, free=(free := _free(part, names=names)), shared=shared)
        taken |= free
        uses.update({(part.path, name): 0 for name in sorted(private)})
        for statement in names.statements:
            for name in private & statement.uses.keys():
                uses[(part.path, name)] += len(statement.uses[name])
    scope: dict[tuple[str, str], str] = {}
    short = iter(_SHORT)
    for path, name in sorted(uses, key=lambda key: (-uses[key], key)) if shorter else uses:
        fitting = short if shorter else _numbered(name, tokens=read_by_path[path].tokens)
        new = next(candidate for candidate in fitting if candidate not in taken)
        scope[(path, name)] = new
        taken.add(new)
    return scope


def _free(part: Part, *, names: ScriptNames) -> set[str]:
    """Return the names that a module finds outside of itself: they must go on meaning that."""
    at_top = names.top | part.takes | part.hands_on
    return {
        name
        for statement in names.statements
        for name in statement.uses.keys() - at_top - set(statement.own)
    }


def _refuse(
    part: Part, *, private: Collection[str], free: Collection[str], shared: Collection[str]
) -> None:
    """Refuse a name that the scope would take from the language, or from the browser."""
    for name in sorted(RESERVED.intersection(private)):
        why = f"{name} has a meaning of its own in the language: choose another name"
        raise NotOneScope(part.path, why=why, name=name)
    for name in sorted(set(free).intersection(shared)):
        why = f"{name} is not imported, and in a script it is what another module exports"
        raise NotOneScope(part.path, why=why, name=name)


def _short(
    own: Iterable[str], *, statement: Statement, new: Mapping[str, str], before: dict[str, str]
) -> dict[str, str]:
    """Return short names for what a statement binds: where possible those that it had before."""
    own = sorted(own, key=lambda name: -len(statement.uses[name]))
    taken = {new[name] for name in statement.uses.keys() - set(own)}
    short: dict[str, str] = {}
    for name in own:
        if name in before and before[name] not in taken:
            short[name] = before[name]
            taken.add(before[name])
    fitting = (name for name in _SHORT if name not in taken)
    for name in own:
        if name not in short:
            short[name] = next(fitting)
            before.setdefault(name, short[name])
    return short


def _numbered(name: str, *, tokens: Collection[str]) -> Iterator[str]:
    """Yield a name, and with numbers behind it those that stand nowhere in the module."""
    yield name
    yield from (candidate for n in count(2) if (candidate := f"{name}{n}") not in tokens)
