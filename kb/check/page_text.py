"""What a hand-written page may not hold: dead links, and anything that runs or dresses."""

from __future__ import annotations

import posixpath
import re
from collections import Counter
from collections.abc import Iterator
from urllib.parse import unquote

from kb.allowed_html import (
    IN_TEXT,
    SCHEMES,
    VOID,
    in_text,
    may_lead,
    may_show,
    plain_address,
    scheme_of,
)
from kb.notes.problem import Problem, nearest

from .shown_text import DEEPEST_LIST, MOST_OPEN, links, lists_too_deep, never_closed, without_typed
from .source_tags import SourceAttribute, source_tags

_REFERENCE = re.compile(r"^ {0,3}\[[^\]\n]++\]:[ \t]*+<?(?P<bare>[^\s<>]++)", re.MULTILINE)
_IN_BRACES = re.compile(r"(?<![\w:-])(?P<name>[a-zA-Z][\w:-]*+)\s*=")
_BRACES = re.compile(r"\{:?(?P<inside>[^{}\n]*)\}")
_ELSEWHERE = re.compile(r"\A(?:[a-z][a-z0-9+.-]*:|//)", re.IGNORECASE)
_NEAREST_FOR = 50
"""So many dead links of a page get the name that comes nearest: each costs 10 ms to find."""
_NO_TAG = {
    "script": "runs",
    "object": "runs",
    "embed": "runs",
    "style": "dresses the page",
    "iframe": "shows another page",
    "link": "asks for another file",
    "meta": "changes the page's head",
    "base": "bends every link",
    "form": "sends",
}
_RUNS = ("data", "javascript", "vbscript")
Fault = tuple[str, str, str]
"""Rule, what is wrong, and what would mend it."""

_TAKE_OUT = "take it out"
_POLICY = "the content policy of every page forbids it: take it out"


def faults_of_page(
    text: str, *, name: str, file: str, pages: set[str], photos: set[str]
) -> Iterator[Problem]:
    """Yield each fault of one page's Markdown, placed at the words.

    Parameters
    ----------
    text : str
        The page, as written.
    name : str
        The page's name from the site's root, without its ending.
    file : str
        The file to show in problems.
    pages, photos : set of str
        What there will be to lead to: pages without their ending, photos with it.
    """
    shown = without_typed(text)
    lines = text.split("\n")
    faults = [
        *_faults_of_links(shown, name=name, pages=pages, photos=photos),
        *_faults_of_tags(shown, name=name, pages=pages, photos=photos),
        *_faults_of_braces(shown),
        *_faults_of_piles(shown),
    ]
    for at, (rule, message, hint) in faults:
        line = shown.count("\n", 0, at) + 1
        column = at - (shown.rfind("\n", 0, at) + 1) + 1
        yield Problem(file, line, column, rule, message, hint, text=lines[line - 1])


def _faults_of_links(
    shown: str, *, name: str, pages: set[str], photos: set[str]
) -> Iterator[tuple[int, Fault]]:
    written = [*links(shown)]
    written += [(each.start("bare"), each["bare"], False) for each in _REFERENCE.finditer(shown)]
    few = _NEAREST_FOR
    for at, way, image in written:
        near = pages if few > 0 else set()
        fault = _image(way, name, photos) if image else _link(way, name, pages, near=near)
        if fault:
            few -= 1
            yield at, fault


def _faults_of_tags(
    shown: str, *, name: str, pages: set[str], photos: set[str]
) -> Iterator[tuple[int, Fault]]:
    opened: Counter[str] = Counter()
    for tag in source_tags(shown):
        does = _NO_TAG.get(tag.name)
        if does and not tag.closes:
            yield tag.at, ("forbidden", f"<{tag.name}> {does}", _POLICY)
        elif tag.name not in IN_TEXT and tag.name not in _NO_TAG:
            message = f"<{tag.name}> is no tag that a page may hold"
            yield tag.at, ("forbidden", message, f"to show it, write &lt;{tag.name}&gt;")
        elif tag.closes:
            opened[tag.name] -= 1
            if opened[tag.name] < 0 and tag.name not in _NO_TAG:
                opened[tag.name] = 0
                yield tag.at, ("stray-tag", f"</{tag.name}> closes nothing here", "take it out")
        else:
            opened[tag.name] += tag.name not in VOID
            for found in tag.attributes:
                fault = _attribute(found, tag.name, name, pages, photos)
                if fault:
                    yield found.at, fault


