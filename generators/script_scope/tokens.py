"""Cut a script into tokens: names, texts, patterns, signs, blanks and comments.

Joined again they are the script, to the byte. A dot and the name behind it are one token. A
template is cut where an expression stands in it (`` `a${ ``, what stands there, ``}b` ``), so that
its names are seen.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

_NAME = r"(?:[^\W\d]|[$#])[\w$]*"
_STRING = r""""(?:[^"\\\n]|\\.)*"|'(?:[^'\\\n]|\\.)*'"""
_COMMENT = r"/\*(?:(?!\*/)[\s\S])*\*/|//[^\n]*"
_PATTERN = r"/(?:[^/\\\[\n]|\\.|\[(?:[^\]\\\n]|\\.)*\])+/[a-z]*"
_DIVISION = r"(?<=[\w$)\]])(?<!return)(?<!typeof)(?<!case)[ \t]*/(?![/*])=?"
"""A stroke divides after a value, and begins a pattern everywhere else (ECMA-262, 12.1)."""


def _expression(template: str) -> str:
    """Return a pattern of what may stand in a template: three braces deep, and this template."""
    within = rf"""[(,=:!&|?]\s*{_PATTERN}|[^{{}}`"']|{_STRING}{template}"""
    whole = rf"(?:{within})*"
    for _ in range(2):
        whole = rf"(?:{within}|\{{{whole}\}})*"
    return whole


def _template(expression: str) -> str:
    return rf"`(?:[^`\\$]|\\[\s\S]|\$(?!\{{)|\$\{{{expression}\}})*`"


_WITHIN = _expression("|" + _template(_expression("")))
_TOKEN = re.compile(
    "|".join(
        [
            r"\.\.\.",
            rf"(?:\?\.|\.)?{_NAME}",
            _DIVISION,
            r"\s+",
            r"[(){}\[\];,]",
            _STRING,
            _template(_WITHIN),
            _COMMENT,
            _PATTERN,
            r"\d[\w.]*",
            r"=>|\?\.(?!\d)|[=!<>]==?|\?\?|&&|\|\|",
            r"""[^\s"'`/]""",
        ]
    )
)
_HOLE = re.compile(rf"\\[\s\S]|\$\{{({_WITHIN})\}}")


class ScriptNotRead(Exception):
    """A script holds what cannot be cut into tokens."""

    def __init__(self, why: str, *, line: int) -> None:
        super().__init__(why)
        self.why = why
        self.line = line


def tokens_of(text: str) -> list[str]:
    """Return the tokens of a script, blanks and comments too.

    Raises
    ------
    ScriptNotRead
        A text, template or pattern that does not end, or templates three deep.
    """
    cut: list[str] = _TOKEN.findall(text)
    if sum(map(len, cut)) != len(text):
        raise _not_read(text)
    if "${" not in text:
        return cut
    tokens: list[str] = []
    for token in cut:
        if token[0] == "`" and "${" in token:
            tokens += _cut_template(token)
        else:
            tokens.append(token)
    return tokens


def places_of_words(tokens: Sequence[str]) -> list[int]:
    """Return where the tokens stand that are no blanks and no comments."""
    return [
        at
        for at, token in enumerate(tokens)
        if (token[0] > " " or not token.isspace()) and not token.startswith(("//", "/*"))
    ]


def _cut_template(token: str) -> list[str]:
    tokens: list[str] = []
    end = 0
    for hole in _HOLE.finditer(token):
        if hole[1] is not None:
            tokens += [token[end : hole.start(1)], *tokens_of(hole[1])]
            end = hole.end(1)
    return [*tokens, token[end:]]


def _not_read(text: str) -> ScriptNotRead:
    at = 0
    while found := _TOKEN.match(text, at):
        at = found.end()
    line = text.count("\n", 0, at) + 1
    rest = text[at:].partition("\n")[0]
    return ScriptNotRead(f"what begins with {rest[:20]} has no end that can be found", line=line)
