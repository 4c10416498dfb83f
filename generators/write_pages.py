"""Make, dress and write every page of a site; one that would be the same again is taken over."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from functools import cached_property, partial
from pathlib import Path
from typing import Any, cast

from kb.catalog import Catalog
from kb.release_format.release_list import checksum
from kb.writer import link_file, write_folder, write_fresh, write_if_changed

from .dress import Frame
from .html import Html
from .kept_pages import KeptPage
from .make import Makers
from .page import Page
from .page_leads import PageLeads, read_leads
from .seal import cannot_hold_policy, with_policy
from .site_context import SiteContext
from .term_links import with_terms
from .traced_catalog import Answers, TracedCatalog
from .workers import Job, on_all_cores

Progress = Callable[[int, int], None]
FEW = 48
"""Fewer new pages are made sooner than workers are started."""
SHARE = 16
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
    _said: dict[Any, Any] = field(default_factory=dict)

    def taken_over(
        self, path: str, *, made_from: str, source: Path | None = None
    ) -> KeptPage | None:
        """Take a file of the old site, if it was made from the same and is as it was."""
        known = self.kept.get(path)
        file = (source or self.old) / path
        if known is None or not made_from or known.made_from != made_from:
            return None
        if not file.is_file() or file.is_symlink() or checksum(file.read_bytes()) != known.checksum:
            return None
        link_file(file, to=self.fresh / path)
        return known

    def finish(
        self, path: str, text: str, *, made_from: str = "", questions: tuple[str, ...] = ()
    ) -> KeptPage:
        """Write a page that is finished but for the content policy."""
        leads = read_leads(text, path=path)
        leads = PageLeads(
            leads.anchors, leads.leads, (*leads.faults, *cannot_hold_policy(path, text))
        )
        raw = with_policy(text).encode("utf-8")
        write_fresh(self.fresh / path, raw)
        return KeptPage(checksum(raw), made_from, questions, leads)

    def note(self, path: str, page: KeptPage) -> None:
        """Remember a file that stands."""
        page = self._sharing(page)
        self.checksums[path] = page.checksum
        if path.endswith(".html"):
            self.leads[path] = page.leads
        if page.made_from and not page.leads.faults:
            self.keep[path] = page

    def _sharing(self, page: KeptPage) -> KeptPage:
        """Return a page whose texts are those of others: what a worker says comes as copies."""
        same = self._said.setdefault
        leads = PageLeads(
            anchors=frozenset([same(anchor, anchor) for anchor in page.leads.anchors]),
            leads=tuple([same(lead, lead) for lead in page.leads.leads]),
            faults=page.leads.faults,
        )
        questions = tuple([same(question, question) for question in page.questions])
        return replace(page, questions=questions, leads=leads)


def write_pages(
    pages: PagesWritten,
    makers: Makers,
    *,
    frame: Frame,
    catalog: Catalog,
    work: Path,
    progress: Progress,
) -> None:
    """Write every page of a site into its folder, which is empty; tell how many are done."""
    _written_by_hand(pages, makers, frame=frame, work=work)
    making = _Making(pages, frame, catalog, makers.beside)
    # First what takes longest, so that no core is left with it alone in the end.
    new: dict[str, Job[KeptPage]] = {
        path: partial(making.from_more, make) for path, make in makers.from_more.items()
    }
    for path, make in reversed(makers.from_catalog.items()):
        taken = making.taken_over(path)
        if taken:
            pages.note(finished(path), taken)
        else:
            new[path] = partial(making.from_catalog, path, make=make)
    if len(new) >= FEW:
        # What every page needs is there before there are workers, so none of them makes its own.
        frame.open()
        catalog.named()
    for path, page in zip(
        new, on_all_cores(list(new.values()), share=SHARE, least=FEW), strict=True
    ):
        pages.note(finished(path), page)
        progress(len(pages.checksums), len(makers.made) + len(makers.written))


@dataclass(frozen=True)
class _Making:
    """How a page of a site in the making comes to stand; every core makes some."""

    pages: PagesWritten
    frame: Frame
    catalog: Catalog
    beside: Mapping[str, str]

    @cached_property
    def answers(self) -> Answers:
        """What the notes answer now."""
        return Answers(self.catalog)

    def taken_over(self, path: str) -> KeptPage | None:
        """Take over a page whose questions are answered as they were."""
        known = self.pages.kept.get(finished(path))
        if known is None:
            return None
        return self.pages.taken_over(
            finished(path), made_from=self._made_from(known.questions, path=path)
        )

    def from_catalog(self, path: str, *, make: Callable[[SiteContext], Page]) -> KeptPage:
        """Make and write a page that is made from nothing but what the catalog answers."""
        traced = TracedCatalog(self.catalog)
        page = make(SiteContext(cast(Catalog, traced)))
        made_from = self._made_from(traced.questions, path=path)
        if not made_from:
            return self._by_content(page)
        text = self.frame.dressed(page)
        return self.pages.finish(
            page.href, text, made_from=made_from, questions=traced.questions or ()
        )

    def from_more(self, make: Callable[[], Page]) -> KeptPage:
        """Make and write a page that is made from more than the catalog answers."""
        return self._by_content(make())

    def _by_content(self, page: Page) -> KeptPage:
        """Write a page that had to be made: the same block in the same frame is not dressed."""
        made_from = checksum(f"{page.front()!r}\0{page.body}".encode())
        taken = self.pages.taken_over(page.href, made_from=made_from)
        return taken or self.pages.finish(page.href, self.frame.dressed(page), made_from=made_from)

    def _made_from(self, questions: tuple[str, ...] | None, *, path: str) -> str:
        """Return the checksum of all that a page is made from; nothing when it cannot be told."""
        answered = self.answers.to_all(questions) if questions is not None else ""
        if not answered:
            return ""
        return checksum(f"{answered}\0{self.beside.get(path, '')}".encode())


def _written_by_hand(pages: PagesWritten, makers: Makers, *, frame: Frame, work: Path) -> None:
    """Write the hand-written pages: all of them when one is new, since they may name each other."""
    names = sorted(makers.made)
    parts = (sorted(makers.written.items()), names, sorted(makers.terms.items()))
    made_from = checksum(repr(parts).encode())
    paths = [finished(path) for path in makers.written]
    taken = {path: pages.taken_over(path, made_from=made_from) for path in paths}
    if not all(taken.values()):
        write_folder(work / "pages", makers.written)
        frame.dress_folder(beside=names)
    for path, known in taken.items():
        if not all(taken.values()):
            text = (pages.fresh / path).read_text(encoding="utf-8")
            text = _explained(text, path=path, terms=makers.terms)
            known = pages.finish(path, text, made_from=made_from)
        if known:
            pages.note(path, known)


def _explained(text: str, *, path: str, terms: Mapping[str, str]) -> str:
    """Return a finished page with the words of the glossary linked, but for its frame."""
    begin, end = text.find('id="ohm-main"'), text.find("<footer")
    if not 0 <= begin < end:
        return text
    begin = text.index(">", begin) + 1
    root = "../" * path.count("/")
    sheet = with_terms(Html(text[begin:end]), root=root, forms_for=lambda sieve: terms)
    return f"{text[:begin]}{sheet}{text[end:]}"


def write_assets(
    pages: PagesWritten, *, frame: Frame, modules: Mapping[str, str], folder: Path
) -> None:
    """Write the frame's scripts and styles; all of them stay in `folder`, wanted today or not."""
    made_from = checksum(repr(sorted(modules.items())).encode())
    kept = [path for path in pages.kept if path.startswith("assets/")]
    taken = {p: pages.taken_over(p, made_from=made_from, source=folder) for p in kept}
    if kept and all(taken.values()):
        for path, known in taken.items():
            if known:
                pages.note(path, known)
        return
    contents = {f"assets/{name}": text for name, text in frame.assets(modules=modules).items()}
    write_folder(folder, contents)
    for path, content in contents.items():
        write_if_changed(pages.fresh / path, content)
        raw = content.encode("utf-8") if isinstance(content, str) else content
        pages.note(path, KeptPage(checksum(raw), made_from, (), NO_LEADS))


def finished(path: str) -> str:
    """Return where the page stands when it is finished."""
    return path.removesuffix(".md") + ".html"