def _faults_of_piles(shown: str) -> Iterator[tuple[int, Fault]]:
    tags = sum(1 for _ in source_tags(shown))
    for at, sign in never_closed(shown, tags=tags):
        message = f"more than {MOST_OPEN} '{sign}' on this page are never closed"
        yield at, ("never-closed", message, "take them out, or put them in backticks")
    for at in lists_too_deep(shown):
        message = f"more than {DEEPEST_LIST} lists begin in each other here"
        yield at, ("too-deep", message, "take signs away from the beginning of the line")


def _faults_of_braces(shown: str) -> Iterator[tuple[int, Fault]]:
    for braces in _BRACES.finditer(shown):
        for found in _IN_BRACES.finditer(shown, braces.start("inside"), braces.end("inside")):
            if _dresses_or_runs(found["name"]):
                yield found.start(), _handler(found["name"])


def _attribute(
    found: SourceAttribute, tag: str, name: str, pages: set[str], photos: set[str]
) -> Fault | None:
    if _dresses_or_runs(found.name):
        return _handler(found.name)
    if not in_text(tag, found.name):
        return "forbidden", f"'{found.name}' is nothing that <{tag}> may have in a page", _TAKE_OUT
    if found.name == "src":
        return _image(found.value, name, photos, html=True)
    if found.name == "href":
        return _link(found.value, name, pages, html=True, near=pages)
    return None


def _dresses_or_runs(attribute: str) -> bool:
    return attribute.lower() == "style" or attribute.lower().startswith("on")


def _handler(attribute: str) -> Fault:
    does = "dresses" if attribute.lower() == "style" else "runs"
    return "forbidden", f"'{attribute.lower()}=' {does} something inside the page", _POLICY


def _link(
    way: str, name: str, pages: set[str], *, near: set[str], html: bool = False
) -> Fault | None:
    """Return what is wrong with where a link leads; None when nothing is."""
    way = plain_address(way)
    if not may_lead(way) and scheme_of(way) in _RUNS:
        return "forbidden", "this link runs something", _POLICY
    if not may_lead(way):
        leads = f"'{scheme_of(way)}:' is no address that a page may lead to"
        return "forbidden", leads, f"write one of {', '.join(sorted(SCHEMES))}"
    path = unquote(way.partition("#")[0].partition("?")[0])
    if _ELSEWHERE.match(way) or not path:
        return None
    if path.startswith("/"):
        return "dead-link", f"'{way}' begins at the host, not at this page", _from_here(name)
    ending = ".html" if html else ".md"
    target = posixpath.normpath(posixpath.join(posixpath.dirname(name), path))
    stem, known = posixpath.splitext(target)
    if stem in pages and known == ending:
        return None
    if stem in pages and known in (".md", ".html"):
        return (
            "dead-link",
            f"'{way}' is not how a page is named here",
            (f"write {posixpath.splitext(path)[0]}{ending}"),
        )
    meant = nearest(
        posixpath.splitext(path)[0] + ending,
        (posixpath.relpath(page, posixpath.dirname(name) or ".") + ending for page in near),
    )
    return (
        "dead-link",
        f"'{way}' leads to no page",
        (meant if meant.startswith("did you mean") else _from_here(name)),
    )


def _from_here(name: str) -> str:
    up = "../" * name.count("/")
    return f"write the way from this page, such as {up}curves/ID.md or {up}safety.md"


def _image(way: str, name: str, photos: set[str], *, html: bool = False) -> Fault | None:
    """Return what is wrong with a picture: only photos of drawings travel with the site."""
    way = plain_address(way)
    if scheme_of(way) and may_show(way):
        return None
    if _ELSEWHERE.match(way):
        return (
            "dead-image",
            f"'{way}' would be asked from another host",
            ("a page works without a network: make a drawing of it, with its photo"),
        )
    target = posixpath.normpath(posixpath.join(posixpath.dirname(name), unquote(way)))
    drawn = f"{posixpath.splitext(target)[0]}.jpg"
    if html and target in photos:
        return None
    if html and drawn in photos:
        return (
            "dead-image",
            f"'{way}' has another ending in the site, where every photo is a JPEG",
            f"write {posixpath.splitext(way)[0]}.jpg",
        )
    if drawn in photos:
        return (
            "dead-image",
            f"'{way}' is a photo of a drawing",
            ("link to its page instead: [words](drawings/ID.md)"),
        )
    return (
        "dead-image",
        f"'{way}' will not be in the site: pages bring no pictures of their own",
        ("make a drawing of it, with its photo, and link to that"),
    )
