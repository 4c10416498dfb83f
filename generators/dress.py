"""Dress the pages: the one module, besides `site_config/`, that knows mkdocs and its theme."""

from __future__ import annotations

import logging
import re
from pathlib import Path
from typing import Protocol

from kb.writer import copy_tree, write_if_changed

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


def dress(pages: Path, out: Path, dressing: Path, *, team: Team) -> None:
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

    Raises
    ------
    PagesNotDressed
        With every fault that mkdocs found, in its order; or with every part of a joined file that
        is not there.
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
        config.extra.update(team=team.name)
        config.plugins["ohmfolio"] = _own_pages_only()
        build(config)
    except (Abort, ConfigurationError) as stopped:
        raise PagesNotDressed(heard.said or [str(stopped)]) from stopped
    finally:
        logger.removeHandler(heard)
    copy_tree(dressing / "assets", out / "assets")
    _join(dressing / "assets", out / "assets", config.extra.get("joined", {}))


def _join(parts_in: Path, out: Path, joined: dict[str, list[str]]) -> None:
    missing = [
        f"site_config/mkdocs.yml: joined: {name} has the part {part}, which is not in assets/"
        for name, parts in joined.items()
        for part in parts
        if not (parts_in / part).is_file()
    ]
    if missing:
        raise PagesNotDressed(missing)
    for name, parts in joined.items():
        texts = [(parts_in / part).read_text(encoding="utf-8") for part in parts]
        write_if_changed(out / name, "\n".join(texts))


def _own_pages_only() -> object:
    """Return what steers mkdocs: ready HTML passes untouched, the theme's own files stay out."""
    from mkdocs.plugins import BasePlugin
    from mkdocs.structure.files import Files
    from mkdocs.structure.toc import TableOfContents

    class OwnPagesOnly(BasePlugin):
        def on_files(self, files, /, *, config):
            return Files([file for file in files if file.is_documentation_page()])

        def on_page_markdown(self, markdown, /, *, page, config, files):
            # Reading ready HTML as Markdown would take most of the build and change nothing.
            ready = READY.match(markdown) is not None
            self.ready[page.file.src_uri] = markdown if ready else None
            return "" if ready else markdown

        def on_page_content(self, html, /, *, page, config, files):
            # The theme would make a second way to skip the header out of the headings.
            page.toc = TableOfContents([])
            ready = self.ready.pop(page.file.src_uri)
            if ready is not None:
                return ready
            return f'<div class="ohm ohm-own">{_scrolling_tables(html)}</div>'

        def on_config(self, config, /):
            self.ready: dict[str, str | None] = {}
            # The theme's own error page would name files by absolute paths.
            config.theme.static_templates = set()
            return config

    return OwnPagesOnly()


def _scrolling_tables(html: str) -> str:
    """Let a wide table of a hand-written page scroll by thumb and by key, like the made ones."""
    return html.replace(
        "<table>",
        '<div class="ohm-scroll" tabindex="0" role="region" aria-label="Table">'
        '<table class="ohm-table">',
    ).replace("</table>", "</table></div>")


class _Faults(logging.Handler):
    """Keeps what mkdocs warns about, so that it can be said in one place."""

    def __init__(self) -> None:
        super().__init__(level=logging.WARNING)
        self.said: list[str] = []

    def emit(self, record: logging.LogRecord) -> None:
        self.said.append(record.getMessage())
