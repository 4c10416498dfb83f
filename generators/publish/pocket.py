"""Put one family into a single file that can be handed over by any messenger."""

from __future__ import annotations

import base64
import hashlib
import html
import posixpath
import re
from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from kb.made_pages import STOP
from kb.model import Code, Curve, Drawing, Family, Method, Part, Sensor
from kb.notes.folder import DRESS, carried
from kb.words.catalogue import template
from kb.words.phrase import in_words

from ..find_index import INDEX_SCRIPT, TEXT_SCRIPT, make_find_index
from ..find_items import find_items
from ..html_tags import opening_tag, read_tags
from ..site_context import SiteContext
from .pocket_drawings import drawn_once
from .pocket_page import PocketPage, pocket_header, pocket_page, slug
from .pocket_scripts import NEEDS_A_HOST, on_call, runs_once, script_names, script_text
from .pocket_slim import once_said, spare


def pocket_pages(context: SiteContext, *, family: Family) -> list[str]:
    """Return the paths of the pages that a family's file holds, in reading order."""
    catalog = context.catalog
    codes, sensors = catalog.of_family(Code, family.id), catalog.of_family(Sensor, family.id)
    parts, drawings = catalog.of_family(Part, family.id), catalog.of_family(Drawing, family.id)
    curves = sorted({sensor.curve for sensor in sensors if sensor.curve})
    methods = {
        *(method for sensor in sensors for method in sensor.methods),
        *(method for part in parts for method in part.methods),
        *(suspect.method for code in codes for suspect in code.suspects if suspect.method),
    }
    return [
        family.href,
        *(entry.href for entry in (*codes, *sensors, *parts, *drawings)),
        *(catalog.get(Curve, curve_id).href for curve_id in curves),
        *(catalog.get(Method, method_id).href for method_id in sorted(methods)),
        f"jobs/{family.id}.html",
        "safety.html",
        f"{STOP}.html",
    ]


def make_pocket(
    context: SiteContext, *, family: Family, site: Path, dressing: Path, release: str
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
    team = context.catalog.team
    there = [path for path in pocket_pages(context, family=family) if (site / path).is_file()]
    inside = {path: number for number, path in enumerate(there)}
    pages = [pocket_page(site, path=path, inside=inside) for path in inside]
    pages, drawn = drawn_once(once_said(pages))
    frame = _frame_of(site, path=family.href)
    scripts = _scripts(context, frame, site=site, dressing=dressing, pages=pages)
    filled = {
        "LANGUAGE": template("language.code"),
        "TITLE": f"{html.escape(family.name)} · {html.escape(team.title)}",
        "STYLES": "\n".join(f"{opening}{text}</style>" for opening, text in frame.styles),
        "LOOK": f"<script>{frame.look}</script>",
        "HEADER": pocket_header(site, path=family.href, inside=inside, release=release),
        "CONTENTS": "".join(_line_of_contents(page) for page in pages),
        "DRAWN": spare(drawn),
        "PAGES": "\n".join(_article(page, known=frame.scripts) for page in pages),
        "INSIDE": html.escape(in_words("pocket.contents")),
        "FIRST": html.escape(in_words("frame.first"), quote=False),
        "SAFETY": html.escape(in_words("frame.safety")),
        "STATUS": html.escape(in_words("pocket.status", team=team.name, release=release)),
        "SCRIPTS": f"<script>{scripts}</script>",
        "POLICY": _policy([frame.look, scripts], [text for _, text in frame.styles]),
    }
    frame_text = _template(dressing, "pocket.html")
    return re.sub(r"@([A-Z]+)@", lambda found: filled[found[1]], frame_text)


@dataclass(frozen=True)
class _Frame:
    """What stands on every page of the site: scripts, in the order they run, and styles."""

    look: str
    """The script that settles light or dark before anything is drawn."""
    scripts: Sequence[str]
    """Names of the others."""
    styles: Sequence[tuple[str, str]]
    """(opening tag, text)"""


def _frame_of(site: Path, *, path: str) -> _Frame:
    tags = read_tags((site / path).read_text(encoding="utf-8"))
    body = next(i for i, tag in enumerate(tags) if tag.name == "body")
    look, *scripts = script_names(tags[:body], path=path)
    scripts = [name for name in scripts if name not in NEEDS_A_HOST]
    sheets = [tag.attributes for tag in tags if tag.attributes.get("rel") == "stylesheet"]
    styles = []
    for sheet in sheets:
        way = posixpath.join(posixpath.dirname(path), sheet["href"] or "")
        text = (site / posixpath.normpath(way)).read_text(encoding="utf-8")
        text = re.sub(r"\s*\n\s*", "\n", text)
        rest = {name: value for name, value in sheet.items() if name not in ("rel", "href")}
        styles.append((opening_tag("style", rest), text))
    return _Frame(look=script_text(site, name=look), scripts=scripts, styles=styles)


def _scripts(
    context: SiteContext, frame: _Frame, *, site: Path, dressing: Path, pages: list[PocketPage]
) -> str:
    """Return everything that runs in the file, in its order."""
    anchors = {page.path: "#" + slug(page.path) for page in pages}
    items = [
        replace(item, url=anchors[item.url]) for item in find_items(context) if item.url in anchors
    ]
    index = make_find_index(items)
    asked = dict.fromkeys(name for page in pages for name in page.scripts)
    wanted = [name for name in asked if name not in frame.scripts]
    parts = [
        index[TEXT_SCRIPT],
        index[INDEX_SCRIPT],
        *(
            script_text(site, name=name)
            for name in frame.scripts
            if f"assets/{name}.js" not in index
        ),
        script_text(site, name="find"),
        *(script_text(site, name=name) for name in wanted if runs_once(name)),
        on_call(site, names=[name for name in wanted if not runs_once(name)]),
        _template(dressing, "pocket.js"),
    ]
    return "\n".join(parts)


def _line_of_contents(page: PocketPage) -> str:
    return f'<p><a href="#{slug(page.path)}">{page.title}</a></p>'


def _article(page: PocketPage, *, known: Sequence[str]) -> str:
    own = [name for name in page.scripts if name not in known and not runs_once(name)]
    wanted = " ".join(own)
    return f'<article id="{slug(page.path)}" data-scripts="{wanted}">{spare(page.body)}</article>'


def _template(dressing: Path, name: str) -> str:
    own = dressing / "pocket" / name
    return (own if own.is_file() else carried(DRESS) / "pocket" / name).read_text(encoding="utf-8")


def _policy(scripts: list[str], styles: list[str]) -> str:
    """Return a content policy that lets run what is in the file, and nothing else."""

    def sums(texts: list[str]) -> str:
        digests = (hashlib.sha256(text.encode("utf-8")).digest() for text in texts)
        return " ".join(f"'sha256-{base64.b64encode(raw).decode('ascii')}'" for raw in digests)

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
