"""Find what must not leave the house in the files of the notes, each at its place."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from kb.notes.file_text import decoded
from kb.notes.folder import CONTENT
from kb.notes.load import RELEASE_FILE
from kb.notes.problem import Problem
from kb.notes.yaml_text import YamlText

from .private_words import private_in

_AS_TYPED = re.compile(
    r"^(?P<fence>```+|~~~+)[^\n]*\n(?:(?!(?P=fence))[^\n]*\n)*|`[^`\n]{1,400}`", re.MULTILINE
)
"""What a page shows as it is typed: a comment there is text that everybody sees."""
PRIVATE = "private"
"""The rule of words that must not leave the house."""


def private_in_bytes(raw: bytes, *, file: str, allowed: Sequence[str]) -> list[Problem]:
    """Warn of what is private in a file as it is written; nothing of one that is no text."""
    text, problems = decoded(raw, file=file)
    return [] if problems else list(private_in_file(text, file=file, allowed=allowed))


def private_in_entry(read: YamlText, *, allowed: Sequence[str]) -> list[Problem]:
    """Warn of what is private in an entry, as it is written and as it is read."""
    found = []
    if read.checksum:  # else it is no text
        found = list(private_in_lines(read.lines, file=read.file, allowed=allowed))
    return [*found, *_spread_out(read, allowed=allowed, known=found)]


def private_in_file(text: str, *, file: str, allowed: Sequence[str] = ()) -> Iterator[Problem]:
    """Warn of what is private in a file as it is written.

    Parameters
    ----------
    text : str
    file : str
        Its name; an entry is read line by line, a page may break a number over two.
    allowed : sequence of str
        Exact texts that only look private.
    """
    return private_in_lines(text.splitlines(), file=file, allowed=allowed)


def private_in_lines(
    lines: Sequence[str], *, file: str, allowed: Sequence[str]
) -> Iterator[Problem]:
    """Warn of what is private in the lines of a file."""
    left = "\n".join(
        "" if file == RELEASE_FILE and any(words in line for words in allowed) else line
        for line in lines
    )
    left = _without(left, allowed)
    at_once = [left] if file.startswith(f"{CONTENT}/") else left.split("\n")
    first = 1
    for piece in at_once:
        for what, start, end in private_in(piece):
            before = piece[:start]
            number = first + before.count("\n")
            column = start - (before.rfind("\n") + 1) + 1
            words = " ".join(piece[start:end].split())
            yield _private(what, words, file=file, at=(number, column), line=lines[number - 1])
        first += piece.count("\n") + 1
    if file.startswith(f"{CONTENT}/"):
        yield from _comments(left, file=file)


def _without(text: str, words: Sequence[str]) -> str:
    """Return a text in which allowed words are dots of the same length: no number spans them."""
    for allowed in words:
        text = text.replace(allowed, "…" * len(allowed)) if allowed else text
    return text


def _spread_out(
    read: YamlText, *, allowed: Sequence[str], known: Sequence[Problem]
) -> Iterator[Problem]:
    """Warn of what an entry says over several lines, or in signs that only YAML reads."""
    whole = "\n".join(read.lines)
    for path, text in read.texts():
        if "\n" not in text and text in whole:
            continue  # searched with its line
        for what, start, end in private_in(_without(text, allowed)):
            words = " ".join(text[start:end].split())
            mark = read.place(path)
            line = read.lines[mark.line - 1] if mark.line <= len(read.lines) else ""
            found = _private(what, words, file=read.file, at=mark, line=line)
            if all(found.message != other.message for other in known):
                yield found


def _comments(text: str, *, file: str) -> Iterator[Problem]:
    """Warn of a comment in a page: nobody sees it, and everybody can read it."""
    shown = _AS_TYPED.sub(lambda typed: re.sub(r"[^\n]", " ", typed[0]), text)
    for comment in re.finditer("<!--", shown):
        before = shown[: comment.start()]
        number = before.count("\n") + 1
        yield Problem(
            file,
            number,
            comment.start() - (before.rfind("\n") + 1) + 1,
            PRIVATE,
            "a comment is published with its page, and whoever looks at the source reads it",
            f"take it out, or add its words to may_be_published in {RELEASE_FILE}",
            warning=True,
            text=text.split("\n")[number - 1],
        )


def _private(what: str, words: str, *, file: str, at: tuple[int, int], line: str) -> Problem:
    return Problem(
        file,
        *at,
        PRIVATE,
        f"'{words}' looks like {what}, and is not published",
        f"take it out, or add it to may_be_published in {RELEASE_FILE}",
        warning=True,
        text=line,
    )
