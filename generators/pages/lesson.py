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
    others = sorted(context.notes.of(Lesson).values(), key=lambda one: one.order)
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
            section(
                "Read",
                el(
                    "ol",
                    [
                        el("li", _page_link(context, one.entry), ": ", one.why)
                        for one in lesson.read
                    ],
                    class_="ohm-steps",
                ),
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
            source_line(context, lesson),
            siblings(context, lesson, others, "lessons"),
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


def _page_link(context: SiteContext, told: str) -> Html:
    kind, _, entry_id = told.partition("/")
    if entry_id:
        return context.link_to(KINDS[kind], entry_id)
    return el("a", told.replace("-", " ").capitalize(), href=f"{context.root}{told}.html")
