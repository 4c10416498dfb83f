"""Make what Find searches: a small index of exact things, and one of every word on every page."""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache

from kb.answers.normal_form import normal_form, words_of

INDEX_SCRIPT = "assets/find-index.js"
TEXT_SCRIPT = "assets/find-text.js"
DIGITS = "0123456789abcdefghijklmnopqrstuvwxyz"


@dataclass(frozen=True)
class FindItem:
    """One page that Find can lead to."""

    kind: str
    """What it is, by the name of its group: code, sensor, part…"""
    title: str
    url: str
    """From the root of the site."""
    keys: list[tuple[str, str]]
    """(type, text): code, asked, blinks (`2L4S`), label, plug, order, aka, name."""
    words: Sequence[str]
    """Every word of its page, title and context, as `text_words` finds them."""
    context: str
    """The name of the family it belongs to, or nothing."""
    family: str = ""
    """That family's id, or nothing."""
    noun: str = ""
    """What it is, in the word a reader sees; its kind where that is left out."""


def make_find_index(items: Sequence[FindItem]) -> dict[str, str]:
    """Return the two scripts that Find reads, by path in the site.

    Codes stay text throughout: `012`, `1E3` and `NO` are what was typed into the notes.
    """
    return {INDEX_SCRIPT: _exact_script(items), TEXT_SCRIPT: _text_script(items)}


def _exact_script(items: Sequence[FindItem]) -> str:
    contexts = sorted({item.context for item in items})
    family_of = {item.context: item.family for item in items}
    kinds = sorted({item.kind for item in items})
    noun_of = {item.kind: item.noun or item.kind for item in items}
    index = {
        "contexts": contexts,
        "families": [family_of[context] for context in contexts],
        "kinds": kinds,
        "nouns": [noun_of[kind] for kind in kinds],
        # A list of each: kinds, titles, urls, contexts, [type, text, type, text, …]. Alike beside
        # alike packs to three quarters of what whole items one after the other take.
        "items": [
            [kinds.index(item.kind) for item in items],
            [item.title for item in items],
            [item.url for item in items],
            [contexts.index(item.context) for item in items],
            [[piece for key in item.keys for piece in key] for item in items],
        ],
    }
    return f"window.OhmFindIndex={_packed(index)};\n"


def _text_script(items: Sequence[FindItem]) -> str:
    """Return every word with the pages it stands on, as two strings that load quickly.

    Words are sorted; beside each stand the numbers of its pages, each as the distance from the one
    before, in base 36: a third of the size of plain lists.
    """
    pages_of: dict[str, list[int]] = {}
    for number, item in enumerate(items):
        for word in item.words:
            pages_of.setdefault(word, []).append(number)
    words = sorted(pages_of)
    lists = [_distances(pages_of[word]) for word in words]
    index = {"words": " ".join(words), "pages": " ".join(lists)}
    return f"window.OhmFindText={_packed(index)};\n"


def text_words(text: str) -> list[str]:
    """Return each word of a text, what holds a digit also in one piece: `X24-3` is no 3."""
    whole = {
        normal_form(piece)
        for piece in text.split()
        if not piece.isalpha() and any(c.isdigit() for c in piece)
    }
    return sorted({*words_of(text), *(piece for piece in whole if piece.isalnum())})


def _distances(numbers: list[int]) -> str:
    before = [0, *numbers]
    return ",".join(_base36(number - before[i]) for i, number in enumerate(numbers))


# No distance is longer than there are pages.
@cache
def _base36(number: int) -> str:
    digits = ""
    while True:
        number, digit = divmod(number, 36)
        digits = DIGITS[digit] + digits
        if not number:
            return digits


def _packed(index: object) -> str:
    # Two signs end a line in old scripts though JSON allows them inside a text; and a name with
    # `</script>` would end the script of a file that holds everything.
    return (
        json.dumps(index, ensure_ascii=False, separators=(",", ":"), sort_keys=True)
        .replace("<", "\\u003c")
        .replace("\u2028", "\\u2028")
        .replace("\u2029", "\\u2029")
    )
