"""Find the tags of finished HTML, to check and rewrite it tag by tag and not by patterns."""

from __future__ import annotations

import html
import itertools
from collections.abc import Mapping
from dataclasses import dataclass
from html.parser import HTMLParser

from kb.allowed_html import VOID


@dataclass(frozen=True)
class Tag:
    """One tag, and where it stands in its text."""

    name: str
    attributes: Mapping[str, str | None]
    """None for one without a value, as `hidden`."""
    begin: int
    end: int
    closes: bool = False

    def has_class(self, name: str) -> bool:
        """Return whether a class is among the tag's."""
        return name in (self.attributes.get("class") or "").split()


def read_tags(text: str) -> list[Tag]:
    """Return every tag of a text in its order; what stands in a script or a remark is none."""
    reader = _TagReader(text)
    reader.feed(text)
    reader.close()
    return reader.tags


def closing(tags: list[Tag], opening: int) -> int:
    """Return where in the list the tag stands that closes the one at `opening`.

    Raises
    ------
    ValueError
        When nothing closes it.
    """
    name, depth = tags[opening].name, 0
    for i in range(opening, len(tags)):
        if tags[i].name == name:
            depth += -1 if tags[i].closes else 1
        if not depth:
            return i
    raise ValueError(f"<{name}> has no end")


def opening_tag(name: str, attributes: Mapping[str, str | None]) -> str:
    """Return an opening tag as text."""
    written = (
        f" {key}" if value is None else f' {key}="{html.escape(value)}"'
        for key, value in attributes.items()
    )
    return f"<{name}{''.join(written)}>"


class _TagReader(HTMLParser):
    def __init__(self, text: str) -> None:
        super().__init__(convert_charrefs=True)
        self.tags: list[Tag] = []
        lines = text.split("\n")
        self._line_begins = [0, *itertools.accumulate(len(line) + 1 for line in lines)]
        self._text = text

    def handle_starttag(self, name: str, attributes: list[tuple[str, str | None]]) -> None:
        begin = self._begin()
        # Of a repeated attribute browsers take the first.
        first_of_each = dict(reversed(attributes))
        in_order = {key: first_of_each[key] for key, _ in attributes}
        self.tags.append(Tag(name, in_order, begin, begin + len(self.get_starttag_text() or "")))

    def handle_endtag(self, name: str) -> None:
        begin = self._begin()
        self.tags.append(Tag(name, {}, begin, self._text.index(">", begin) + 1, closes=True))

    def handle_startendtag(self, name: str, attributes: list[tuple[str, str | None]]) -> None:
        self.handle_starttag(name, attributes)
        if name not in VOID:
            end = self.tags[-1].end
            self.tags.append(Tag(name, {}, end, end, closes=True))

    def _begin(self) -> int:
        line, column = self.getpos()
        return self._line_begins[line - 1] + column
