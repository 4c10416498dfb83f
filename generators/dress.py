"""Dress the pages: the one module, besides `site_config/`, that knows mkdocs and its theme."""

from __future__ import annotations

import logging
import re
from collections.abc import Callable, Iterable, Mapping, Sequence
from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING, Any, Protocol

from kb.writer import write_folder

from .link_scripts import ScriptsNotLinked
from .own_html import own_html
from .page import OWN
from .page import Page as MadePage
from .site_assets import AssetsMissing, site_assets

if TYPE_CHECKING:
    from jinja2 import Template
    from mkdocs.config.defaults import MkDocsConfig
    from mkdocs.plugins import BasePlugin
    from mkdocs.structure.files import File
    from mkdocs.structure.nav import Navigation
    from mkdocs.structure.pages import Page

    from kb.words.catalogue import Words

READY = re.compile(r"\A\s*<div class=\"ohm[ \"]")
"""A body that starts so is finished HTML and need not be read as Markdown."""


class Team(Protocol):
    """What the frame says about the contractor."""

    name: str
    title: str


class PagesNotDressed(Exception):
    """A page cannot be dressed, most often because a hand-written one has a dead link."""

    def __init__(self, faults: list[str]) -> None:
        super().__init__("\n".join(faults))
        self.faults = faults


class Frame:
    """What every page of one site is put into.

    Parameters
    ----------
    pages : Path
        The folder of hand-written pages: Markdown, with front matter or without.
    out : Path
        Where finished pages stand.
    dressing : Path
        `site_config/`: mkdocs.yml, overrides, assets.
    team : Team
    words : mapping of section → id → words
        The catalogue, in the language of the site: what the frame says.
    """

    def __init__(self, pages: Path, out: Path, *, dressing: Path, team: Team, words: Words) -> None:
        self._pages, self._out, self._dressing = pages, out, dressing
        self._team, self._words = team, words

    def dress_folder(self, *, beside: Iterable[str] = ()) -> None:
        """Write every hand-written page; what its place held is gone afterwards.

        Parameters
        ----------
        beside : iterable of str
            The pages that are made and not written, as a link in a written one names them.

        Raises
        ------
        PagesNotDressed
            With every fault that mkdocs found, in its order.
        """
        # Imported here: commands that build nothing need not wait for it.
        from mkdocs.commands.build import build
        from mkdocs.exceptions import Abort, ConfigurationError

        heard = _Faults()
        logger = logging.getLogger("mkdocs")
        logger.addHandler(heard)
        try:
            # A config of its own: mkdocs leaves marks in one that was built with.
            config = self._loaded()
            config.plugins["ohmfolio"] = _own_pages_only(
                frozenset(beside), label=str(self._words["frame"]["table"])
            )
            build(config)
        except (Abort, ConfigurationError) as stopped:
            raise PagesNotDressed(heard.messages or [str(stopped)]) from stopped
        finally:
            logger.removeHandler(heard)

    def open(self) -> None:
        """Read the settings and the template, which otherwise waits for the first page.

        Raises
        ------
        PagesNotDressed
        """
        assert self._config and self._nav and self._template

    def dressed(self, made: MadePage) -> str:
        """Return a made page as finished HTML: the theme's one template, without mkdocs' pass."""
        from mkdocs.commands.build import get_context
        from mkdocs.structure.pages import Page
        from mkdocs.structure.toc import TableOfContents

        file = _file(made.path, config=self._config)
        page = Page(None, file, self._config)
        page.markdown, page.meta = "", made.front()
        page.toc, page.content = TableOfContents([]), f"{made.block()}\n"
        return self._template.render(get_context(self._nav, [], self._config, page))

    def assets(self, *, modules: Mapping[str, str]) -> dict[str, str | bytes]:
        """Return every script and style of the frame by path in the site.

        Raises
        ------
        PagesNotDressed
            With every part of a joined file that is not there, or with everything that keeps the
            scripts from being linked.
        """
        try:
            return site_assets(
                self._dressing / "assets", self._config.extra, words=self._words, modules=modules
            )
        except AssetsMissing as missing:
            raise PagesNotDressed(missing.faults) from missing
        except ScriptsNotLinked as loose:
            faults = [f"site_config/assets/{fault}" for fault in loose.faults]
            raise PagesNotDressed(faults) from loose

    @cached_property
    def _config(self) -> MkDocsConfig:
        return self._loaded()

    def _loaded(self) -> MkDocsConfig:
        from mkdocs.config import load_config
        from mkdocs.exceptions import Abort, ConfigurationError

        heard = _Faults()
        logger = logging.getLogger("mkdocs")
        logger.addHandler(heard)
        try:
            config = load_config(
                config_file=str(self._dressing / "mkdocs.yml"),
                docs_dir=str(self._pages),
                site_dir=str(self._out),
                site_name=self._team.title,
                strict=True,
            )
        except (Abort, ConfigurationError) as stopped:
            raise PagesNotDressed(heard.messages or [str(stopped)]) from stopped
        finally:
            logger.removeHandler(heard)
        config.extra.update(team=self._team.name, words=self._words)
        language: Any = self._words["language"]["code"]
        config.theme["language"] = language
        return config

    @cached_property
    def _template(self) -> Template:
        return self._config.theme.get_env().get_template("main.html")

    @cached_property
    def _nav(self) -> Navigation:
        from mkdocs.structure.files import Files
        from mkdocs.structure.nav import get_navigation

        home = _file("index.md", config=self._config)
        return get_navigation(Files([home]), self._config)


