"""A lesson's page: steps with facts from the notes, then questions to answer before looking."""

from __future__ import annotations

import hashlib
from collections.abc import Callable
from functools import partial

from kb.made_pages import AT_ROOT, DRILLS, written_pages
from kb.model import KINDS, Family, Lesson, Method
from kb.model.lesson import Drill, Step
from kb.numbers.rounding import format_plain
from kb.words.phrase import in_words

from ..components import caution_box, caution_line, draft_badge, other_names, siblings, source_line
from ..html import Child, Html, el, join, section, steps
from ..in_words import words_around
from ..page import Page
from ..site_context import SiteContext
from .lesson_facts import done_by, live_facts, looked_at
from .own import own_title

MOST_SEED = 99_999
"""Seeds of drills have at most five figures."""
SCRIPT = "assets/lesson.js"
"""What keeps the ticks, on a lesson's page and on the path."""


def make_lesson(context: SiteContext, lesson: Lesson) -> Page:
    """Return the page of one lesson."""
    body = join(
        [
            draft_badge(lesson),
            el("p", lesson.about, class_="ohm-lead"),
            el("p", lesson_length(lesson), class_="ohm-hint"),
            other_names(lesson),
            caution_box(list(lesson.cautions)) if lesson.cautions else None,
            _read(context, lesson),
            _steps(context, lesson),
            _drills(context, lesson),
            source_line(context, lesson),
            siblings(context, lesson, entries=in_order(context)),
            el("script", src=context.root + SCRIPT, defer=True) if lesson.steps else None,
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


def in_order(context: SiteContext) -> list[Lesson]:
    """Return every lesson in the order of the path."""
    lessons = context.catalog.all(Lesson).values()
    return sorted(lessons, key=lambda lesson: (lesson.order, lesson.id))


def lesson_length(lesson: Lesson) -> str:
    """Return how many steps it has and how long it takes."""
    count = len(lesson.steps) or len(lesson.read)
    minutes = format_plain(lesson.minutes)
    return in_words("lesson-page.steps", count=format_plain(count), minutes=minutes)


def step_keys(lesson: Lesson) -> list[str]:
    """Return by what a phone remembers each step: another text before or after it changes none."""
    keys: list[str] = []
    for step in lesson.steps:
        what = step.model_dump_json(exclude={"why", "cautions"})
        key = hashlib.sha256(what.encode("utf-8")).hexdigest()[:8]
        keys.append(f"{key}-{sum(key == other.split('-')[0] for other in keys)}")
    return keys


def _steps(context: SiteContext, lesson: Lesson) -> Html | None:
    """Return the steps in order, each with its box to tick."""
    if not lesson.steps:
        return None
    made = [
        _step(context, step, number=number, key=key)
        for number, (step, key) in enumerate(zip(lesson.steps, step_keys(lesson), strict=True), 1)
    ]
    return el("div", made, class_="ohm-lesson-steps", data_ohm_lesson=lesson.id)


def _step(context: SiteContext, step: Step, *, number: int, key: str) -> Html:
    name = f"step-{number}"
    sort = el(
        "span", f"{number} ", in_words(f"lesson-page.sort-{step.sort}"), class_="ohm-lesson-sort"
    )
    shown: dict[str, Callable[[SiteContext, Step], Html | None]] = {
        "read": _nothing,
        "look": _looked,
        "do": _done,
        "practise": partial(_practised, key=key),
    }
    box = f"{name}-done"
    return el(
        "section",
        el("h2", sort, " ", _title(context, step), id=name),
        el("p", step.why) if step.why else None,
        shown[step.sort](context, step),
        el(
            "p",
            el("input", type="checkbox", id=box, data_tick=key),
            el("label", in_words("lesson-page.tick"), for_=box),
            class_="ohm-lesson-tick ohm-js",
        ),
        class_=f"ohm-lesson-step ohm-lesson-{step.sort}",
        aria_labelledby=name,
    )


def _title(context: SiteContext, step: Step) -> Child:
    """Return what the step is about, with the way there."""
    if step.read is not None:
        return _page_link(context, step.read)
    if step.look is not None:
        return context.link(looked_at(context, step.look))
    if step.practise is not None:
        return in_words(f"lesson-page.drill-{step.practise.drill}")
    if step.method is not None:
        return context.link_to(Method, step.method)
    return in_words("lesson-page.do")


def _nothing(context: SiteContext, step: Step) -> None:
    """Return nothing: what is to be read stands on its own page."""


def _looked(context: SiteContext, step: Step) -> Html | None:
    return live_facts(context, step.look) if step.look else None


def _done(context: SiteContext, step: Step) -> Html:
    """Return what hands do, below everything that can hurt them on the way."""
    family = context.catalog.get(Family, step.family) if step.family else None
    hurts = in_words("lesson-page.hurts")
    return join(
        [
            caution_line(context, family) if family else None,
            caution_box(list(step.cautions), title=hurts) if step.cautions else None,
            el("p", el("strong", step.do)),
            done_by(context, context.catalog.get(Method, step.method)) if step.method else None,
        ]
    )


def _practised(context: SiteContext, step: Step, *, key: str) -> Html | None:
    """Return the way to a drill; without a page of drills, what it would ask about."""
    practise = step.practise
    if practise is None:
        return None
    family = context.catalog.get(Family, practise.family) if practise.family else None
    about = in_words("lesson-page.about-all")
    if family:
        about = in_words("lesson-page.about-one", family=family.name)
    if DRILLS not in AT_ROOT:
        return el("p", about)
    # The same ten for everybody who comes from this step; the drills' page draws others.
    seed = 1 + int(key.split("-")[0], 16) % MOST_SEED
    of = f"&of=families/{family.id}" if family else ""
    preset = f"seed={seed}&kind={practise.drill}{of}"
    href = f"{context.root}{DRILLS}.html#{preset}"
    key_to_drill = el("a", in_words("lesson-page.to-drill"), href=href, class_="ohm-go")
    return join([el("p", about), el("p", key_to_drill, class_="ohm-ways-on")])


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


def _drills(context: SiteContext, lesson: Lesson) -> Html:
    """Return the questions, each with its answer folded away."""
    return section(
        in_words("lesson-page.drills"),
        [_drill(context, drill) for drill in lesson.drills],
        id_="answer-before-you-look",
    )


def _drill(context: SiteContext, drill: Drill) -> Html:
    return el(
        "details",
        el("summary", drill.ask),
        el("p", el("strong", drill.answer)),
        el("p", drill.because) if drill.because else None,
        live_facts(context, drill.look) if drill.look else None,
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
