"""Put one family into a single file that can be handed over by any messenger."""

from __future__ import annotations

import base64
import hashlib
import html
import posixpath
import re
from collections.abc import Iterable
from dataclasses import dataclass, replace
from pathlib import Path

from kb.model import Code, Curve, Drawing, Entry, Family, Method, Part, Sensor
from kb.notes.folder import DRESS, carried

from ..find_index import INDEX_SCRIPT, TEXT_SCRIPT, make_find_index
from ..find_items import find_items
from ..site_context import SiteContext

NEEDS_A_HOST = {"release", "this-copy"}
"""Scripts of every page that have nothing to do in a single file."""
PHOTO_BYTES = 120_000
"""A larger photo is left out: the file must pass through any messenger."""

_MAIN = re.compile(r'<div class="ohm-sheet[^>]*id="ohm-main"[^>]*>')
_DIV = re.compile(r"<div\b|</div>")
_HEADER = re.compile(r"<header class=\"ohm-header\">.*?</header>", re.DOTALL)
_TRAIL = re.compile(r'<nav class="ohm-trail".*?</nav>', re.DOTALL)
_NEIGHBOURS = re.compile(r'<nav class="ohm-siblings".*?</nav>', re.DOTALL)
_CHART = re.compile(r'<section aria-labelledby="chart">.*?</section>', re.DOTALL)
"""The table beside it says the same in a tenth of the bytes."""
_SCRIPT = re.compile(r'<script\b[^>]*\ssrc="([^"]*)"[^>]*></script>')
_FORMS = re.compile(r"(<form\b.*?</form>)", re.DOTALL)
"""A form's scripts look for its own ids, and it is shown only when its page stands alone."""
_REMARK = re.compile(r"^\s*/\*\*.*?\*/\s*$", re.DOTALL | re.MULTILINE)
_STYLE = re.compile(r'<link rel="stylesheet" href="([^"]*)"([^>]*)>')
_LINK = re.compile(r'<a\b([^>]*?)\shref="([^"]*)"([^>]*)>|</a>')
_IDS = re.compile(
    r'\s(id|for|aria-labelledby|aria-describedby|aria-controls|list|headers)="([^"]*)"'
)
_POINTERS = re.compile(r'(\sxlink:href="#|\s(?:xlink:)?href="#|url\(#)([^")]+)')
_IMAGE = re.compile(r'<img\b([^>]*)\ssrc="([^"]*)"([^>]*)>')
_FIND = re.compile(r'\sdata-root="[^"]*"\s+data-later="[^"]*"')


@dataclass(frozen=True)
class _Piece:
    """One page of the family: where it came from, what it says, which scripts it wants."""

    path: str
    title: str
    body: str
    scripts: tuple[str, ...]


def pocket_pages(context: SiteContext, family: Family) -> list[str]:
    """Return the paths of the pages that a family's file holds, in reading order."""
    codes, sensors, parts, drawings = (
        context.catalog.of_family(model, family.id) for model in (Code, Sensor, Part, Drawing)
    )
    curves = sorted({sensor.curve for sensor in sensors if sensor.curve})
    named = [*sensors, *parts, *codes]
    methods = sorted({one for entry in named for one in _methods(entry)})
    return [
        family.href,
        *(entry.href for entry in (*codes, *sensors, *parts, *drawings)),
        *(context.catalog.get(Curve, one).href for one in curves),
        *(context.catalog.get(Method, one).href for one in methods),
        f"jobs/{family.id}.html",
        "safety.html",
    ]


def _methods(entry: Entry) -> Iterable[str]:
    yield from getattr(entry, "methods", [])
    for suspect in getattr(entry, "suspects", []):
        if suspect.method:
            yield suspect.method


