"""Find in a page's Markdown what is shown as typed, and where links stand: in one pass each."""

from __future__ import annotations

import bisect
import re
from collections.abc import Iterator

_BEGINS = re.compile(r"^(?:`{3,}+|~{3,}+)|`++|<!--", re.MULTILINE)
_TICKS = re.compile(r"`++")
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
