"""A lesson's page: pages to read in order, then questions to answer before looking."""

from __future__ import annotations

from kb.model import KINDS, Lesson
from kb.numbers.rounding import format_plain

from ..components import caution_box, draft_badge, other_names, siblings, source_line
from ..html import Html, el, join, section
from ..page import Page
from ..site_context import SiteContext


def make_lesson(context: SiteContext, lesson: Lesson) -> Page:
    """Return the page of one lesson."""
    others = sorted(context.notes.of(Lesson).values(), key=lambda other: other.order)
    body = join(
        [
            draft_badge(lesson),
            el(
                "p",
                lesson.about,
                f" About {format_plain(lesson.minutes)} minutes.",
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
        trail=(("Learn", "lessons/index.html"),),
        body=body,
    )


def _read(context: SiteContext, lesson: Lesson) -> Html:
    """Return the pages to read, in order."""
    return section(
        "Read",
        el(
            "ol",
            [el("li", _page_link(context, read.entry), ": ", read.why) for read in lesson.read],
            class_="ohm-steps",
        ),
    )


def _drills(lesson: Lesson) -> Html:
    """Return the questions, each with its answer folded away."""
    return section(
        "Answer before you look",
        [
            el(
                "details",
                el("summary", drill.ask),
                el("p", el("strong", drill.answer)),
                el("p", drill.because) if drill.because else None,
            )
            for drill in lesson.drills
        ],
    )


def _page_link(context: SiteContext, name: str) -> Html:
    kind, _, entry_id = name.partition("/")
    if entry_id:
        return context.link_to(KINDS[kind], entry_id)
    return el("a", name.replace("-", " ").capitalize(), href=f"{context.root}{name}.html")
