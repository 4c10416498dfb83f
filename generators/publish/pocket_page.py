"""Take one finished page over into a pocket file: its own anchors, links within, photos inside."""

from __future__ import annotations

import base64
import html
import itertools
import posixpath
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from kb.photos import light_photo

from ..html_tags import Tag, closing, opening_tag, read_tags
from .pocket_scripts import script_names

PHOTO_BYTES = 120_000
"""A heavier photo is drawn smaller: the file must pass through any messenger (common practice)."""
_POINTING = ("id", "for", "aria-labelledby", "aria-describedby", "aria-controls", "list", "headers")
"""Attributes that are an anchor, or name some."""

Attributes = dict[str, str | None]


@dataclass(frozen=True)
class PocketPage:
    """One page of the family: where it came from, what it says, which scripts it wants."""

    path: str
    title: str
    body: str
    scripts: tuple[str, ...]


def slug(path: str) -> str:
    """Return the anchor of a page in the file."""
    return path.removesuffix(".html").replace("/", "-")


def anchor_within(number: int, *, anchor: str) -> str:
    """Return what an anchor on a page is called in the file, by the page's place among them.

    The place and not the page's name: a thousand anchors say it, and twice as many point to them.
    """
    return f"p{number}--{anchor}"


def pocket_page(site: Path, *, path: str, inside: Mapping[str, int]) -> PocketPage:
    """Return a page as the file holds it.

    Parameters
    ----------
    site : Path
        The finished site.
    path : str
    inside : mapping of path → place among them
        The pages of the file: links to others become plain words.
    """
    text = (site / path).read_text(encoding="utf-8")
    tags = read_tags(text)
    sheet = next(i for i, tag in enumerate(tags) if tag.attributes.get("id") == "ohm-main")
    end = closing(tags, sheet)
    taking = _Taking(
        site=site, path=path, inside=inside, prefix=anchor_within(inside[path], anchor="")
    )
    body = taking.over(text[: tags[end].begin], tags[sheet + 1 : end], begin=tags[sheet].end)
    return PocketPage(
        path=path,
        title=_heading(text, tags[sheet:end]) or slug(path),
        body=body.strip(),
        scripts=tuple(script_names(tags[sheet:end], path=path)),
    )


def pocket_header(site: Path, *, path: str, inside: Mapping[str, int], release: str) -> str:
    """Return the header of a page as the file holds it, with the words that name the release.

    The bar of jobs comes with it.
    """
    text = (site / path).read_text(encoding="utf-8")
    tags = read_tags(text)
    first = next(i for i, tag in enumerate(tags) if tag.name == "header")
    # The bar that says which job is open stands below it, and both are the same on every page.
    bars = [i for i, tag in enumerate(tags) if "data-ohm-job-bar" in tag.attributes]
    last = closing(tags, bars[0] if bars else first)
    taking = _Taking(site=site, path=path, inside=inside, prefix="")
    header = taking.over(text[: tags[last].end], tags[first : last + 1], begin=tags[first].begin)
    shown = next(tag for tag in read_tags(header) if "data-ohm-release" in tag.attributes)
    return header[: shown.end] + html.escape(release) + header[header.index("<", shown.end) :]


def _heading(text: str, tags: list[Tag]) -> str:
    """Return the words of the first heading among some tags, as HTML."""
    first = next((i for i, tag in enumerate(tags) if tag.name == "h1"), None)
    if first is None:
        return ""
    within = tags[first : closing(tags, first) + 1]
    words = (text[tag.end : after.begin] for tag, after in itertools.pairwise(within))
    return "".join(words).strip()


def _left_out(tag: Tag) -> bool:
    """Return whether an element has nothing to do in the file."""
    if tag.name == "nav":
        return tag.has_class("ohm-trail") or tag.has_class("ohm-siblings")
    # A slip's form says by itself what to fill in; the words on each page were 12 kB of a file.
    if tag.has_class("ohm-slip-send"):
        return True
    # What leads to paper, and what only paper shows: a file of one family is not printed by sheets.
    if tag.has_class("ohm-paper-first") or tag.has_class("ohm-to-paper"):
        return True
    # The table beside a chart says the same in a tenth of the bytes.
    chart = tag.name == "section" and tag.attributes.get("aria-labelledby") == "chart"
    return chart or (tag.name == "script" and not {"src", "data-later"}.isdisjoint(tag.attributes))


