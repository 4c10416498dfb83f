"""Turn a file's bytes into text; where they are none, say the line, the column and the cause."""

from __future__ import annotations

import codecs
import re
import unicodedata

from .foreign_file import AS_TEXT, SAVE_UTF_8, foreign, is_utf_16
from .merge_marks import conflicts
from .problem import Problem

# What no YAML and no page may hold: control characters but tab and the ends of lines.
_CONTROL = re.compile(r"[\x00-\x08\x0b\x0c\x0e-\x1f\x7f\x80-\x84\x86-\x9f\ufffe\uffff]")

LONGEST_WORD = 1000
"""Letters without a blank: no word has so many, and some readers of pages take the square of it.
A picture that is written into a page has more."""
_PICTURE = "data:image/"

UTF_16 = "the file is UTF-16, which some editors call 'Unicode', not UTF-8 text"


def decoded(raw: bytes, *, file: str, rows: bool = False) -> tuple[str, list[Problem]]:
    """Return the text of a file, and what is wrong with its characters.

    Parameters
    ----------
    raw : bytes
        The file; a byte order mark of UTF-8 at its start is no fault.
    file : str
        The name to show in problems.
    rows : bool
        Rows of figures, which need no blank between them.

    Returns
    -------
    (text, problems)
        With a problem the text is what could be read of it.
    """
    what = foreign(raw)
    if what:
        return "", [Problem(file, 1, 1, "no-text", f"this is {what}, and no plain text", AS_TEXT)]
    if is_utf_16(raw):
        return "", [Problem(file, 1, 1, "encoding", UTF_16, SAVE_UTF_8)]
    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        return "", [_no_utf_8(raw, error.start, file=file)]
    endless = None if rows else _endless_word(text, file=file)
    if endless is not None:
        return "", [endless]
    found = _CONTROL.search(text)
    if found is None:
        return text, list(conflicts(text.splitlines(), file=file))
    before = text[: found.start()]
    line, column = before.count("\n") + 1, found.start() - (before.rfind("\n") + 1) + 1
    # Only this sign ends a line here: `splitlines` takes others for ends too.
    shown = text.split("\n")[line - 1].rstrip("\r")
    return text, [
        Problem(
            file,
            line,
            column,
            "control-character",
            f"a character that nobody can see stands here: {_called(found[0])}",
            "delete it, or type the line afresh",
            text=_CONTROL.sub("␀", shown),
        )
    ]


def _endless_word(text: str, *, file: str) -> Problem | None:
    """Return the problem of the first word that nobody can have meant; None where there is none."""
    for number, line in enumerate(text.split("\n"), start=1):
        if len(line) <= LONGEST_WORD:
            continue
        for word in line.split():
            if len(word) > LONGEST_WORD and _PICTURE not in word:
                return Problem(
                    file,
                    number,
                    line.index(word) + 1,
                    "endless-word",
                    f"a word of {len(word)} letters begins here: '{word[:20]}…'",
                    "something was pasted that is no text: take it out",
                )
    return None


def _no_utf_8(raw: bytes, at: int, *, file: str) -> Problem:
    # The decoder counts from behind a byte order mark.
    raw = raw.removeprefix(codecs.BOM_UTF8)
    line_start = raw.rfind(b"\n", 0, at) + 1
    line = raw[:at].count(b"\n") + 1
    before = raw[line_start:at].decode("utf-8")
    rest = raw[at:].split(b"\n")[0]
    byte = raw[at : at + 1]
    meant = byte.decode("cp1252", errors="replace")
    shown = before + rest.decode("cp1252", errors="replace").rstrip("\r")
    return Problem(
        file,
        line,
        len(before.lstrip("\ufeff")) + 1,
        "encoding",
        f"the file is not UTF-8 text: this byte is '{meant}' in the encoding of Windows (Latin-1)",
        SAVE_UTF_8,
        text=shown.lstrip("\ufeff"),
    )


def _called(character: str) -> str:
    if character == "\x00":
        return "NUL"
    name = unicodedata.name(character, "") or "control character"
    return f"{name.lower()} U+{ord(character):04X}"