def make_pocket(
    context: SiteContext, family: Family, *, site: Path, dressing: Path, release: str
) -> str:
    """Return a family's file: everything inside, readable without scripts.

    Parameters
    ----------
    context : SiteContext
    family : Family
    site : Path
        The finished site.
    dressing : Path
        `site_config/`, which holds the file's template.
    release : str
        Which release it is of, in words.
    """
    paths = [path for path in pocket_pages(context, family) if (site / path).is_file()]
    pieces = [_piece(site, path, set(paths)) for path in paths]
    page = (site / family.href).read_text(encoding="utf-8")
    items = [
        replace(item, url="#" + slug(item.url)) for item in find_items(context) if item.url in paths
    ]
    made = make_find_index(items)
    made = {TEXT_SCRIPT: made[TEXT_SCRIPT], INDEX_SCRIPT: made[INDEX_SCRIPT]}
    everywhere = _everywhere(page, family.href)
    look, *frame = [one for one in everywhere if one not in NEEDS_A_HOST]
    scripts = [
        *made.values(),
        *(_read(site, one) for one in frame if f"assets/{one}.js" not in made),
        _pieces_text(site, pieces, known=set(frame)),
        _template(dressing, "pocket.js"),
    ]
    script = "\n".join(scripts)
    styles = [
        (media, (site / path).read_text(encoding="utf-8"))
        for path, media in _styles(page, family.href)
    ]
    header = _in_file(_HEADER.search(page)[0], family.href, set(paths), prefix="")
    header = _FIND.sub(' data-root=""', header)
    header = re.sub(r"(data-ohm-release>)[^<]*", rf"\g<1>{html.escape(release)}", header)
    filled: dict[str, str] = {
        "TITLE": f"{html.escape(family.name)} · {html.escape(context.catalog.team.title)}",
        "STYLES": "\n".join(f"<style{media}>{text}</style>" for media, text in styles),
        "LOOK": f"<script>{_read(site, look)}</script>",
        "HEADER": header,
        "CONTENTS": "".join(
            f'<p><a href="#{slug(one.path)}">{one.title}</a></p>' for one in pieces
        ),
        "PAGES": "\n".join(_article(one, known=set(frame)) for one in pieces),
        "STATUS": f"{html.escape(context.catalog.team.name)}. {html.escape(release)}. One family, in a file "
        "of its own: it does not learn of anything newer.",
        "SCRIPTS": f"<script>{script}</script>",
        "POLICY": _policy([_read(site, look), script], [text for _, text in styles]),
    }
    template = _template(dressing, "pocket.html")
    return re.sub(r"@([A-Z]+)@", lambda found: filled[found[1]], template)


def slug(path: str) -> str:
    """Return the anchor of a page in the file."""
    return path.removesuffix(".html").replace("/", "-")


def _piece(site: Path, path: str, inside: set[str]) -> _Piece:
    page = (site / path).read_text(encoding="utf-8")
    body = _sheet(page)
    for left_out in (_TRAIL, _NEIGHBOURS, _CHART):
        body = left_out.sub("", body)
    scripts = tuple(_name(path, one) for one in _SCRIPT.findall(body))
    body = _images(_SCRIPT.sub("", body), site, path)
    title = re.search(r"<h1[^>]*>(.*?)</h1>", body, re.DOTALL)
    return _Piece(
        path=path,
        title=re.sub(r"<[^>]*>", "", title[1]).strip() if title else slug(path),
        body=_in_file(body, path, inside, prefix=slug(path) + "--").strip(),
        scripts=scripts,
    )


def _sheet(page: str) -> str:
    """Return what stands in the page's sheet, up to the end that belongs to its beginning."""
    begin = _MAIN.search(page).end()
    depth = 1
    for found in _DIV.finditer(page, begin):
        depth += 1 if found[0] == "<div" else -1
        if not depth:
            return page[begin : found.start()]
    raise ValueError("a page's sheet has no end")


def _article(piece: _Piece, *, known: set[str]) -> str:
    wanted = " ".join(one for one in piece.scripts if one not in known)
    return f'<article id="{slug(piece.path)}" data-scripts="{wanted}">{piece.body}</article>'


