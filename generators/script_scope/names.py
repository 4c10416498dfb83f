"""Find the names in a script: where each is used, where each is bound, and what is no name.

A name is what a scope binds or looks up. What follows a dot, a key of an object, a method and a
field of a class are none: they are the same in every scope. Where a name is bound is found
generously, to the end of the brackets around it.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field

from .tokens import places_of_words, tokens_of

RESERVED = frozenset(
    re.findall(
        r"\w+",
        """
        await break case catch class const continue debugger default delete do else enum export
        extends false finally for function if implements import in instanceof interface let new
        null package private protected public return static super switch this throw true try typeof
        var void while with yield
        arguments async eval get of set undefined Infinity NaN
        Ohm
        """,
    )
)
"""Words of the language (ECMA-262, 12.7.2), those that mean something in places, and our global."""
_OPENS_BLOCK = {"", ")", "=>", ";", "{", "}", "else", "do", "try", "finally", "catch"}
_HEADS = {"if", "for", "while", "switch", "with", "await"}
"""What a bracket with no parameters follows, though a block comes after it."""
_BEFORE_KEY = {"get", "set", "async", "static", "*"}
_ENDS_WITH_BLOCK = {
    *("function", "class", "async", "if", "else", "for", "while", "switch"),
    *("try", "catch", "finally", "{"),
}
"""Statements that a brace ends; every other one ends with a semicolon."""
_END = 10**9


Use = tuple[int, bool]
"""A token where a name stands, and whether it is its own key too, as both are in `{ both }`."""


@dataclass(frozen=True)
class Statement:
    """A statement outside all brackets.

    Parameters
    ----------
    uses : mapping of name → where it stands
    own : tuple of names
        Those that mean something bound inside the statement wherever they stand.
    """

    uses: dict[str, list[Use]]
    own: tuple[str, ...]


@dataclass(frozen=True)
class ScriptNames:
    """What a script does with names.

    Parameters
    ----------
    tokens : tuple of str
        The whole script.
    top : frozenset of names
        Those that are bound outside all brackets.
    statements : tuple of Statement
    """

    tokens: tuple[str, ...]
    top: frozenset[str]
    statements: tuple[Statement, ...]


def names_of(text: str) -> ScriptNames:
    """Return the names of a script.

    Raises
    ------
    ScriptNotRead
        When it cannot be cut into tokens.
    """
    tokens = tokens_of(text)
    places = places_of_words(tokens)
    reader = _Reader([tokens[at].strip() for at in places])
    reader.read()
    bound = {
        name: [(first, reader.ends.get(opened, _END)) for first, opened in brackets]
        for name, brackets in reader.bound.items()
    }
    statements = []
    for uses in reader.statements:
        by_name: dict[str, list[Use]] = {}
        foreign = set(reader.top)
        for at, name, is_key_too in uses:
            by_name.setdefault(name, []).append((places[at], is_key_too))
            if name not in foreign and not _is_within(at, brackets=bound.get(name, ())):
                foreign.add(name)
        own = tuple(name for name in by_name if name not in foreign)
        statements.append(Statement(by_name, own))
    return ScriptNames(tuple(tokens), frozenset(reader.top), tuple(statements))


def _is_within(at: int, *, brackets: Sequence[tuple[int, int]]) -> bool:
    for first, last in brackets:  # noqa: SIM110 - a generator for each name costs a tenth of a build
        if first <= at <= last:
            return True
    return False


@dataclass(slots=True)
class _Bracket:
    """An open bracket: its kind, where it stands, and what is still to come inside it."""

    kind: str
    opened: int
    choices: int = 0
    class_begun: bool = False
    declares: bool = False


@dataclass
class _Reader:
    """Goes through the words of a script once, with the brackets that are open around each."""

    words: list[str]
    at: int = 0
    before: str = ""
    inside: _Bracket = field(default_factory=lambda: _Bracket("block", -1))
    around: list[_Bracket] = field(default_factory=list)
    opened_by: dict[int, int] = field(default_factory=dict)
    ends: dict[int, int] = field(default_factory=dict)
    bound: dict[str, list[tuple[int, int]]] = field(default_factory=dict)
    top: set[str] = field(default_factory=set)
    uses: list[tuple[int, str, bool]] = field(default_factory=list)
    statements: list[list[tuple[int, str, bool]]] = field(default_factory=list)
    begun: int = 0
    chosen: int = -1

    def read(self) -> None:
        signs: dict[str, Callable[[], None]] = {
            "{": self.brace,
            "(": self.bracket,
            "[": self.bracket,
            "}": self.close,
            ")": self.close,
            "]": self.close,
            "?": self.choice,
            ":": self.colon,
            ";": self.semicolon,
            ",": self.comma,
            "=>": self.arrow,
        }
        words = self.words
        words += ["", ""]
        before = ""
        for at, word in enumerate(words[:-2]):
            self.at, self.before = at, before
            if word in signs:
                signs[word]()
            elif word[0] == "`" or word[0] == "}":
                self.template(word)
            elif word[0].isalpha() or word[0] in "_$":
                self.word(word)
            before = word
        self.statements.append(self.uses)

    def brace(self) -> None:
        before, inside = self.before, self.inside
        if inside.class_begun:
            kind, inside.class_begun = "class", False
        elif before == ":" and inside.kind == "block" and self.chosen != self.at - 1:
            kind = "block"
        else:
            kind = "block" if before in _OPENS_BLOCK else "object"
        if before == ")" and kind == "block":
            opened = self.opened_by[self.at - 1]
            if self.words[opened - 1] not in _HEADS:
                self.bind(_in_pattern(self.words, opened), first=opened, opened=self.at)
        self.enter(kind)

    def bracket(self) -> None:
        self.enter("other")

    def enter(self, kind: str) -> None:
        self.around.append(self.inside)
        self.inside = _Bracket(kind, self.at)

    def close(self) -> None:
        self.opened_by[self.at] = self.inside.opened
        self.ends[self.inside.opened] = self.at
        self.inside = self.around.pop()
        ends = not self.around and self.words[self.at] == "}"
        if ends and self.words[self.begun] in _ENDS_WITH_BLOCK:
            self.end_statement()

    def template(self, word: str) -> None:
        if word[0] == "}":
            self.close()
        if word.endswith("${"):
            self.enter("other")

    def choice(self) -> None:
        self.inside.choices += 1

    def colon(self) -> None:
        if self.inside.choices:
            self.inside.choices -= 1
            self.chosen = self.at

    def comma(self) -> None:
        if self.inside.declares:
            self.bind_here(_declared(self.words, self.at + 1))

    def semicolon(self) -> None:
        self.inside.declares = False
        if not self.around:
            self.end_statement()

    def end_statement(self) -> None:
        self.statements.append(self.uses)
        self.uses = []
        self.begun = self.at + 1

    def arrow(self) -> None:
        opened = self.at + 1 if self.words[self.at + 1] == "{" else self.inside.opened
        if self.before == ")":
            first = self.opened_by[self.at - 1]
            self.bind(_in_pattern(self.words, first), first=first, opened=opened)
        else:
            self.bind([self.before], first=self.at - 1, opened=opened)

    def word(self, word: str) -> None:
        kind, before = self.inside.kind, self.before
        if (kind == "object" or kind == "class") and self.is_key(kind=kind):
            return
        if word in ("const", "let", "var"):
            self.inside.declares = True
            self.bind_here(_declared(self.words, self.at + 1))
        elif word == "of" or word == "in":
            self.inside.declares = False
        elif word == "class":
            self.inside.class_begun = True
        elif before == "*":
            before = self.words[self.at - 2]
        if (before == "function" or before == "class") and word != "extends":
            self.bind_here([word])
        if word not in RESERVED:
            alone = kind == "object" and (before == "," or before == "{")
            self.uses.append((self.at, word, alone))

    def is_key(self, *, kind: str) -> bool:
        """Return whether the word is, or stands before, a key, a method or a field."""
        back = self.at - 1
        while self.words[back] in _BEFORE_KEY:
            back -= 1
        if kind == "class":
            return self.words[back] in ("{", "}", ";")
        follows = self.words[self.at + 1]
        modifies = self.words[self.at] in _BEFORE_KEY and follows not in (",", "}", "=")
        return self.words[back] in (",", "{") and (follows in (":", "(") or modifies)

    def bind_here(self, names: list[str]) -> None:
        """Bind names in the block around; those in the head of a loop in the one around that."""
        if not self.around:
            self.top.update(names)
            return
        within = self.inside
        if within.kind == "other":
            within = self.around[-1]
        self.bind(names, first=within.opened, opened=within.opened)

    def bind(self, names: list[str], *, first: int, opened: int) -> None:
        for name in names:
            self.bound.setdefault(name, []).append((first, opened))


def _deeper(word: str) -> int:
    """Return by how many brackets a word leads deeper."""
    if word in ("{", "(", "["):
        return 1
    if word in ("}", ")", "]"):
        return -1
    if word[:1] == "`":
        return 1 if word.endswith("${") else 0
    return -1 if word[:1] == "}" and not word.endswith("${") else 0


def _in_pattern(words: list[str], at: int) -> list[str]:
    """Return the names that a pattern binds; it is in the brackets that open here."""
    names: list[str] = []
    depth, given = 0, _END
    while True:
        word = words[at]
        depth += _deeper(word)
        if not depth:
            return names
        if depth < given or (word == "," and depth == given):
            given = _END
            if word == "=":
                given = depth
            elif (word[0].isalpha() or word[0] in "_$") and words[at + 1] != ":":
                names.append(word)
        at += 1


def _declared(words: list[str], at: int) -> list[str]:
    """Return what a declaration binds whose name or pattern stands here."""
    return _in_pattern(words, at) if words[at] in ("{", "[") else [words[at]]
