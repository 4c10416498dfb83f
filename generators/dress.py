"""Dress the pages: the one module, besides `site_config/`, that knows mkdocs and its theme."""

from __future__ import annotations

import logging
import re
from collections.abc import Mapping
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Any, Protocol

from rjsmin import jsmin

from kb.writer import copy_file, write_if_changed

from .link_scripts import ScriptsNotLinked, Stock, link_scripts
from .script_words import with_words_in_place, words_module, words_needed

if TYPE_CHECKING:
    from mkdocs.config.defaults import MkDocsConfig
    from mkdocs.plugins import BasePlugin
    from mkdocs.structure.pages import Page

    from kb.words.catalogue import Words

READY = re.compile(r"\A\s*<div class=\"ohm[ \"]")
"""A body that starts so is finished HTML and need not be read as Markdown."""
_STYLE_COMMENT = re.compile(r"/\*.*?\*/", re.DOTALL)
EVERYWHERE = ("look.js", "every-page.js")
"""The scripts that every page loads before its others, as overrides/main.html has them."""


class Team(Protocol):
    """What the frame says about the contractor."""

    name: str
    title: str


class PagesNotDressed(Exception):
    """A page cannot be dressed, most often because a hand-written one has a dead link."""

    def __init__(self, faults: list[str]) -> None:
        super().__init__("\n".join(faults))
        self.faults = faults


def dress(
    pages: Path, out: Path, dressing: Path, *, team: Team, words: Words, modules: Mapping[str, str]
) -> None:
    """Turn a folder of pages into a folder of finished HTML with its styles and scripts.

    Parameters
    ----------
    pages : Path
        Markdown with front matter: `title`, `kind`, `summary`, `trail`.
    out : Path
        What it held is gone afterwards.
    dressing : Path
        `site_config/`: mkdocs.yml, overrides, assets.
    team : Team
    words : mapping of section → id → words
        The catalogue, in the language of the site: what the frame says, and the scripts.
    modules : mapping of path in assets to text
        Script modules that the build writes: what others there import from them.

    Raises
    ------
    PagesNotDressed
        With every fault that mkdocs found, in its order; or with every part of a joined file that
        is not there; or with everything that keeps the scripts from being linked.
    """
    # Imported here: commands that build nothing need not wait for it.
    from mkdocs.commands.build import build
    from mkdocs.config import load_config
    from mkdocs.exceptions import Abort, ConfigurationError

    heard = _Faults()
    logger = logging.getLogger("mkdocs")
    logger.addHandler(heard)
    try:
        config = load_config(
            config_file=str(dressing / "mkdocs.yml"),
            docs_dir=str(pages),
            site_dir=str(out),
            site_name=team.title,
            strict=True,
        )
        config.extra.update(team=team.name, words=words)
        config.theme["language"] = words["language"]["code"]
        config.plugins["ohmfolio"] = _own_pages_only(label=str(words["frame"]["table"]))
        build(config)
    except (Abort, ConfigurationError) as stopped:
        raise PagesNotDressed(heard.messages or [str(stopped)]) from stopped
    finally:
        logger.removeHandler(heard)
    _put_assets(dressing / "assets", out / "assets", config.extra, words=words, modules=modules)