def _in_file(text: str, path: str, inside: set[str], *, prefix: str) -> str:
    """Let ids stay unique and links lead within the file; a link out of it becomes plain words."""
    text = "".join(
        part if part.startswith("<form") else _own_ids(part, prefix) for part in _FORMS.split(text)
    )
    open_links: list[bool] = []

    def link(found: re.Match[str]) -> str:
        if found[0] == "</a>":
            return "</a>" if open_links.pop() else "</span>"
        way, _, anchor = found[2].partition("#")
        target = posixpath.normpath(posixpath.join(posixpath.dirname(path), way)) if way else ""
        if not way or "://" in way:
            href = found[2]
        elif target in inside:
            href = "#" + slug(target) + (f"--{anchor}" if anchor else "")
        elif "ohm-to-home" in found[0]:
            href = "#" + slug(path)
        else:
            open_links.append(False)
            return "<span>"
        open_links.append(True)
        return f'<a{found[1]} href="{href}"{found[3]}>'

    return _LINK.sub(link, text)


def _own_ids(text: str, prefix: str) -> str:
    text = _IDS.sub(
        lambda found: f' {found[1]}="' + " ".join(prefix + one for one in found[2].split()) + '"',
        text,
    )
    return _POINTERS.sub(lambda found: found[1] + prefix + found[2], text)


def _images(text: str, site: Path, path: str) -> str:
    def image(found: re.Match[str]) -> str:
        file = site / posixpath.normpath(posixpath.join(posixpath.dirname(path), found[2]))
        raw = file.read_bytes() if file.is_file() else b""
        if len(raw) > PHOTO_BYTES:
            return "<p>The photo is left out of this file.</p>"
        kind = "jpeg" if file.suffix in (".jpg", ".jpeg") else file.suffix[1:]
        told = base64.b64encode(raw).decode("ascii")
        return f'<img{found[1]} src="data:image/{kind};base64,{told}"{found[3]}>'

    return _IMAGE.sub(image, text)


def _everywhere(page: str, path: str) -> list[str]:
    """Return the names of the scripts that stand on every page, in the order they run."""
    return [_name(path, one) for one in _SCRIPT.findall(page.partition("<body")[0])]


def _styles(page: str, path: str) -> list[tuple[str, str]]:
    return [
        (posixpath.normpath(posixpath.join(posixpath.dirname(path), way)), more)
        for way, more in _STYLE.findall(page)
    ]


def _pieces_text(site: Path, pieces: list[_Piece], *, known: set[str]) -> str:
    """Return every script that some page wants, each as a function to be called on that page."""
    names = dict.fromkeys(one for piece in pieces for one in piece.scripts if one not in known)
    told = (f'OhmPocket["{one}"]=function(){{\n{_read(site, one)}}};' for one in names)
    return "var OhmPocket={};\n" + "\n".join(told)


def _name(path: str, way: str) -> str:
    target = posixpath.normpath(posixpath.join(posixpath.dirname(path), way))
    return target.removeprefix("assets/").removesuffix(".js")


def _read(site: Path, name: str) -> str:
    """Return a script, without the lines that only speak to whoever reads its source."""
    text = (site / f"assets/{name}.js").read_text(encoding="utf-8")
    assert "</script" not in text, f"{name} would end the file's script"
    lines = (line.strip() for line in _REMARK.sub("", text).splitlines())
    return "\n".join(line for line in lines if line and not line.startswith("//")) + "\n"


def _template(dressing: Path, name: str) -> str:
    own = dressing / "pocket" / name
    return (own if own.is_file() else carried(DRESS) / "pocket" / name).read_text(encoding="utf-8")


def _policy(scripts: list[str], styles: list[str]) -> str:
    """Return a content policy that lets run what is in the file, and nothing else."""

    def sums(texts: list[str]) -> str:
        raw = (hashlib.sha256(one.encode("utf-8")).digest() for one in texts)
        return " ".join(f"'sha256-{base64.b64encode(one).decode('ascii')}'" for one in raw)

    return "; ".join(
        [
            "default-src 'none'",
            f"script-src {sums(scripts)}",
            f"style-src {sums(styles)}",
            "img-src data:",
            "form-action 'none'",
            "base-uri 'none'",
        ]
    )
