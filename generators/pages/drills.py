"""Drills: questions made from the notes, answered by the numbers; some on paper without scripts."""

from __future__ import annotations

from collections.abc import Iterable

from kb.answers.drill import Drill
from kb.answers.drill_set import DrillPool
from kb.answers.statement import Statement
from kb.made_pages import DRILLS
from kb.model import KINDS, Drawing
from kb.words.phrase import Voice, capital, in_words, phrase, sentence

from ..blinks import draw_bars
from ..drill_data import SCRIPT, drawings_of
from ..forms.fields import packed
from ..forms.scripts import BASE, MORE
from ..html import Html, bullets, el, join, section
from ..in_words import words_around
from ..page import Page
from ..pins import photo_of
from ..site_context import SiteContext
from ..sketch import draw_sketch

PAPER_SEED = 1
"""The set that stands on the page for those without scripts."""


def make_drills(context: SiteContext) -> Page:
    """Return the page of drills; what makes and marks them comes with its script."""
    notes = context.drills
    drills = DrillPool(notes).drills(seed=PAPER_SEED)
    body = join(
        [
            el("p", _words("lead"), class_="ohm-lead"),
            # A script fills it: families by id, and what a drill is drawn on stands ready below.
            el(
                "div",
                class_="ohm-drill-place",
                data_drills=True,
                data_families=packed({family.id: family.name for family in notes.families}),
                hidden=True,
            )
            if drills
            else el("p", _words("none")),
            _sketches(context, drawings=drawings_of(notes)),
            _on_paper(context, drills=drills),
            _scripts(context, curves=sorted(notes.curves)) if drills else None,
        ]
    )
    return Page(
        path=f"{DRILLS}.md",
        title=_words("title"),
        kind="drills",
        summary=_words("summary"),
        trail=((in_words("lesson-page.all"), "lessons/index.html"),),
        body=body,
    )


def _sketches(context: SiteContext, *, drawings: Iterable[str]) -> Html:
    """Return the drawings that are tapped, out of sight until a drill shows one."""
    entries = [context.catalog.get(Drawing, drawing) for drawing in drawings]
    return join(
        [
            el(
                "div",
                draw_sketch(drawing, photo=photo_of(context, drawing), caption=drawing.name),
                data_sketch=drawing.id,
                hidden=True,
            )
            for drawing in entries
        ]
    )


def _on_paper(context: SiteContext, *, drills: Iterable[Drill]) -> Html:
    """Return a set with its answers folded away."""
    items = [el("li", _asked(drill), _answer(context, drill=drill)) for drill in drills]
    if not items:
        return Html("")
    return el(
        "div",
        section(
            in_words("drills-page.paper", seed=PAPER_SEED),
            el("p", _words("no-scripts")),
            el("ol", items, class_="ohm-paper"),
            id_="on-paper",
        ),
        class_="ohm-no-js",
    )


def _asked(drill: Drill) -> Html:
    voice = Voice(digits=drill.digits)
    choices = [capital(phrase(choice, voice=voice)) for choice in drill.choices]
    return join(
        [
            el("p", " ".join(sentence(part, voice=voice) for part in (drill.ask, *drill.given))),
            draw_bars(drill.bars) if drill.bars else None,
            el("p", el("span", " ".join(drill.shown), class_="ohm-display"))
            if drill.shown
            else None,
            bullets(choices) if choices else None,
        ]
    )


def _answer(context: SiteContext, *, drill: Drill) -> Html:
    voice = Voice(digits=drill.digits)
    right: list[Statement] = [drill.choices[place] for place in drill.right]
    kind, _, entry_id = drill.about.partition("/")
    link = context.link_to(KINDS[kind], entry_id)
    return el(
        "details",
        el("summary", _words("answer")),
        el("p", el("strong", " → ".join(sentence(choice, voice=voice) for choice in right)))
        if right
        else None,
        el("p", " ".join(sentence(reason, voice=voice) for reason in drill.because)),
        el("p", words_around("drills-page.see", link=link)),
    )


def _scripts(context: SiteContext, *, curves: Iterable[str]) -> Html:
    names = [*(f"curves/{curve_id}" for curve_id in curves), "team", SCRIPT, BASE, MORE, "drills"]
    return join([el("script", src=f"{context.root}assets/{name}.js", defer=True) for name in names])


def _words(name: str) -> str:
    return in_words(f"drills-page.{name}")
