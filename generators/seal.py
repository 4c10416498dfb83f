"""Seal a finished site: dead links refused, strays removed, content policy set."""

from __future__ import annotations

import json
import re
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from types import MappingProxyType

from kb.release_format.places import LIST, SCRIPT
from kb.writer import remove_file, write_if_changed

from .page_leads import PageLeads, read_leads, target_of

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
_IN_STYLES = re.compile(r"url\(\s*['\"]?([^'\")]+)['\"]?\s*\)")


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


def seal(site: Path, *, known: Mapping[str, PageLeads] = MappingProxyType({})) -> Sealed:
    """Make a folder of finished pages ready to become a release.

    Parameters
    ----------
    site : Path
    known : mapping of path → PageLeads
        Pages that hold the content policy already, with what was read in them.

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
        if path.endswith(".html") and path not in known
    }
    read = {path: read_leads(text, path=path) for path, text in texts.items()}
    pages = dict(sorted({**known, **read}.items()))
    faults = [fault for path in pages for fault in pages[path].faults]
    faults += _dead(pages, there)
    faults += [fault for path, text in texts.items() for fault in cannot_hold_policy(path, text)]
    if faults:
        raise SiteNotWhole(faults)
    strays = sorted(there - _wanted(site, pages, there))
    for path in strays:
        remove_file(site / path)
    for path, text in texts.items():
        write_if_changed(site / path, with_policy(text))
    return Sealed(paths=sorted(there - set(strays) - {SCRIPT}), pruned=len(strays))


def with_policy(text: str) -> str:
    """Return a finished page with the content policy in its head."""
    return text.replace(_FIRST, _HEAD).lstrip()


def _dead(pages: dict[str, PageLeads], there: set[str]) -> list[str]:
    """Return each dead end once, with a page that leads to it and how many more do."""
    from_pages: dict[str, list[str]] = {}
    for path, page in pages.items():
        for target, anchor in page.leads:
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


def _wanted(site: Path, pages: dict[str, PageLeads], there: set[str]) -> set[str]:
    """Return every page and all that a page or a style sheet asks for."""
    wanted = set(pages) | {SCRIPT}
    for page in pages.values():
        wanted.update(target for target, _ in page.leads)
    for path in sorted(wanted & there):
        if path.endswith(".css"):
            text = (site / path).read_text(encoding="utf-8")
            wanted.update(target_of(way, path=path)[0] for way in _IN_STYLES.findall(text))
        elif path.endswith(".webmanifest"):
            icons = json.loads((site / path).read_text(encoding="utf-8"))["icons"]
            wanted.update(target_of(icon["src"], path=path)[0] for icon in icons)
    return wanted & there


def cannot_hold_policy(path: str, text: str) -> list[str]:
    """Return what is wrong with a page that has no place for the policy."""
    if text.count(_FIRST) == 1:
        return []
    return [f"{path}: the page must hold {_FIRST} once, for the content policy to follow it"]
