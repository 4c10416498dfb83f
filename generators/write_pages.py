"""Make, dress and write every page of a site; one that would be the same again is taken over."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import cast

from kb.catalog import Catalog
from kb.release_format.release_list import checksum
from kb.writer import link_file, write_folder, write_if_changed

from .dress import Frame
from .kept_pages import KeptPage
from .make import Makers
from .page import Page
from .page_leads import PageLeads, read_leads
from .seal import cannot_hold_policy, with_policy
from .site_context import SiteContext
from .traced_catalog import Answers, TracedCatalog

NO_LEADS = PageLeads(frozenset(), (), ())


@dataclass
class PagesWritten:
    """A site's pages as they stand in its folder, sealed."""

    fresh: Path
    old: Path
    """The site that stands so far."""
    kept: Mapping[str, KeptPage]
    """What is remembered of it."""
    key: str
    """What all pages depend on."""
    checksums: dict[str, str] = field(default_factory=dict)
    leads: dict[str, PageLeads] = field(default_factory=dict)
    keep: dict[str, KeptPage] = field(default_factory=dict)
    """What to remember of the new one."""

    def taken_over(self, path: str, *, made_from: str, source: Path | None = None) -> bool:
        """Take a file of the old site, if it was made from the same and is as it was."""
        known = self.kept.get(path)
        file = (source or self.old) / path
        if known is None or not made_from or known.made_from != made_from:
            return False
        if not file.is_file() or file.is_symlink() or checksum(file.read_bytes()) != known.checksum:
            return False
        link_file(file, to=self.fresh / path)
        self._note(path, known)
        return True

    def add(
        self, path: str, text: str, *, made_from: str = "", questions: tuple[str, ...] = ()
    ) -> None:
        """Write a page that is finished but for the content policy."""
        leads = read_leads(text, path=path)
        leads = PageLeads(
            leads.anchors, leads.leads, (*leads.faults, *cannot_hold_policy(path, text))
        )
        raw = with_policy(text).encode("utf-8")
        write_if_changed(self.fresh / path, raw)
        self._note(path, KeptPage(checksum(raw), made_from, questions, leads))

    def _note(self, path: str, page: KeptPage) -> None:
        self.checksums[path] = page.checksum
        if path.endswith(".html"):
            self.leads[path] = page.leads
        if page.made_from and not page.leads.faults:
            self.keep[path] = page


def write_pages(
    pages: PagesWritten, makers: Makers, *, frame: Frame, catalog: Catalog, work: Path
) -> None:
    """Write every page of a site into its folder, which is empty."""
    _written_by_hand(pages, makers, frame=frame, work=work)
    answers = Answers(catalog)
    for path, make in makers.from_catalog.items():
        known = pages.kept.get(_finished(path))
        beside = makers.beside.get(path, "")
        made_from = _made_from(answers, known.questions, beside=beside) if known else ""
        if pages.taken_over(_finished(path), made_from=made_from):
            continue
        traced = TracedCatalog(catalog)
        page = make(SiteContext(cast(Catalog, traced)))
        made_from = _made_from(answers, traced.questions, beside=beside)
        if made_from:
            text = frame.dressed(page)
            pages.add(page.href, text, made_from=made_from, questions=traced.questions or ())
        else:
            _by_content(pages, page, frame=frame)
    for make_page in makers.from_more.values():
        _by_content(pages, make_page(), frame=frame)


def _by_content(pages: PagesWritten, page: Page, *, frame: Frame) -> None:
    """Write a page that had to be made: the same block in the same frame need not be dressed."""
    made_from = checksum(f"{page.front()!r}\0{page.body}".encode())
    if not pages.taken_over(page.href, made_from=made_from):
        pages.add(page.href, frame.dressed(page), made_from=made_from)


def _made_from(answers: Answers, questions: tuple[str, ...] | None, *, beside: str) -> str:
    """Return the checksum of all that a page is made from; nothing when it cannot be told."""
    answered = answers.to_all(questions) if questions is not None else ""
    return checksum(f"{answered}\0{beside}".encode()) if answered else ""


def _written_by_hand(pages: PagesWritten, makers: Makers, *, frame: Frame, work: Path) -> None:
    """Write the hand-written pages: all of them when one is new, since they may name each other."""
    names = sorted(makers.made)
    made_from = checksum(repr((sorted(makers.written.items()), names)).encode())
    paths = [_finished(path) for path in makers.written]
    if all(pages.taken_over(path, made_from=made_from) for path in paths):
        return
    write_folder(work / "pages", makers.written)
    frame.dress_folder(beside=names)
    for path in paths:
        pages.add(path, (pages.fresh / path).read_text(encoding="utf-8"), made_from=made_from)


def write_assets(
    pages: PagesWritten, *, frame: Frame, modules: Mapping[str, str], folder: Path
) -> None:
    """Write the frame's scripts and styles; all of them stay in `folder`, wanted today or not."""
    made_from = checksum(repr(sorted(modules.items())).encode())
    kept = [path for path in pages.kept if path.startswith("assets/")]
    if kept and all(pages.taken_over(p, made_from=made_from, source=folder) for p in kept):
        return
    contents = {f"assets/{name}": text for name, text in frame.assets(modules=modules).items()}
    write_folder(folder, contents)
    for path, content in contents.items():
        write_if_changed(pages.fresh / path, content)
        raw = content.encode("utf-8") if isinstance(content, str) else content
        pages.checksums[path] = checksum(raw)
        pages.keep[path] = KeptPage(checksum(raw), made_from, (), NO_LEADS)


def _finished(path: str) -> str:
    return path.removesuffix(".md") + ".html"
