"""Read what one finished page offers to be led to, where it leads, and what it must not hold."""

from __future__ import annotations

import html
import posixpath
import re
from collections.abc import Iterator
from dataclasses import dataclass
from urllib.parse import unquote

from kb.allowed_html import forbidden_in_page, may_lead

from .html_tags import read_tags

_LEADS = {"href", "xlink:href", "src", "data-later"}
_ELSEWHERE = re.compile(r"\A(?:[a-z][a-z0-9+.-]*:|//)", re.IGNORECASE)
_MAY_LEAD_ELSEWHERE = {"a", "area"}

_NAME = r"[a-z][a-z0-9:-]*+"
_ATTRIBUTE = rf'\s++{_NAME}(?:="[^"<>]*+")?+(?=[\s/>])'
_RAW = "script|style|title|textarea|xmp|iframe|noembed|noframes|noscript|plaintext"
_PLAIN = re.compile(
    rf"\s*+<!doctype html>(?:[^<]++"
    rf"|<(?!(?:{_RAW})[\s/>]){_NAME}(?:{_ATTRIBUTE})*+\s*+/?+>"
    rf"|<script(?:{_ATTRIBUTE})*+\s*+></script>"
    rf"|<textarea(?:{_ATTRIBUTE})*+\s*+></textarea>"
    rf"|<title>[^<]*+</title>"
    rf"|</{_NAME}>)*+",
    re.IGNORECASE,
)
"""A page that is text and tags, their values in double quotes: no remark, no script of its own."""
_TAG = re.compile(
    rf"<({_NAME})(?=[^>]*\s(?:id|style|on[a-z]*|href|xlink:href|src|data-later)[=\s/>])([^>]*)>",
    re.IGNORECASE,
)
_ANY_TAG = re.compile(rf"<({_NAME})", re.IGNORECASE)
_BENDING_TAG = re.compile(
    rf"<({_NAME})(?=[^>]*\s(?:http-equiv|srcdoc|formaction)[=\s/>])([^>]*)>", re.IGNORECASE
)
_VALUE = re.compile(rf'\s({_NAME})(?:="([^"]*)")?', re.IGNORECASE)


@dataclass(frozen=True)
class PageLeads:
    """What a page holds that others may lead to, and where it leads."""

    anchors: frozenset[str]
    leads: tuple[tuple[str, str], ...]
    """(path in the site, anchor or nothing), each once, in the page's order."""
    faults: tuple[str, ...]


def read_leads(text: str, *, path: str) -> PageLeads:
    """Return what the page of this path in the site offers, asks for and must not hold."""
    anchors: set[str] = set()
    leads: dict[tuple[str, str], None] = {}
    faults = [f"{path}: {why}" for why in dict.fromkeys(_forbidden(text))]
    followed: set[str] = set()
    for tag, name, value in _asked(text):
        if name == "id":
            anchors.add(value)
        elif name not in _LEADS:
            faults.append(
                f"{path}: <{tag} {name}>: the content policy allows no style or handler "
                "inside a page; give it a class and a rule in site_config/assets"
            )
        elif value in followed:
            continue
        elif not _ELSEWHERE.match(value):
            followed.add(value)
            leads[target_of(value, path=path)] = None
        elif tag in _MAY_LEAD_ELSEWHERE and not may_lead(value):
            faults.append(f"{path}: <{tag} {name}> runs something")
        elif tag not in _MAY_LEAD_ELSEWHERE and not value.startswith("data:image/"):
            faults.append(
                f"{path}: <{tag}> asks another host for {value}: put the file in the notes"
            )
    return PageLeads(frozenset(anchors), tuple(leads), tuple(faults))


def target_of(value: str, *, path: str) -> tuple[str, str]:
    """Return (path in the site, anchor or nothing) of an address that stands in a file there."""
    way, _, anchor = value.partition("#")
    way = unquote(way.partition("?")[0])
    if not way:
        return path, unquote(anchor)
    return posixpath.normpath(posixpath.join(posixpath.dirname(path), way)), unquote(anchor)


def _asked(text: str) -> Iterator[tuple[str, str, str]]:
    """Yield (tag, attribute, value) of all that matters here, in the page's order."""
    # What we make ourselves is plain, and patterns read it thirty times as fast as a parser.
    if _PLAIN.fullmatch(text) is None:
        yield from _parsed(text)
        return
    for tag, attributes in _TAG.findall(text):
        given: dict[str, str] = {}
        for name, value in _VALUE.findall(attributes):
            # Of a repeated attribute browsers take the first.
            given.setdefault(name.lower(), value)
        for name, value in given.items():
            if _matters(name):
                yield tag.lower(), name, html.unescape(value) if "&" in value else value


def _parsed(text: str) -> Iterator[tuple[str, str, str]]:
    for tag in read_tags(text):
        for name, value in tag.attributes.items():
            if _matters(name):
                yield tag.name, name, value or ""


def _forbidden(text: str) -> Iterator[str]:
    """Yield what no page may hold, by the list that hand-written pages are held to as well."""
    if _PLAIN.fullmatch(text) is None:
        for tag in read_tags(text):
            yield from forbidden_in_page(tag.name, tag.attributes)
        return
    for name in sorted({name.lower() for name in _ANY_TAG.findall(text)}):
        yield from forbidden_in_page(name, {})
    for tag_name, attributes in _BENDING_TAG.findall(text):
        given: dict[str, str | None] = {}
        for name, value in _VALUE.findall(attributes):
            given.setdefault(name.lower(), html.unescape(value))
        yield from forbidden_in_page(tag_name.lower(), given)


def _matters(name: str) -> bool:
    return name in _LEADS or name in ("id", "style") or name.startswith("on")
