"""Read what one finished page offers to be led to, where it leads, and what it must not hold."""

from __future__ import annotations

import html
import posixpath
import re
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from urllib.parse import unquote

from kb.allowed_html import forbidden_in_page, may_lead

from .html_tags import read_tags

_LEADS = {"href", "xlink:href", "src", "data-later"}
_ELSEWHERE = re.compile(r"\A(?:[a-z][a-z0-9+.-]*:|//)", re.IGNORECASE)
_MAY_LEAD_ELSEWHERE = {"a", "area"}

_NAME = r"[a-z][a-z0-9:-]*+"
_ATTRIBUTE = rf'\s++{_NAME}(?:="[^"<>]*+")?+(?=[\s/>])'
_RAW = "script|style|title|textarea|xmp|iframe|noembed|noframes|noscript|plaintext"
_BEGIN = re.compile(r"\s*+<!doctype html>", re.IGNORECASE)
_TAG = re.compile(r"<[^>]*+>")
_PLAIN_TAG = re.compile(
    rf"<(?!(?:{_RAW})[\s/>])({_NAME})(?:{_ATTRIBUTE})*+\s*+/?+>|</{_NAME}>", re.IGNORECASE
)
"""A tag as we write it: its values in double quotes; no script, no remark."""
_RAW_TAG = re.compile(rf"<(?:(script|textarea)(?:{_ATTRIBUTE})*+\s*+>|(title)>)")
_RAW_BEGINS = ("<script", "<textarea", "<title")
_RAW_WHOLE = re.compile(
    rf"<(?:script(?:{_ATTRIBUTE})*+\s*+></script>|textarea(?:{_ATTRIBUTE})*+\s*+></textarea>"
    r"|title>[^<]*+</title>)"
)
"""What holds no tags, with its end: a script of its own file, an empty field, the title."""
_VALUE = re.compile(rf'\s({_NAME})(?:="([^"]*)")?', re.IGNORECASE)
_LOOKED_AT = re.compile(
    rf"\s(?:id|style|on|{'|'.join(sorted(_LEADS))}|http-equiv|srcdoc|formaction)", re.IGNORECASE
)
"""How the attributes begin that matter here, or to what a page may hold."""
_KNOWN_AT_MOST = 20_000


@dataclass(frozen=True)
class PageLeads:
    """What a page holds that others may lead to, and where it leads."""

    anchors: frozenset[str]
    leads: tuple[tuple[str, str], ...]
    """(path in the site, anchor or nothing), each once, in the page's order."""
    faults: tuple[str, ...]


@dataclass(frozen=True, eq=False)
class _Read:
    """What one tag says that matters here."""

    anchors: tuple[str, ...] = ()
    ways: tuple[str, ...] = ()
    """Addresses within the site, as they are written."""
    faults: tuple[str, ...] = ()
    forbidden: tuple[str, ...] = ()


_NOTHING = _Read()
_known: dict[str, _Read | None] = {}
"""Tags that were read before: most of a page's stand on thousands of others letter by letter."""


def read_leads(text: str, *, path: str) -> PageLeads:
    """Return what the page of this path in the site offers, asks for and must not hold."""
    tags = _plain_tags(text)
    if tags is None:
        tags = [_read(tag.name, tag.attributes) for tag in read_tags(text)]
    faults = [*dict.fromkeys(why for tag in tags for why in tag.forbidden)]
    faults += [why for tag in tags for why in tag.faults]
    ways = dict.fromkeys(way for tag in tags for way in tag.ways)
    leads = dict.fromkeys([target_of(way, path=path) for way in ways])
    anchors = frozenset(anchor for tag in tags for anchor in tag.anchors)
    return PageLeads(anchors, tuple(leads), tuple(f"{path}: {why}" for why in faults))


def target_of(value: str, *, path: str) -> tuple[str, str]:
    """Return (path in the site, anchor or nothing) of an address that stands in a file there.

    What names values, as `drills.html#seed=7&kind=ohm` does, is read by a script and no anchor.
    """
    target, anchor = _target_from(path.rpartition("/")[0], value)
    return target or path, anchor


@lru_cache(maxsize=20_000)
def _target_from(folder: str, value: str) -> tuple[str, str]:
    """Return the same from a folder: every page of it leads to some hundred others alike."""
    way, _, anchor = value.partition("#")
    if "=" in anchor:
        anchor = ""
    way = unquote(way.partition("?")[0])
    target = posixpath.normpath(posixpath.join(folder, way)) if way else ""
    return target, unquote(anchor)


def _plain_tags(text: str) -> list[_Read] | None:
    """Return every tag of a page that is written as we write; None for any other page.

    What we make ourselves is plain, and patterns read it thirty times as fast as a parser.
    """
    if _BEGIN.match(text) is None:
        return None
    _, *found = _TAG.findall(text)
    if len(found) + 1 != text.count("<"):
        return None
    if len(_known) > _KNOWN_AT_MOST:
        _known.clear()
    each = dict.fromkeys(found)
    for tag in [tag for tag in each if tag not in _known]:
        _known[tag] = _plain_tag(tag)
    read = [_known[tag] for tag in each]
    if None in read or sum(map(text.count, _RAW_BEGINS)) != len(_RAW_WHOLE.findall(text)):
        return None
    tags = [tag for tag in read if tag is not None and tag is not _NOTHING]
    if any(tag.faults for tag in tags):
        # A fault is said as often as it is there.
        return [tag for tag in map(_known.get, found) if tag is not None]
    return tags


def _plain_tag(tag: str) -> _Read | None:
    raw = _RAW_TAG.fullmatch(tag)
    plain = raw or _PLAIN_TAG.fullmatch(tag)
    if plain is None:
        return None
    if tag.startswith("</"):
        return _NOTHING
    name = (raw[1] or raw[2] if raw else plain[1]).lower()
    given: dict[str, str | None] = {}
    for match in _VALUE.finditer(tag) if _LOOKED_AT.search(tag) else ():
        # Of a repeated attribute browsers take the first.
        value = match[2]
        given.setdefault(match[1].lower(), html.unescape(value) if value else value)
    return _read(name, given)


def _read(name: str, attributes: Mapping[str, str | None]) -> _Read:
    anchors, ways, faults = [], [], []
    for key in filter(_matters, attributes):
        value = attributes[key] or ""
        if key == "id":
            anchors.append(value)
        elif key not in _LEADS:
            faults.append(
                f"<{name} {key}>: the content policy allows no style or handler "
                "inside a page; give it a class and a rule in site_config/assets"
            )
        elif not _ELSEWHERE.match(value):
            ways.append(value)
        elif name in _MAY_LEAD_ELSEWHERE:
            faults += [] if may_lead(value) else [f"<{name} {key}> runs something"]
        elif not value.startswith("data:image/"):
            faults.append(f"<{name}> asks another host for {value}: put the file in the notes")
    forbidden = tuple(forbidden_in_page(name, attributes))
    if not (anchors or ways or faults or forbidden):
        return _NOTHING
    return _Read(tuple(anchors), tuple(ways), tuple(faults), forbidden)


def _matters(name: str) -> bool:
    return name in _LEADS or name in ("id", "style") or name.startswith("on")
