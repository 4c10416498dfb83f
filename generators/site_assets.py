"""Make the frame's scripts and styles: many small files to read become few files to ask for."""

from __future__ import annotations

import re
from collections.abc import Collection, Mapping
from functools import partial
from pathlib import Path
from typing import Any

from kb.words.catalogue import Words

from .link_scripts import Stock, link_scripts
from .script_words import with_words_in_place, words_module, words_needed

EVERYWHERE = ("look.js", "every-page.js")
"""The scripts that every page loads before its others, as overrides/main.html has them."""
_STYLE_COMMENT = re.compile(r"/\*.*?\*/", re.DOTALL)
_STYLE_BLANK = re.compile(
    r"""(?P<text>"[^"]*"|'[^']*')|(?P<ends>;?\s*\}\s*)|\s*(?P<sign>[{;,>~])\s*|(?P<colon>:)\s+|\s+"""
)
"""Blanks that say nothing; those around + and before a colon do, in calc() and in selectors."""


class AssetsMissing(Exception):
    """A joined file has parts that are not there."""

    def __init__(self, faults: list[str]) -> None:
        super().__init__("\n".join(faults))
        self.faults = faults


def site_assets(
    sources: Path, extra: Mapping[str, Any], *, words: Words, modules: Mapping[str, str]
) -> dict[str, str | bytes]:
    """Return what is joined under its own name, and everything that stands alone as it is.

    Parameters
    ----------
    sources : Path
        The folder of assets.
    extra : mapping
        What `extra` in mkdocs.yml says: `joined`, `after`, `handed_on`, and `alone`.
    words : mapping of section → id → words
        The catalogue, in the language of the site: what the scripts say.
    modules : mapping of path in assets to text
        Script modules that the build writes.

    Raises
    ------
    AssetsMissing, ScriptsNotLinked
    """
    joined: dict[str, list[str]] = extra.get("joined", {})
    _refuse_missing(sources, joined)
    texts = {
        path.relative_to(sources).as_posix(): path.read_text(encoding="utf-8")
        for path in sorted(sources.rglob("*.js"))
    }
    texts = with_words_in_place({**texts, **modules}, words=words)
    entries = {name: names for name, names in joined.items() if name.endswith(".js")}
    scripts = link_scripts(
        texts,
        scripts=entries,
        everywhere=EVERYWHERE,
        after=extra.get("after", {}),
        alone=extra.get("alone", ()),
        stock=Stock(
            needs=words_needed(texts, words=words), source=partial(words_module, words=words)
        ),
        handed_on=extra.get("handed_on", ()),
        shorter=True,
    )
    files: dict[str, str | bytes] = {
        name: "".join(_style(sources / part) for part in names)
        for name, names in joined.items()
        if name not in entries
    }
    files.update(scripts)
    done = {*texts, *(part for names in joined.values() for part in names)}
    return {**files, **_alone(sources, done=done)}


def _alone(sources: Path, *, done: Collection[str]) -> dict[str, str | bytes]:
    """Return each file that is joined to no other as it stands; a sheet without its remarks."""
    return {
        path.name: _style(path) if path.suffix == ".css" else path.read_bytes()
        for path in sorted(sources.iterdir())
        if path.is_file() and path.name not in done and not path.name.startswith(".")
    }


def _refuse_missing(sources: Path, joined: Mapping[str, list[str]]) -> None:
    missing = [
        f"site_config/mkdocs.yml: joined: {name} has the part {part}, which is not in assets/"
        for name, names in joined.items()
        for part in names
        if not (sources / part).is_file()
    ]
    if missing:
        raise AssetsMissing(missing)


def _style(path: Path) -> str:
    """Return a sheet without what only the eye of its reader needs, as the scripts go too.

    A blank before a colon or a bracket of a selector means something and stays.
    """
    bare = _STYLE_COMMENT.sub("", path.read_text(encoding="utf-8"))
    return _STYLE_BLANK.sub(_as_sent, bare).strip() + "\n"


def _as_sent(found: re.Match[str]) -> str:
    """Return a text as it is, a sign alone, and other blanks as one."""
    return found["text"] or ("}" if found["ends"] else found["sign"] or found["colon"] or " ")
