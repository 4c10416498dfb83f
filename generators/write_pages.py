"""Make, dress and write every page of a site; one that would be the same again is taken over."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from functools import partial
from pathlib import Path
from typing import Any, cast

from kb.catalog import Catalog
from kb.release_format.release_list import checksum
from kb.writer import link_file, write_folder, write_fresh, write_if_changed

from .answers import Answers
from .dress import Frame
from .html import Html
from .kept_pages import Kept, KeptPage
from .make import Makers
from .page import Page
from .page_leads import PageLeads, read_leads
from .seal import cannot_hold_policy, with_policy
from .site_context import SiteContext
from .term_links import with_terms
from .traced_catalog import TracedCatalog
from .weak_words import marked_in_entries
from .workers import Job, on_all_cores

Progress = Callable[[int, int], None]
FEW = 48
"""Fewer new pages are made sooner than workers are started."""
SHARE = 16
NO_LEADS = PageLeads(frozenset(), (), ())


@dataclass
class PagesWritten:
    """A site's pages as they stand in its folder, sealed."""

    context: SiteContext
    answers: Answers
    """What the notes answer now."""
    fresh: Path
    old: Path
    """The site that stands so far."""
    kept: Kept
    """What is remembered of it."""
    key: str
    """What all pages depend on."""
    checksums: dict[str, str] = field(default_factory=dict)
    leads: dict[str, PageLeads] = field(default_factory=dict)
    keep: dict[str, KeptPage] = field(default_factory=dict)
    """What to remember of the new one."""
    _said: dict[Any, Any] = field(default_factory=dict)

    def taken_over(
        self, path: str, *, content: str | None = None, source: Path | None = None
    ) -> KeptPage | None:
        """Take a file of the old site if it is as it was, and of that content where one is said."""
        known = self.kept.pages.get(path)
        file = (source or self.old) / path
        if known is None or content not in (None, known.content):
            return None
        if not file.is_file() or file.is_symlink() or checksum(file.read_bytes()) != known.checksum:
            return None
        link_file(file, to=self.fresh / path)
        return known

    def finish(self, path: str, text: str, *, content: str) -> KeptPage:
        """Write a page that is finished but for the content policy."""
        leads = read_leads(text, path=path)
        leads = PageLeads(
            leads.anchors, leads.leads, (*leads.faults, *cannot_hold_policy(path, text))
        )
        raw = with_policy(text).encode("utf-8")
        write_fresh(self.fresh / path, raw)
        return KeptPage(checksum(raw), content, "", None, leads)

    def to_remember(self) -> Kept:
        """Return what the next build may take over."""
        pieces = self.context.worked.now
        asked = dict.fromkeys(
            question for page in self.keep.values() for question in page.questions or ()
        )
        for made_from, _ in pieces.values():
            asked.update(dict.fromkeys(made_from if isinstance(made_from, tuple) else ()))
        answers = {question: self.answers.to(question) for question in asked}
        known = {question: answer for question, answer in answers.items() if answer is not None}
        return Kept(self.keep, known, self.answers.states, pieces)

    def note(self, path: str, page: KeptPage) -> None:
        """Remember a file that stands."""
        page = self._sharing(page)
        self.checksums[path] = page.checksum
        if path.endswith(".html"):
            self.leads[path] = page.leads
        if not page.leads.faults:
            self.keep[path] = page

    def _sharing(self, page: KeptPage) -> KeptPage:
        """Return a page whose texts are those of others: what a worker says comes as copies."""
        same = self._said.setdefault
        leads = PageLeads(
            anchors=frozenset([same(anchor, anchor) for anchor in page.leads.anchors]),
            leads=tuple([same(lead, lead) for lead in page.leads.leads]),
            faults=page.leads.faults,
        )
        asked = page.questions
        if asked is not None:
            asked = tuple([same(question, question) for question in asked])
        return replace(page, questions=asked, leads=leads)


def write_pages(
    pages: PagesWritten, makers: Makers, *, frame: Frame, work: Path, progress: Progress
) -> None:
    """Write every page of a site into its folder, which is empty; tell how many are done."""
    _written_by_hand(pages, makers, frame=frame, work=work)
    making = _Making(pages, frame, makers.beside)
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
        pages.context.catalog.named()
        pages.context.catalog.mentioning("")
        marked_in_entries(pages.context)
    of = len(makers.made) + len(makers.written)
    for path, page in zip(
        new, on_all_cores(list(new.values()), share=SHARE, least=FEW), strict=True
    ):
        pages.note(finished(path), _comparable(page, answers=pages.answers))
        progress(len(pages.checksums), of)


def _comparable(page: KeptPage, *, answers: Answers) -> KeptPage:
    """Return a page without its questions, where not all of them can be asked again."""
    if page.questions is not None and None in map(answers.to, page.questions):
        return replace(page, questions=None)
    return page


@dataclass(frozen=True)
class _Making:
    """How a page of a site in the making comes to stand; every core makes some."""

    pages: PagesWritten
    frame: Frame
    beside: Mapping[str, str]

    def taken_over(self, path: str) -> KeptPage | None:
        """Take over a page whose questions are answered as they were."""
        known = self.pages.kept.pages.get(finished(path))
        if known is None or known.questions is None or known.beside != self._beside(path):
            return None
        if not self.pages.answers.stand(known.questions):
            return None
        return self.pages.taken_over(finished(path))

    def from_catalog(self, path: str, *, make: Callable[[SiteContext], Page]) -> KeptPage:
        """Make and write a page that is made from nothing but what the catalog answers."""
        traced = TracedCatalog(self.pages.context.catalog)
        made = self.from_more(partial(make, SiteContext(cast(Catalog, traced))))
        return replace(made, beside=self._beside(path), questions=traced.questions)

    def from_more(self, make: Callable[[], Page]) -> KeptPage:
        """Make and write a page; the same block in the same frame is not dressed again."""
        page = make()
        content = checksum(f"{page.front()!r}\0{page.body}".encode())
        taken = self.pages.taken_over(page.href, content=content)
        if taken is None:
            return self.pages.finish(page.href, self.frame.dressed(page), content=content)
        return replace(taken, beside="", questions=None)

    def _beside(self, path: str) -> str:
        return checksum(self.beside[path].encode()) if path in self.beside else ""


def _written_by_hand(pages: PagesWritten, makers: Makers, *, frame: Frame, work: Path) -> None:
    """Write the hand-written pages: all of them when one is new, since they may name each other."""
    names = sorted(makers.made)
    parts = (sorted(makers.written.items()), names, sorted(makers.terms.items()))
    content = checksum(repr(parts).encode())
    paths = [finished(path) for path in makers.written]
    taken = {path: pages.taken_over(path, content=content) for path in paths}
    if not all(taken.values()):
        write_folder(work / "pages", makers.written)
        frame.dress_folder(beside=names)
    for path, known in taken.items():
        if not all(taken.values()):
            text = (pages.fresh / path).read_text(encoding="utf-8")
            text = _explained(text, path=path, terms=makers.terms)
            known = pages.finish(path, text, content=content)
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
    kept = [path for path in pages.kept.pages if path.startswith("assets/")]
    taken = {p: pages.taken_over(p, content=made_from, source=folder) for p in kept}
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
        pages.note(path, KeptPage(checksum(raw), made_from, "", None, NO_LEADS))


def finished(path: str) -> str:
    """Return where the page stands when it is finished."""
    return path.removesuffix(".md") + ".html"
