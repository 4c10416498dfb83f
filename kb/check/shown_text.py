"""Find in a page's Markdown what is shown as typed, and where links stand: in one pass each."""

from __future__ import annotations

import bisect
import re
from collections.abc import Iterator

_BEGINS = re.compile(r"^(?:`{3,}+|~{3,}+)|`++|<!--", re.MULTILINE)
_TICKS = re.compile(r"`++")
MOST_OPEN = 100
"""So many signs stand open in no page; what renders it takes the square of them."""
DEEPEST_LIST = 20
_LIST_IN_LIST = re.compile(
    rf"^[ \t]*+(?:(?:[0-9]++[.)]|[-*+>])[ \t]++){{{DEEPEST_LIST + 1}}}", re.MULTILINE
)
_LINK_BEGINS = re.compile(r"\]\(")
_TAG_BEGINS = re.compile(r"</?[a-zA-Z]")
_BRACKET = re.compile(r"[\[\]]")
_TARGET = re.compile(r"\(\s*+(?:<(?P<angled>[^<>\n]*+)>|(?P<bare>[^\s()<>]++))")


def without_typed(text: str) -> str:
    """Return a text with blanks for what holds no link and no tag: fences, backticks, remarks."""
    pieces, at = [], 0
    runs: dict[int, list[int]] = {}
    for run in _TICKS.finditer(text):
        runs.setdefault(len(run[0]), []).append(run.start())
    last_remark = text.rfind("-->")
    found = _BEGINS.search(text)
    while found:
        end = _end_of(found, text, runs, last_remark)
        pieces += [text[at : found.start()], re.sub(r"[^\n]", " ", text[found.start() : end])]
        # What is never closed is text itself, and what follows it is looked at.
        if end == found.start():
            pieces.append(found[0])
            end = found.end()
        at = end
        found = _BEGINS.search(text, at)
    return "".join([*pieces, text[at:]])


def _end_of(found: re.Match[str], text: str, runs: dict[int, list[int]], last_remark: int) -> int:
    """Return where something that begins here ends; its beginning where nothing ends it."""
    if found[0] == "<!--":
        # A browser ends a remark at `<!-->` and `<!--->` too.
        short = next((end for end in (">", "->") if text.startswith(end, found.end())), None)
        if short:
            return found.end() + len(short)
        if last_remark < found.end():
            return found.start()
        return text.index("-->", found.end()) + 3
    fenced = len(found[0]) >= 3 and (found.start() == 0 or text[found.start() - 1] == "\n")
    if fenced:
        end = text.find(f"\n{found[0]}", found.end())
        return end + 1 + len(found[0]) if end >= 0 else len(text)
    alike = runs[len(found[0])]
    after = bisect.bisect_right(alike, found.start())
    return alike[after] + len(found[0]) if after < len(alike) else found.start()


def links(text: str) -> Iterator[tuple[int, str, bool]]:
    """Yield (where, the address, whether it is a picture) of each `[words](address)`."""
    opened: list[int] = []
    for bracket in _BRACKET.finditer(text):
        if bracket[0] == "[":
            opened.append(bracket.start())
        elif opened:
            begin = opened.pop()
            target = _TARGET.match(text, bracket.end())
            if target:
                group = "bare" if target["angled"] is None else "angled"
                yield target.start(group), target[group], text[max(begin - 1, 0)] == "!"


def never_closed(text: str, *, tags: int) -> Iterator[tuple[int, str]]:
    """Yield (where, the sign) of the first sign too many of a kind that nothing closes.

    Parameters
    ----------
    text : str
    tags : int
        How many tags of the text have an end.
    """
    opened: list[int] = []
    for bracket in _BRACKET.finditer(text):
        if bracket[0] == "[":
            opened.append(bracket.start())
        elif opened:
            opened.pop()
    begun = [found.start() for found in _LINK_BEGINS.finditer(text)]
    ends = [*begun, len(text)][1:]
    links_open = [at for at, end in zip(begun, ends, strict=True) if text.find(")", at, end) < 0]
    tags_begun = [found.start() for found in _TAG_BEGINS.finditer(text)]
    for sign, places, closed in (("[", opened, 0), ("](", links_open, 0), ("<", tags_begun, tags)):
        if len(places) - closed > MOST_OPEN:
            yield places[MOST_OPEN], sign


def lists_too_deep(text: str) -> Iterator[int]:
    """Yield where a line begins more lists in each other than anybody means."""
    for found in _LIST_IN_LIST.finditer(text):
        yield found.start()
