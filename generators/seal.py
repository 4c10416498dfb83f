"""Seal a finished site: dead links refused, strays removed, content policy set."""

from __future__ import annotations

import json
import posixpath
import re
from dataclasses import dataclass, field
from pathlib import Path
from urllib.parse import unquote

from kb.release_format.places import LIST, SCRIPT
from kb.writer import remove_file, write_if_changed

from .html_tags import Tag, read_tags

POLICY = "; ".join(
    [
        "default-src 'none'",
        "script-src 'self'",
        "style-src 'self'",
        "img-src 'self' data:",
        "connect-src 'self'",
        "manifest-src 'self'",
        "worker-src 'self'",
        "form-action 'none'",
        "base-uri 'none'",
    ]
)
"""No host but our own, and nothing written into a page can run or dress it."""

_FIRST = '<meta charset="utf-8">'
_HEAD = (
    f'{_FIRST}\n<meta http-equiv="Content-Security-Policy" content="{POLICY}">\n'
    '<meta name="robots" content="noindex, nofollow">'
)
_LEADS = {"href", "xlink:href", "src", "data-later"}
_IN_STYLES = re.compile(r"url\(\s*['\"]?([^'\")]+)['\"]?\s*\)")
_ELSEWHERE = re.compile(r"\A(?:[a-z][a-z0-9+.-]*:|//)", re.IGNORECASE)
_MAY_LEAD_ELSEWHERE = {"a", "area"}


class SiteNotWhole(Exception):
    """A page leads to something that is not there, or asks for what the policy forbids."""

    def __init__(self, faults: list[str]) -> None:
        super().__init__("\n".join(faults))
        self.faults = faults


@dataclass(frozen=True)
class Sealed:
    """What a sealed site holds, and how many files nobody asked for were removed from it."""

    paths: list[str]
    pruned: int


@dataclass
class _Page:
    """What one page holds that others may lead to, and where it leads."""

    anchors: set[str] = field(default_factory=set)
    leads: list[tuple[str, str]] = field(default_factory=list)
    """(path in the site, anchor or nothing)"""
    faults: list[str] = field(default_factory=list)


def seal(site: Path) -> Sealed:
    """Make a folder of finished pages ready to become a release.

    Raises
    ------
    SiteNotWhole
        With every dead link and every forbidden piece; nothing has been changed then.
    """
    there = {path.relative_to(site).as_posix() for path in site.rglob("*") if path.is_file()} - {
        LIST
    }
    there.add(SCRIPT)
    texts = {
        path: (site / path).read_text(encoding="utf-8")
        for path in sorted(there)
        if path.endswith(".html")
    }
    pages = {path: _read(path, text) for path, text in texts.items()}
    faults = [fault for path in pages for fault in pages[path].faults]
    faults += _dead(pages, there)
    faults += [fault for path, text in texts.items() for fault in _cannot_hold_policy(path, text)]
    if faults:
        raise SiteNotWhole(faults)
    strays = sorted(there - _wanted(site, pages, there))
    for path in strays:
        remove_file(site / path)
    for path, text in texts.items():
        write_if_changed(site / path, text.replace(_FIRST, _HEAD).lstrip())
    return Sealed(paths=sorted(there - set(strays) - {SCRIPT}), pruned=len(strays))


def _read(path: str, text: str) -> _Page:
    page = _Page()
    for tag in read_tags(text):
        for name, value in tag.attributes.items():
            if name == "id":
                page.anchors.add(value or "")
            elif name == "style" or name.startswith("on"):
                page.faults.append(
                    f"{path}: <{tag.name} {name}>: the content policy allows no style or handler "
                    "inside a page; give it a class and a rule in site_config/assets"
                )
            elif name in _LEADS:
                _follow(tag, value or "", path=path, page=page)
    return page


def _follow(tag: Tag, value: str, *, path: str, page: _Page) -> None:
    """Note where an address leads to in the site, or what is wrong with it."""
    if not _ELSEWHERE.match(value):
        page.leads.append(_target(path, value))
    elif tag.name not in _MAY_LEAD_ELSEWHERE and not value.startswith("data:image/"):
        page.faults.append(
            f"{path}: <{tag.name}> asks another host for {value}: put the file in the notes"
        )


def _target(path: str, value: str) -> tuple[str, str]:
    way, _, anchor = value.partition("#")
    way = unquote(way.partition("?")[0])
    if not way:
        return path, unquote(anchor)
    return posixpath.normpath(posixpath.join(posixpath.dirname(path), way)), unquote(anchor)


def _dead(pages: dict[str, _Page], there: set[str]) -> list[str]:
    """Return each dead end once, with a page that leads to it and how many more do."""
    from_pages: dict[str, list[str]] = {}
    for path, page in pages.items():
        for target, anchor in dict.fromkeys(page.leads):
            if target not in there:
                dead = f"{target}, which is not in the site"
            elif anchor and target in pages and anchor not in pages[target].anchors:
                dead = f"{target}#{anchor}, but no such anchor is on that page"
            else:
                continue
            from_pages.setdefault(dead, []).append(path)
    return [
        f"{paths[0]}{f' and {len(paths) - 1} more' if len(paths) > 1 else ''} "
        f"lead{'' if len(paths) > 1 else 's'} to {dead}"
        for dead, paths in from_pages.items()
    ]


def _wanted(site: Path, pages: dict[str, _Page], there: set[str]) -> set[str]:
    """Return every page and all that a page or a style sheet asks for."""
    wanted = set(pages) | {SCRIPT}
    for page in pages.values():
        wanted.update(target for target, _ in page.leads)
    for path in sorted(wanted & there):
        if path.endswith(".css"):
            text = (site / path).read_text(encoding="utf-8")
            wanted.update(_target(path, way)[0] for way in _IN_STYLES.findall(text))
        elif path.endswith(".webmanifest"):
            icons = json.loads((site / path).read_text(encoding="utf-8"))["icons"]
            wanted.update(_target(path, icon["src"])[0] for icon in icons)
    return wanted & there


def _cannot_hold_policy(path: str, text: str) -> list[str]:
    if text.count(_FIRST) == 1:
        return []
    return [f"{path}: the page must hold {_FIRST} once, for the content policy to follow it"]
