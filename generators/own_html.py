"""Write a hand-written page's HTML anew: what a page may hold, closed and escaped, nothing else.

Whatever two readers of HTML would take for different things is written here in one way that all
of them take alike, so what was checked is what a browser shows.
"""

from __future__ import annotations

import html
import re
from html.parser import HTMLParser

from kb.allowed_html import IN_TEXT, LINK, VOID, in_text, may_lead, may_show
from kb.check.source_tags import source_tags

_MAY_BEGIN = re.compile(r"<(?=[a-zA-Z/])")


def own_html(rendered: str) -> tuple[str, list[str]]:
    """Return a page's HTML as it may stand in the frame, and the elements that it may not have.

    Remarks are left out, attributes that nobody allows too; no word of the text is.
    """
    writer = _Writer()
    # Within a block of HTML nothing is Markdown: there such a link is still as it was written.
    writer.feed(_tags_alone(LINK.sub(_as_link, rendered)))
    writer.close()
    return writer.whole(), list(dict.fromkeys(writer.refused))


def _tags_alone(rendered: str) -> str:
    """Return HTML in which a sign that begins no tag is text.

    `html.parser` makes a tag of `<https://a </b>`; `check` reads a page as `source_tags` does.
    """
    tags = {tag.at for tag in source_tags(rendered)}
    return _MAY_BEGIN.sub(lambda sign: "<" if sign.start() in tags else "&lt;", rendered)


def _as_link(written: re.Match[str]) -> str:
    address = html.unescape(written[1])
    leads = address if "://" in address else f"mailto:{address}"
    return f'<a href="{html.escape(leads)}">{html.escape(address)}</a>'


class _Writer(HTMLParser):
    def __init__(self) -> None:
        super().__init__(convert_charrefs=False)
        self.pieces: list[str] = []
        self.opened: list[str] = []
        self.refused: list[str] = []

    def whole(self) -> str:
        """Return what was written, with an end to all that is open."""
        return "".join([*self.pieces, *(f"</{name}>" for name in reversed(self.opened))])

    def handle_starttag(self, name: str, attributes: list[tuple[str, str | None]]) -> None:
        if name not in IN_TEXT:
            self.refused.append(name)
            return
        # Of a repeated attribute browsers take the first.
        kept = {
            key: value or "" for key, value in reversed(attributes) if _may_stay(name, key, value)
        }
        ordered = [key for key in dict.fromkeys(key for key, _ in attributes) if key in kept]
        written = "".join(f' {key}="{html.escape(kept[key])}"' for key in ordered)
        self.pieces.append(f"<{name}{written}>")
        if name not in VOID:
            self.opened.append(name)

    def handle_startendtag(self, name: str, attributes: list[tuple[str, str | None]]) -> None:
        # A browser does not take `<b/>` for the end of a <b>.
        self.handle_starttag(name, attributes)

    def handle_endtag(self, name: str) -> None:
        if name in self.opened:
            while self.opened:
                last = self.opened.pop()
                self.pieces.append(f"</{last}>")
                if last == name:
                    break

    def handle_data(self, words: str) -> None:
        self.pieces.append(html.escape(words, quote=False))

    def handle_entityref(self, name: str) -> None:
        self.pieces.append(f"&{name};")

    def handle_charref(self, name: str) -> None:
        self.pieces.append(f"&#{name};")


def _may_stay(name: str, attribute: str, value: str | None) -> bool:
    if attribute == "href":
        return name == "a" and may_lead(value or "")
    if attribute == "src":
        return name == "img" and may_show(value or "")
    return in_text(name, attribute)