@dataclass(frozen=True)
class _Taking:
    """A page on its way into the file."""

    site: Path
    path: str
    inside: Mapping[str, int]
    prefix: str
    """Keeps the page's anchors apart from those of other pages."""

    def over(self, text: str, tags: list[Tag], *, begin: int) -> str:
        """Return a text from `begin` to its end with its tags changed for the file."""
        taken: list[str] = []
        links: list[str] = []
        done, form_end = begin, begin
        for i, tag in enumerate(tags):
            if tag.begin < done:
                continue
            taken.append(text[done : tag.begin])
            done = tag.end
            if tag.closes:
                if tag.name != "a":
                    taken.append(text[tag.begin : done])
                elif links:
                    taken.append(f"</{links.pop()}>")
            elif _left_out(tag):
                done = tags[closing(tags, i)].end
            else:
                if tag.name == "form":
                    form_end = tags[closing(tags, i)].end
                opening = self._opening(
                    tag, source=text[tag.begin : done], in_form=tag.begin < form_end
                )
                if tag.name == "a":
                    links.append("a" if opening.startswith("<a") else "span")
                taken.append(opening)
        return "".join([*taken, text[done:]])

    def _opening(self, tag: Tag, *, source: str, in_form: bool) -> str:
        attributes = dict(tag.attributes)
        # A form's scripts look for its own anchors, and it is shown only when its page is alone.
        if not in_form:
            attributes = self._own_anchors(attributes)
        # Whatever a page's frame brings late is in the file already.
        if not self.prefix:
            attributes.pop("data-later", None)
        if tag.name == "a" and attributes.get("href") is not None:
            attributes["href"] = self._href(tag, attributes["href"] or "")
            if attributes["href"] is None:
                return "<span>"
        elif tag.name == "img":
            attributes["src"] = self._image(attributes.get("src") or "")
        elif tag.name == "image":
            attributes["href"] = self._image(attributes.get("href") or "")
        elif tag.name == "form" and tag.has_class("ohm-find"):
            attributes["data-root"] = ""
        if attributes == tag.attributes:
            return source
        # The name as written: an SVG's has capitals.
        opening = opening_tag(source[1 : len(tag.name) + 1], attributes)
        return opening[:-1] + "/>" if source.endswith("/>") else opening

    def _own_anchors(self, attributes: Attributes) -> Attributes:
        own: Attributes = {}
        for name, value in attributes.items():
            if value is None:
                own[name] = value
            elif name in _POINTING:
                own[name] = " ".join(self.prefix + anchor for anchor in value.split())
            elif name in ("href", "xlink:href") and value.startswith("#"):
                own[name] = f"#{self.prefix}{value[1:]}"
            else:
                own[name] = value.replace("url(#", f"url(#{self.prefix}")
        return own

    def _href(self, tag: Tag, href: str) -> str | None:
        """Return where a link leads in the file; None when what it leads to is not there."""
        way, _, anchor = href.partition("#")
        if not way or "://" in way:
            return href
        target = self._target(way)
        if target in self.inside:
            return "#" + (
                anchor_within(self.inside[target], anchor=anchor) if anchor else slug(target)
            )
        return "#" + slug(self.path) if tag.has_class("ohm-to-home") else None

    def _image(self, way: str) -> str:
        """Return a photo with its bytes in the address; what stands there already stays."""
        if way.startswith("data:"):
            return way
        photo = (self.site / self._target(way)).read_bytes()
        light = light_photo(photo, most_bytes=PHOTO_BYTES)
        return f"data:image/jpeg;base64,{base64.b64encode(light).decode('ascii')}"

    def _target(self, way: str) -> str:
        return posixpath.normpath(posixpath.join(posixpath.dirname(self.path), way))
