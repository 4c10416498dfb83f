"""Sentences that a comma inside brackets cut in two, and signs that nobody can see."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator, Sequence

from kb.model import Code, Entry, Sensor
from kb.model.shape import references, texts_listed
from kb.notes.load import Notes
from kb.notes.problem import Problem
from kb.notes.yaml_text import Path, YamlText

NAMES = ("aka", "plate", "pins")
"""Lists of names: none of them is a sentence."""
_GOES_ON = re.compile(r"(and|or|then|but)\b")


def sentences_stay_whole(entry: Entry, *, notes: Notes) -> Iterator[Problem]:
    """Warn of a list in brackets whose commas were probably meant inside a sentence."""
    read = notes.texts[(entry.kind, entry.id)]
    for path, lines in texts_listed(entry):
        if path[-1] in NAMES or len(lines) < 2:
            continue
        cut = _cut(lines)
        if cut and _in_brackets(read, path):
            yield read.problem(
                (*path, cut),
                "cut-sentence",
                f"a comma inside brackets separates: '{lines[cut]}' stands as a line of its own",
                hint="write each line below, after '- ', or put the whole sentence in quotes",
                warning=True,
            )


def _in_brackets(read: YamlText, path: Path) -> bool:
    place = read.place(path)
    return read.lines[place.line - 1][place.column - 1 :].startswith("[")


def _cut(lines: Sequence[str]) -> int:
    """Return the first line that reads as the rest of the one above it; 0 where none does."""
    capital = lines[0][:1].isupper()
    for i, line in enumerate(lines[1:], start=1):
        if (capital and line[:1].islower()) or _GOES_ON.match(line):
            return i
    return 0


def every_sign_can_be_seen(entry: Entry, *, notes: Notes) -> Iterator[Problem]:
    """Yield each id, label and code that holds a sign which nobody sees and nobody types."""
    for path, text in _typed(entry):
        for sign in () if text.isascii() else text:
            if unicodedata.category(sign) == "Cf":
                yield notes.problem(
                    entry,
                    path,
                    "unseen",
                    f"'{text.replace(sign, '␣')}' holds a sign that nobody can see: "
                    f"{unicodedata.name(sign, 'format character').lower()} "
                    f"U+{ord(sign):04X}, shown here as ␣",
                    hint="delete the word and type it afresh",
                )
                break


def _typed(entry: Entry) -> Iterator[tuple[Path, str]]:
    """Yield what somebody will type or read off a machine: ids, labels, codes."""
    for path, _, entry_id in references(entry):
        yield path, entry_id
    if isinstance(entry, Sensor):
        yield ("label",), entry.label
        if entry.plug is not None:
            yield ("plug", "mark"), entry.plug.mark
    if isinstance(entry, Code):
        for i, way in enumerate(entry.shown):
            if way.blinks is not None:
                yield ("shown", i, "blinks", "lamp"), way.blinks.lamp
            else:
                yield ("shown", i, "text" if way.text is not None else "asked"), way.spoken()