def dress(
    pages: Path, out: Path, dressing: Path, *, team: Team, words: Words, modules: Mapping[str, str]
) -> None:
    """Turn a folder of pages into a folder of finished HTML with its styles and scripts.

    Parameters are those of `Frame`, and `modules`: script modules that the build writes, by path in
    assets, which others there import from.

    Raises
    ------
    PagesNotDressed
    """
    frame = Frame(pages, out, dressing=dressing, team=team, words=words)
    frame.dress_folder()
    write_folder(out / "assets", frame.assets(modules=modules), keep_others=True)


def _file(path: str, *, config: MkDocsConfig) -> File:
    """Return what mkdocs knows of a page that is made: it has no file before it is finished."""
    from mkdocs.structure.files import File

    return File(path, None, config.site_dir, config.use_directory_urls)


def _own_pages_only(beside: frozenset[str], *, label: str) -> BasePlugin[Any]:
    """Return what steers mkdocs: ready HTML passes untouched, the theme's own files stay out.

    A table of a hand-written page is read aloud under the label.
    """
    from mkdocs.plugins import BasePlugin
    from mkdocs.structure.files import Files, InclusionLevel
    from mkdocs.structure.toc import TableOfContents

    class WrittenPages(Files):
        """Knows every page by its name, and lists those alone that somebody wrote."""

        def documentation_pages(
            self, *, inclusion: Callable[[InclusionLevel], bool] = InclusionLevel.is_included
        ) -> Sequence[File]:
            listed = super().documentation_pages(inclusion=inclusion)
            return [file for file in listed if file.src_uri not in beside]

    class OwnPagesOnly(BasePlugin):
        def on_files(self, files: Files, /, *, config: MkDocsConfig) -> Files:
            written = [file for file in files if file.is_documentation_page()]
            made = [_file(path, config=config) for path in sorted(beside)]
            return WrittenPages([*written, *made])

        def on_page_markdown(
            self, markdown: str, /, *, page: Page, config: MkDocsConfig, files: Files
        ) -> str:
            # Ready HTML is not read as Markdown; what a keeper wrote is never taken for ready.
            ready = page.meta.get("kind") != OWN and READY.match(markdown) is not None
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
            allowed = _allowed(html, path=page.file.src_uri)
            return f'<div class="ohm ohm-own">{_scrolling_tables(allowed, label=label)}</div>'

        def on_config(self, config: MkDocsConfig, /) -> MkDocsConfig:
            self.ready: dict[str, str | None] = {}
            # The theme's own error page would name files by absolute paths.
            config.theme.static_templates = set()
            return config

    return OwnPagesOnly()


def _allowed(html: str, *, path: str) -> str:
    """Return a hand-written page's HTML as it may stand; warn, and so stop, of what may not."""
    allowed, refused = own_html(html)
    for name in refused:
        logging.getLogger("mkdocs").warning("%s: <%s> is no tag that a page may hold", path, name)
    return allowed


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
