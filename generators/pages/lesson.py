"""A lesson's page: pages to read in order, then questions to answer before looking."""

from __future__ import annotations

from kb.made_pages import AT_ROOT, written_pages
from kb.model import KINDS, Lesson
from kb.words.phrase import in_words

from ..components import caution_box, draft_badge, other_names, siblings, source_line
from ..html import Html, el, join, section, steps
from ..in_words import words_around
from ..page import Page
from ..site_context import SiteContext
from .own import own_title


def make_lesson(context: SiteContext, lesson: Lesson) -> Page:
    """Return the page of one lesson."""
    others = sorted(context.notes.of(Lesson).values(), key=lambda other: other.order)
    body = join(
        [
            draft_badge(lesson),
            el(
                "p",
                in_words("lesson-page.lead", about=lesson.about, minutes=lesson.minutes),
                class_="ohm-lead",
            ),
            other_names(lesson),
            caution_box(list(lesson.cautions)) if lesson.cautions else None,
            _read(context, lesson),
            _drills(lesson),
            source_line(context, lesson),
            siblings(context, lesson, entries=others),
        ]
    )
    return Page(
        path=f"lessons/{lesson.id}.md",
        title=lesson.name,
        kind="lesson",
        summary=lesson.about,
        trail=((in_words("lesson-page.all"), "lessons/index.html"),),
        body=body,
    )


def _read(context: SiteContext, lesson: Lesson) -> Html:
    """Return the pages to read, in order."""
    return section(
        in_words("lesson-page.read"),
        steps(
            words_around("lesson-page.read-why", link=_page_link(context, read.entry), why=read.why)
            for read in lesson.read
        ),
        id_="read",
    )


def _drills(lesson: Lesson) -> Html:
    """Return the questions, each with its answer folded away."""
    return section(
        in_words("lesson-page.drills"),
        [
            el(
                "details",
                el("summary", drill.ask),
                el("p", el("strong", drill.answer)),
                el("p", drill.because) if drill.because else None,
            )
            for drill in lesson.drills
        ],
        id_="answer-before-you-look",
    )


def _page_link(context: SiteContext, name: str) -> Html:
    kind, _, entry_id = name.partition("/")
    if entry_id:
        return context.link_to(KINDS[kind], entry_id)
    return el("a", _root_title(context, name), href=f"{context.root}{name}.html")


def _root_title(context: SiteContext, name: str) -> str:
    """Return what a page at the site's root is called: a hand-written one has its own heading."""
    if name in AT_ROOT:
        return in_words(f"root-page.{name}")
    file = written_pages(context.notes).get(name)
    # Where there is no such page `check` says so; its name is all there is to show.
    return own_title(file.read_text(encoding="utf-8-sig")) if file else name
