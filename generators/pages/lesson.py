"""A lesson's page: pages to read in order, then questions to answer before looking."""

from __future__ import annotations

from kb.model import Lesson

from ..book import Book
from ..html import Html, el, join, section
from ..page import Page
from ..said import caution_box, draft_badge, siblings, source_line


def make_lesson(book: Book, lesson: Lesson) -> Page:
    """Return the page of one lesson."""
    others = sorted(book.notes.of("lessons").values(), key=lambda one: one.order)
    body = join([
        draft_badge(lesson),
        el("p", lesson.about, f" About {lesson.minutes:g} minutes.", class_="ohm-lead"),
        caution_box(list(lesson.cautions)) if lesson.cautions else None,
        section(
            "Read",
            el("ol", [el("li", _page_link(book, one.entry), ": ", one.why) for one in lesson.read],
               class_="ohm-steps"),
        ),
        section(
            "Answer before you look",
            [
                el(
                    "details",
                    el("summary", one.ask),
                    el("p", el("strong", one.answer)),
                    el("p", one.because) if one.because else None,
                )
                for one in lesson.drills
            ],
        ),
        source_line(book, lesson),
        siblings(book, lesson, others, "lessons"),
    ])
    return Page(
        path=f"lessons/{lesson.id}.md",
        title=lesson.name,
        kind="lesson",
        summary=lesson.about,
        trail=(("Learn", "lessons/index.html"),),
        body=body,
    )


def _page_link(book: Book, told: str) -> Html:
    kind, _, entry_id = told.partition("/")
    if entry_id:
        return book.link_to(kind, entry_id)
    return el("a", told.replace("-", " ").capitalize(), href=f"{book.root}{told}.html")
