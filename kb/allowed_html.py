"""What HTML a page may hold: the one allow-list for hand-written pages, the seal, pocket files."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping

_ALIGNED = {"align", "colspan", "rowspan", "scope", "headers"}
IN_TEXT: Mapping[str, frozenset[str]] = {
    name: frozenset(own)
    for names, own in (
        ("p br hr h1 h2 h3 h4 h5 h6 b strong i em u s del ins sub sup small mark code kbd", set()),
        ("samp var pre blockquote q cite abbr ul dl dt dd caption thead tbody tfoot tr", set()),
        ("colgroup col div span section aside figure figcaption summary table wbr", set()),
        ("td th", _ALIGNED),
        ("a", {"href"}),
        ("img", {"src", "alt", "width", "height"}),
        ("ol", {"start", "type", "reversed"}),
        ("li", {"value"}),
        ("details", {"open"}),
        ("time", {"datetime"}),
    )
    for name in names.split()
}
"""Element of a page's text → the attributes that it alone may have."""
EVERYWHERE = frozenset({"id", "class", "title", "lang", "dir", "role", "tabindex"})
"""Attributes of any element, beside those that begin with `aria-`."""
_FRAME = """
html head body meta title link script header footer nav main article form fieldset legend label
input button select option optgroup textarea output datalist progress dialog template svg g path
rect circle line polyline polygon ellipse text tspan use defs symbol image clippath stop marker
meter
"""
OF_FRAME = frozenset(_FRAME.split())
"""Elements that the frame and the makers write beside those of a text."""
VOID = frozenset(
    {"area", "base", "br", "col", "hr", "img", "input", "link", "meta", "source", "wbr"}
)
"""Elements that hold nothing and have no end (HTML, 13.1.2)."""
SCHEMES = frozenset({"http", "https", "mailto", "tel"})
"""What a link may lead out by."""
LINK = re.compile(r"<((?:https?|ftp)://[^<>]*+|[^\s<>/@]++@[^\s<>]++)>", re.IGNORECASE)
"""An address between pointed brackets: Markdown makes a link of it, and it is no tag."""
_SCHEME = re.compile(r"([a-z][a-z0-9+.-]*+):", re.IGNORECASE)
_PICTURE = re.compile(r"data:image/(?:png|jpeg|gif|webp|svg\+xml)[;,]", re.IGNORECASE)
_UNSEEN = re.compile(r"[\t\n\r]+")


def plain_address(value: str) -> str:
    """Return an address as a browser reads it: without line ends, tabs, blanks around it."""
    return _UNSEEN.sub("", value).strip("".join(map(chr, range(33))))


def scheme_of(value: str) -> str:
    """Return the scheme of an address in small letters; empty for a way within the site."""
    found = _SCHEME.match(plain_address(value))
    return found[1].lower() if found else ""


def may_lead(value: str) -> bool:
    """True for a link that leads within the site, or out by a scheme that only shows something."""
    return scheme_of(value) in {"", *SCHEMES}


def may_show(value: str) -> bool:
    """True for a picture of the site's own, or with its bytes in its address."""
    address = plain_address(value)
    within = not scheme_of(address) and not address.replace("\\", "/").startswith("//")
    return within or _PICTURE.match(address) is not None


def in_text(name: str, attribute: str) -> bool:
    """True when an element of a page's text may have an attribute."""
    return attribute in EVERYWHERE or attribute.startswith("aria-") or attribute in IN_TEXT[name]


def forbidden_in_page(name: str, attributes: Mapping[str, str | None]) -> Iterator[str]:
    """Yield what a tag of a finished page, its frame included, may not be or have."""
    if name not in IN_TEXT and name not in OF_FRAME:
        yield f"<{name}> is not among the elements that a page may hold"
    refresh = (attributes.get("http-equiv") or "").strip().lower() == "refresh"
    if refresh and not may_refresh(attributes.get("content") or ""):
        yield "<meta http-equiv=refresh> leaves the site by itself"
    elif "http-equiv" in attributes and not refresh:
        yield f"<{name} http-equiv> bends how the page is read"
    if "srcdoc" in attributes or "formaction" in attributes:
        yield f"<{name}> brings a page of its own"


def may_refresh(content: str) -> bool:
    """True when a page that is passed on at once stays within the site."""
    _, sign, way = content.partition("url=")
    return bool(sign) and not scheme_of(way) and way.strip(" '\"")[:1] not in ("/", "\\", "")
