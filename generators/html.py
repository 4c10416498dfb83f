"""Build HTML from plain words: every text is escaped, every tag is closed."""

from __future__ import annotations

import re
from collections.abc import Iterable
from functools import cache
from typing import Union

from markupsafe import Markup, escape

Child = Union[str, "Html", None, Iterable["Child"]]

_EMPTY = {"br", "hr", "img", "input"}
_SPECIAL = re.compile(r"[&<>'\"]")


class Html(Markup):
    """Markup that is ready to stand in a page; plain text that joins it is escaped."""

    __slots__ = ()


def el(tag: str, *children: Child, **attributes: object) -> Html:
    """Return one element.

    Parameters
    ----------
    tag : str
        Element name.
    *children : str, Html, None or nested lists of them
        Text is escaped, Html is not, None is left out.
    **attributes
        `class_` becomes `class`, `aria_label` becomes `aria-label`; None and False are left out,
        True stands alone.
    """
    pieces = [f"<{tag}"]
    for name, value in attributes.items():
        if value is True:
            pieces.append(f" {_attribute(name)}")
        elif value is not None and value is not False:
            text = value if isinstance(value, str) else str(value)
            pieces.append(f' {_attribute(name)}="{_escaped(text)}"')
    pieces.append(">")
    if tag not in _EMPTY:
        _add(children, to=pieces)
        pieces.append(f"</{tag}>")
    return _ready(Html, "".join(pieces))


def join(children: Child, between: str = "") -> Html:
    """Return the children one after the other."""
    if isinstance(children, Html):
        return children
    if not between or children is None or isinstance(children, str):
        return _ready(Html, _text(children))
    parts = [_text(child) for child in children]
    return _ready(Html, _escaped(between).join([part for part in parts if part]))


_ready = str.__new__
"""A page is a hundred thousand pieces: the way through Markup would ask each what it is."""


def _text(children: Child) -> str:
    """Return the children as escaped text."""
    pieces: list[str] = []
    _add((children,), to=pieces)
    return "".join(pieces)


def _add(children: Iterable[Child], *, to: list[str]) -> None:
    """Add the children to the pieces of a text, escaped."""
    for child in children:
        if isinstance(child, Html):
            to.append(child)
        elif isinstance(child, str):
            to.append(_escaped(child))
        elif child is not None:
            _add(child, to=to)


def _escaped(text: str) -> str:
    # As plain text: what joins it must not ask again whether it is escaped.
    return str.__str__(escape(text)) if _SPECIAL.search(text) else text


@cache
def _attribute(name: str) -> str:
    """Return how an attribute is written that is asked for by this name."""
    return name.rstrip("_").replace("_", "-")


def bullets(items: Iterable[Child], **attributes: object) -> Html:
    """Return a plain list, or nothing when there is nothing to list."""
    rows = [el("li", item) for item in items]
    return el("ul", rows, **attributes) if rows else Html("")


def steps(items: Iterable[Child]) -> Html:
    """Return numbered steps, or nothing."""
    rows = [el("li", item) for item in items]
    return el("ol", rows, class_="ohm-steps") if rows else Html("")


def facts(rows: Iterable[tuple[str, Child]]) -> Html:
    """Return key facts; a fact with nothing to say is left out."""
    pairs = []
    for label, value in rows:
        shown = join(value)
        if shown:
            pairs.append(el("div", el("dt", label), el("dd", shown)))
    return el("dl", pairs, class_="ohm-facts") if pairs else Html("")


def section(title: str, *children: Child, id_: str | None = None) -> Html:
    """Return a titled section, or nothing when it would be empty."""
    body = join(children)
    if not body:
        return Html("")
    name = id_ or slug(title)
    return el("section", el("h2", title, id=name), body, aria_labelledby=name)


def table(
    caption: str, heads: Iterable[Child], rows: Iterable[Iterable[Child]], *, class_: str = ""
) -> Html:
    """Return a table in a region that scrolls sideways by thumb and by key."""
    head = el("tr", [el("th", cell, scope="col") for cell in heads])
    body = []
    for row in rows:
        first, *others = list(row)
        body.append(el("tr", el("th", first, scope="row"), [el("td", cell) for cell in others]))
    inner = el(
        "table",
        el("caption", caption),
        el("thead", head),
        el("tbody", body),
        class_=f"ohm-table {class_}".strip(),
    )
    return el("div", inner, class_="ohm-scroll", tabindex="0", role="region", aria_label=caption)


def slug(text: str) -> str:
    """Return an anchor made of the words of a title."""
    kept = "".join(c if c.isalnum() else "-" for c in text.casefold())
    return "-".join(part for part in kept.split("-") if part)
