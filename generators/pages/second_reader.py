"""For the second reader: what nobody has checked, and what rests on memory or practice."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import groupby

from kb.catalog import reading_order
from kb.made_pages import SECOND_READER, STOP, written_pages
from kb.model import KINDS, Entry, Source
from kb.words.catalogue import ENGLISH, cautions, languages, speaking, stops, words_of
from kb.words.phrase import in_words, number_of

from ..components import fold, sentence
from ..html import Child, Html, bullets, el, join
from ..kind_words import list_title
from ..page import Page
from ..site_context import SiteContext
from ..weak_words import is_marked, marked_in_catalogue, marked_in_entries, marked_in_pages

MEMORY = "memory"
PRACTICE = "practice"
ANCHORS = {
    "unchecked": "nobody-has-checked-it",
    "memory": "rests-on-memory",
    "practice": "rests-on-practice-alone",
    "statements": "single-statements-that-say-so-themselves",
    "own": "the-program-s-own-words-without-a-publication",
}
"""Group → where it stands on the page, before how many there are."""


def make_second_reader(context: SiteContext) -> Page:
    """Return the page that a keeper hands to whoever reads the notes after them."""
    entries = [entry for kind in KINDS for entry in context.notes.of_kind(kind).values()]
    drafts = [entry for entry in entries if entry.draft]
    memory = [entry for entry in entries if _rests_on(context, entry) == MEMORY]
    practice = [entry for entry in entries if _rests_on(context, entry) == PRACTICE]
    body = join(
        [
            el("p", _words("lead"), class_="ohm-lead"),
            _group(context, "unchecked", drafts),
            _group(context, "memory", memory),
            _group(context, "practice", practice),
            _statements(context),
            _ours(context),
        ]
    )
    return Page(
        path=f"{SECOND_READER}.md",
        title=_words("title"),
        kind="second-reader",
        summary=_words("summary"),
        trail=((_words("home"), "index.html"),),
        body=body,
    )


def _rests_on(context: SiteContext, entry: Entry) -> str:
    """Return what an entry rests on where all its sources are weak; else nothing."""
    if isinstance(entry, Source):
        return MEMORY if _remembered(entry) else ""
    cited = [context.catalog.get(Source, cite.id) for cite in entry.source or []]
    if cited and all(source.practice is not None for source in cited):
        return PRACTICE
    if cited and all(_remembered(source) or source.practice for source in cited):
        return MEMORY
    return ""


def _remembered(source: Source) -> bool:
    """Return whether a source says so, in any language: notes may be older than their site's."""
    signs = (words_of(language)["second-reader-page"]["obtained"] for language in languages())
    return any(str(sign) in (source.obtained or "") for sign in signs)


def _group(context: SiteContext, name: str, entries: Iterable[Entry]) -> Html:
    """Return entries, kind by kind; that there are none is worth a line."""
    ordered = sorted(
        entries, key=lambda entry: (KINDS[entry.kind].home_place, reading_order(entry))
    )
    if not ordered:
        return _counted(name, 0, el("p", _words("nothing")))
    kinds: list[Child] = [
        join([el("h3", list_title(kind)), bullets(map(context.link, group))])
        for kind, group in groupby(ordered, key=lambda entry: entry.kind)
    ]
    return _counted(name, len(ordered), kinds)


def _counted(name: str, count: int, children: Child) -> Html:
    """Return a fold whose title says how many; its anchor says it in English in every language."""
    id_ = f"{ANCHORS[name]}-{count}"
    return fold(_words(name, count=count), children, id_=id_)


def _statements(context: SiteContext) -> Html:
    """Return each single statement that says so of itself, also where its entry has a source."""
    entries = (
        join([sentence(text), " ", context.links(said_by)])
        for text, said_by in marked_in_entries(context).items()
    )
    pages = (
        join([sentence(text), " ", el("a", name, href=f"{context.root}{name}.html")])
        for name, text in marked_in_pages(written_pages(context.notes))
    )
    lines = [*entries, *pages]
    if not lines:
        return Html("")
    return _counted("statements", len(lines), bullets(lines))


def _ours(context: SiteContext) -> Html:
    """Return the program's own words of caution that name no publication."""
    stop = el("a", _words("stop"), href=f"{context.root}{STOP}.html")
    lines = [
        *_weak_cautions(),
        *(join([line, " ", stop]) for line in _weak_stops()),
        *map(sentence, marked_in_catalogue()),
    ]
    return _counted("own", len(lines), bullets(lines))


def _weak_cautions() -> Iterator[str]:
    # What is weak, English says: a translator may word the mark as the sentence needs it.
    with speaking(ENGLISH):
        weak = {caution.id for caution in cautions().values() if is_marked(caution.source)}
    for caution in cautions().values():
        if caution.id in weak:
            yield _words("caution", caution=sentence(caution.words), source=caution.source)


def _weak_stops() -> Iterator[str]:
    with speaking(ENGLISH):
        weak = {stop.id for stop in stops() if is_marked(stop.source)}
    for stop in stops():
        if stop.id in weak:
            count = number_of("line", count=len(stop.do))
            yield _words("stop-line", heading=stop.heading, lines=count, source=stop.source)


def _words(name: str, /, **figures: object) -> str:
    return in_words(f"second-reader-page.{name}", **figures)
