"""What a hand-written page may not hold: dead links, and anything that runs or dresses."""

from __future__ import annotations

import posixpath
import re
from collections.abc import Iterator
from urllib.parse import unquote

from kb.notes.problem import Problem, nearest

# What is shown as typed holds no link: fenced blocks, `words in backticks`, comments.
_AS_TYPED = re.compile(
    r"^(?P<fence>```+|~~~+).*?(?:^(?P=fence)|\Z)|(?P<ticks>`+)(?!`).+?(?<!`)(?P=ticks)(?!`)"
    r"|<!--.*?-->",
    re.MULTILINE | re.DOTALL,
)
_LINK = re.compile(
    r"(?P<image>!?)\[(?:[^\[\]]|\[[^\]]*\])*\]"
    r"\(\s*(?:<(?P<angled>[^<>\n]*)>|(?P<bare>[^\s()<>]+))"
)
_REFERENCE = re.compile(r"^ {0,3}\[[^\]\n]+\]:[ \t]*<?(?P<bare>[^\s<>]+)", re.MULTILINE)
_TAG = re.compile(r"<(?P<tag>[a-zA-Z][\w-]*)(?P<inside>(?:\s[^<>]*)?)/?>")
_ATTRIBUTE = re.compile(
    r"(?<![\w-])(?P<name>[a-zA-Z][\w:-]*)\s*=\s*(?:\"(?P<double>[^\"]*)\"|'(?P<single>[^']*)'"
    r"|(?P<plain>[^\s\"'>]+))"
)
_BRACES = re.compile(r"\{:?(?P<inside>[^{}\n]*)\}")
_ELSEWHERE = re.compile(r"\A(?:[a-z][a-z0-9+.-]*:|//)", re.IGNORECASE)
_RUNS = re.compile(r"\A\s*(?:javascript|vbscript|data):", re.IGNORECASE)
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
Fault = tuple[str, str, str]
"""Rule, what is wrong, and what would mend it."""

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
    shown = _AS_TYPED.sub(lambda found: re.sub(r"[^\n]", " ", found[0]), text)
    lines = text.splitlines()
    faults = [
        *_faults_of_links(shown, name=name, pages=pages, photos=photos),
        *_faults_of_tags(shown, name=name, pages=pages, photos=photos),
        *_faults_of_braces(shown),
    ]
    for at, (rule, message, hint) in faults:
        line = shown.count("\n", 0, at) + 1
        column = at - (shown.rfind("\n", 0, at) + 1) + 1
        yield Problem(file, line, column, rule, message, hint, text=lines[line - 1])


def _faults_of_links(
    shown: str, *, name: str, pages: set[str], photos: set[str]
) -> Iterator[tuple[int, Fault]]:
    for found in [*_LINK.finditer(shown), *_REFERENCE.finditer(shown)]:
        group = "angled" if found.groupdict().get("angled") is not None else "bare"
        way = found[group]
        image = found.groupdict().get("image")
        fault = _image(way, name, photos) if image else _link(way, name, pages)
        if fault:
            yield found.start(group), fault


def _faults_of_tags(
    shown: str, *, name: str, pages: set[str], photos: set[str]
) -> Iterator[tuple[int, Fault]]:
    for tag in _TAG.finditer(shown):
        does = _NO_TAG.get(tag["tag"].lower())
        if does:
            yield tag.start(), ("forbidden", f"<{tag['tag'].lower()}> {does}", _POLICY)
            continue
        for found in _ATTRIBUTE.finditer(shown, tag.start("inside"), tag.end("inside")):
            fault = _attribute(found, tag["tag"].lower(), name, pages, photos)
            if fault:
                yield found.start(), fault


def _faults_of_braces(shown: str) -> Iterator[tuple[int, Fault]]:
    for braces in _BRACES.finditer(shown):
        for found in _ATTRIBUTE.finditer(shown, braces.start("inside"), braces.end("inside")):
            if _dresses_or_runs(found["name"]):
                yield found.start(), _handler(found["name"])


def _attribute(
    found: re.Match[str], tag: str, name: str, pages: set[str], photos: set[str]
) -> Fault | None:
    value = found["double"] or found["single"] or found["plain"] or ""
    kind = found["name"].lower()
    if _dresses_or_runs(kind):
        return _handler(kind)
    if kind == "src":
        return _image(value, name, photos, html=True)
    if kind == "href" and tag in ("a", "area"):
        return _link(value, name, pages, html=True)
    return None


def _dresses_or_runs(attribute: str) -> bool:
    return attribute.lower() == "style" or attribute.lower().startswith("on")


def _handler(attribute: str) -> Fault:
    does = "dresses" if attribute.lower() == "style" else "runs"
    return "forbidden", f"'{attribute.lower()}=' {does} something inside the page", _POLICY


def _link(way: str, name: str, pages: set[str], *, html: bool = False) -> Fault | None:
    """Return what is wrong with where a link leads; None when nothing is."""
    if _RUNS.match(way):
        return "forbidden", "this link runs something", _POLICY
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
    near = nearest(
        posixpath.splitext(path)[0] + ending,
        (posixpath.relpath(page, posixpath.dirname(name) or ".") + ending for page in pages),
    )
    return (
        "dead-link",
        f"'{way}' leads to no page",
        (near if near.startswith("did you mean") else _from_here(name)),
    )


def _from_here(name: str) -> str:
    up = "../" * name.count("/")
    return f"write the way from this page, such as {up}curves/ID.md or {up}safety.md"


def _image(way: str, name: str, photos: set[str], *, html: bool = False) -> Fault | None:
    """Return what is wrong with a picture: only photos of drawings travel with the site."""
    if way.startswith("data:image/"):
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
