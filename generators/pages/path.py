"""The path: every lesson in order, what one can do afterwards, and where this phone left off."""

from __future__ import annotations

from kb.made_pages import DRILLS, PRACTICE
from kb.model import Lesson, Term
from kb.numbers.rounding import format_plain
from kb.words.phrase import in_words

from ..html import Html, el, join
from ..in_words import words_around
from ..kind_words import list_lead, list_title
from ..page import Page
from ..site_context import SiteContext
from .lesson import SCRIPT, in_order, lesson_length, step_keys


def make_path(context: SiteContext) -> Page:
    """Return the list of lessons as the way through them."""
    lessons = in_order(context)
    body = join(
        [
            el("p", in_words("path-page.lead"), class_="ohm-lead"),
            el(
                "p",
                words_around(
                    "path-page.permission",
                    safety=el("a", in_words("home.safety"), href=f"{context.root}safety.html"),
                ),
            ),
            el(
                "p",
                el("a", class_="ohm-go", data_ohm_go_on=True),
                class_="ohm-ways-on ohm-js",
                hidden=True,
            ),
            el("ol", [_lesson(context, lesson) for lesson in lessons], class_="ohm-path")
            if lessons
            else el("p", in_words("shared.nothing")),
            _below(context, lessons),
            el("script", src=context.root + SCRIPT, defer=True) if lessons else None,
        ]
    )
    return Page(
        path=f"{Lesson.kind}/index.md",
        title=list_title(Lesson.kind),
        kind="path",
        summary=list_lead(Lesson.kind),
        body=body,
        trail=((in_words("shared.home"), "index.html"),),
    )


def _lesson(context: SiteContext, lesson: Lesson) -> Html:
    """Return one lesson of the path; a script says how much of it is done."""
    return el(
        "li",
        el("h2", context.link(lesson)),
        el("p", lesson.about),
        el("p", lesson_length(lesson), class_="ohm-hint"),
        el("p", class_="ohm-js", data_ohm_done=True, hidden=True),
        data_ohm_lesson=lesson.id,
        data_steps=" ".join(step_keys(lesson)),
    )


def _below(context: SiteContext, lessons: list[Lesson]) -> Html:
    minutes = sum(lesson.minutes for lesson in lessons)
    figures = {"count": format_plain(len(lessons)), "minutes": format_plain(minutes)}
    glossary = el("a", in_words("path-page.glossary"), href=f"{context.root}terms/index.html")
    practised = (("lists.drills", DRILLS), ("lists.practice", PRACTICE))
    return join(
        [
            el("p", in_words("path-page.in-all", **figures)) if lessons else None,
            el("p", in_words("path-page.kept"), class_="ohm-hint ohm-js"),
            [
                el(
                    "p",
                    el("a", in_words(words), href=f"{context.root}{page}.html"),
                    class_="ohm-lesson-below",
                )
                for words, page in practised
            ],
            el("p", glossary, class_="ohm-lesson-below") if context.catalog.all(Term) else None,
        ]
    )
