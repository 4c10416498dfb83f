"""For the second reader: what nobody has checked, and what rests on memory or practice."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import groupby

from kb.catalog import reading_order
from kb.made_pages import SECOND_READER, STOP, written_pages
from kb.model import KINDS, Entry, Source
from kb.words.catalogue import cautions, stops
from kb.words.phrase import counted

from ..components import fold, sentence
from ..html import Child, Html, bullets, el, join
from ..page import Page
from ..site_context import SiteContext
from ..weak_words import is_marked, marked_in_catalogue, marked_in_entries, marked_in_pages

MEMORY = "memory"
PRACTICE = "common practice"
TITLE = "For the second reader"


def make_second_reader(context: SiteContext) -> Page:
    """Return the page that a keeper hands to whoever reads the notes after them."""
    entries = [entry for kind in KINDS for entry in context.notes.of_kind(kind).values()]
    drafts = [entry for entry in entries if entry.draft]
    memory = [entry for entry in entries if _rests_on(context, entry) == MEMORY]
    practice = [entry for entry in entries if _rests_on(context, entry) == PRACTICE]
    body = join(
        [
            el(
                "p",
                "What to hold against a document, a machine or a colleague first. Whatever is not "
                "here names a publication or a measurement, and somebody has checked it.",
                class_="ohm-lead",
            ),
            _group(context, "Nobody has checked it", drafts),
            _group(context, "Rests on memory", memory),
            _group(context, "Rests on practice alone", practice),
            _statements(context),
            _ours(context),
        ]
    )
    return Page(
        path=f"{SECOND_READER}.md",
        title=TITLE,
        kind="second-reader",
        summary="What nobody has checked yet, and what rests on memory or on practice alone.",
        trail=(("Home", "index.html"),),
        body=body,
    )


def _rests_on(context: SiteContext, entry: Entry) -> str:
    """Return what an entry rests on where all its sources are weak; else nothing."""
    if isinstance(entry, Source):
        return MEMORY if MEMORY in (entry.obtained or "") else ""
    cited = [context.catalog.get(Source, cite.id) for cite in entry.source or []]
    if cited and all(source.practice is not None for source in cited):
        return PRACTICE
    if cited and all(MEMORY in (source.obtained or "") or source.practice for source in cited):
        return MEMORY
    return ""


def _group(context: SiteContext, title: str, entries: Iterable[Entry]) -> Html:
    """Return entries, kind by kind; that there are none is worth a line."""
    ordered = sorted(
        entries, key=lambda entry: (KINDS[entry.kind].home_place, reading_order(entry))
    )
    if not ordered:
        return fold(f"{title}: 0", el("p", "Nothing."))
    kinds: list[Child] = [
        join([el("h3", KINDS[kind].list_title), bullets(map(context.link, group))])
        for kind, group in groupby(ordered, key=lambda entry: entry.kind)
    ]
    return fold(f"{title}: {len(ordered)}", kinds)


def _statements(context: SiteContext) -> Html:
    """Return each single statement that says so of itself, also where its entry has a source."""
    entries = (
        join([sentence(text), " ", context.links(said_by)])
        for text, said_by in marked_in_entries(context.notes).items()
    )
    pages = (
        join([sentence(text), " ", el("a", name, href=f"{context.root}{name}.html")])
        for name, text in marked_in_pages(written_pages(context.notes))
    )
    lines = [*entries, *pages]
    if not lines:
        return Html("")
    return fold(f"Single statements that say so themselves: {len(lines)}", bullets(lines))


def _ours(context: SiteContext) -> Html:
    """Return the program's own words of caution that name no publication."""
    stop = f"{context.root}{STOP}.html"
    lines = [
        *_weak_cautions(),
        *(join([s, " ", el("a", "Stop and ring", href=stop)]) for s in _weak_stops()),
        *map(sentence, marked_in_catalogue()),
    ]
    return fold(f"The program's own words, without a publication: {len(lines)}", bullets(lines))


def _weak_cautions() -> Iterator[str]:
    for caution in cautions().values():
        if is_marked(caution.source):
            yield f"{sentence(caution.words)} ({caution.source})"


def _weak_stops() -> Iterator[str]:
    for stop in stops():
        if is_marked(stop.source):
            yield f"{stop.heading}: {counted(len(stop.do), noun='line')} ({stop.source})."