def _put_assets(
    sources: Path, out: Path, extra: Mapping[str, Any], *, words: Words, modules: Mapping[str, str]
) -> None:
    """Write what is joined under its own name, and everything that stands alone as it is."""
    joined: dict[str, list[str]] = extra.get("joined", {})
    missing = [
        f"site_config/mkdocs.yml: joined: {name} has the part {part}, which is not in assets/"
        for name, names in joined.items()
        for part in names
        if not (sources / part).is_file()
    ]
    if missing:
        raise PagesNotDressed(missing)
    texts = {
        path.relative_to(sources).as_posix(): path.read_text(encoding="utf-8")
        for path in sorted(sources.rglob("*.js"))
    }
    texts = with_words_in_place({**texts, **modules}, words=words)
    entries = {name: names for name, names in joined.items() if name.endswith(".js")}
    try:
        scripts = link_scripts(
            texts,
            scripts=entries,
            everywhere=EVERYWHERE,
            after=extra.get("after", {}),
            stock=Stock(
                needs=words_needed(texts, words=words), source=partial(words_module, words=words)
            ),
        )
    except ScriptsNotLinked as loose:
        raise PagesNotDressed([f"site_config/assets/{fault}" for fault in loose.faults]) from loose
    styles = {
        name: "".join(_style(sources / part) for part in names)
        for name, names in joined.items()
        if name not in entries
    }
    # What stands between words is for who reads the modules: a phone would be sent it for nothing.
    # A template inside a template would lose blanks of its own: a test holds that none does.
    sent = {name: jsmin(text) for name, text in scripts.items()}
    for name, text in {**styles, **sent}.items():
        write_if_changed(out / name, text)
    done = {*texts, *(part for names in joined.values() for part in names)}
    for path in sorted(sources.iterdir()):
        if path.name in done or not path.is_file() or path.name.startswith("."):
            continue
        if path.suffix == ".css":
            write_if_changed(out / path.name, _style(path))
        else:
            copy_file(path, to=out / path.name)


def _style(path: Path) -> str:
    """Return a sheet without what only the eye of its reader needs, as the scripts go too."""
    bare = _STYLE_COMMENT.sub("", path.read_text(encoding="utf-8"))
    lines = (line.strip() for line in bare.splitlines())
    return "\n".join(line for line in lines if line) + "\n"


def _own_pages_only(*, label: str) -> BasePlugin[Any]:
    """Return what steers mkdocs: ready HTML passes untouched, the theme's own files stay out.

    A table of a hand-written page is read aloud under the label.
    """
    from mkdocs.plugins import BasePlugin
    from mkdocs.structure.files import Files
    from mkdocs.structure.toc import TableOfContents

    class OwnPagesOnly(BasePlugin):
        def on_files(self, files: Files, /, *, config: MkDocsConfig) -> Files:
            return Files([file for file in files if file.is_documentation_page()])

        def on_page_markdown(
            self, markdown: str, /, *, page: Page, config: MkDocsConfig, files: Files
        ) -> str:
            # Reading ready HTML as Markdown would take most of the build and change nothing.
            ready = READY.match(markdown) is not None
            self.ready[page.file.src_uri] = markdown if ready else None
            return "" if ready else markdown

        def on_page_content(
            self, html: str, /, *, page: Page, config: MkDocsConfig, files: Files
        ) -> str:
            # The theme would make a second way to skip the header out of the headings.
            page.toc = TableOfContents([])
            ready = self.ready.pop(page.file.src_uri)
            if ready is not None:
                return ready
            return f'<div class="ohm ohm-own">{_scrolling_tables(html, label=label)}</div>'

        def on_config(self, config: MkDocsConfig, /) -> MkDocsConfig:
            self.ready: dict[str, str | None] = {}
            # The theme's own error page would name files by absolute paths.
            config.theme.static_templates = set()
            return config

    return OwnPagesOnly()


def _scrolling_tables(html: str, *, label: str) -> str:
    """Let a wide table of a hand-written page scroll by thumb and by key, like the made ones."""
    return html.replace(
        "<table>",
        f'<div class="ohm-scroll" tabindex="0" role="region" aria-label="{label}">'
        '<table class="ohm-table">',
    ).replace("</table>", "</table></div>")


class _Faults(logging.Handler):
    """Keeps what mkdocs warns about, so that it can be said in one place."""

    def __init__(self) -> None:
        super().__init__(level=logging.WARNING)
        self.messages: list[str] = []

    def emit(self, record: logging.LogRecord) -> None:
        self.messages.append(record.getMessage())
