"""A code's page: what it means here, how to ask the machine, what to check in which order."""

from __future__ import annotations

import re
from collections.abc import Callable

from kb.answers.code_checks import Check, CodeAnswer, answer_code
from kb.answers.statement import Statement
from kb.catalog import shown_name, spoken
from kb.code_facts import code_facts, family_asking
from kb.model import Case, Code, Family, Method, Part, Sensor
from kb.model.code import Shown, Trip
from kb.numbers.characteristic import Characteristic
from kb.numbers.ohm_digits import ohm_digits
from kb.numbers.rounding import format_ohm, format_plain
from kb.words.catalogue import cautions, name_of
from kb.words.phrase import capital, in_words, phrase, sentence

from ..blinks import counted_blinks, draw_blinks
from ..components import (
    caution_line,
    degrees,
    draft_badge,
    fold,
    kelvin,
    live_marked,
    other_names,
    siblings,
    source_line,
)
from ..html import Child, Html, bullets, el, facts, join, section, steps
from ..in_words import value_of, words_around
from ..kind_words import list_title
from ..page import Page
from ..site_context import SiteContext
from ..stair import draw_stair

ORDER = Statement(id="code.order")
"""Why the checks stand in their order."""
POWERED = Statement(id="code.ask-powered")
"""How the machine is asked: before it is isolated, and without opening it."""
NOTHING_TOUCHED = Statement(id="code.ask-touches-nothing")
"""What holds where a step has something opened all the same."""
TRIP = "trip"
"""The step that is looked up, and not done: what raises the code."""
ANCHORS = {
    "does": "what-the-machine-does",
    "checks": "check-in-this-order",
    "rule_out": "rule-out-first",
    TRIP: "what-raises-it",
    "clear": "clear-it",
    "afterwards": "watch-afterwards",
}
"""Step → the anchor of its heading, alike in every language."""
SAME_LIMIT_K = 1.0
"""A limit in degrees and one in ohms that lie no further apart are one limit, written twice."""


def make_code(context: SiteContext, code: Code) -> Page:
    """Return the page of one code, in the order in which it is used.

    What it is and the ways on stand on the first screen; the machine is asked before it is
    isolated, and only then opened; what is looked up now and then is folded.
    """
    family = context.catalog.get(Family, code.family)
    answer = answer_code(code_facts(context.catalog, code=code))
    body = join(
        [
            draft_badge(code),
            el(
                "div",
                el(
                    "div",
                    _said(code),
                    _ways_on(context, code=code, family=family, answer=answer),
                    _asked(code, family=family, answer=answer),
                    caution_line(context, family),
                    _checks(context, code=code, answer=answer),
                    class_="ohm-two-first",
                ),
                el("div", _afterwards(context, code=code, answer=answer), class_="ohm-two-beside"),
                class_="ohm-two",
            ),
            source_line(context, code),
            siblings(context, code, entries=context.catalog.of_family(Code, family.id)),
        ]
    )
    return Page(
        path=f"codes/{code.id}.md",
        title=shown_name(code),
        kind="code",
        summary=f"{family.name}: {code.meaning}",
        trail=((list_title("families"), "families/index.html"), (family.name, family.href)),
        body=body,
    )


def _said(code: Code) -> Html:
    """Return how the machine shows it, and what it says with it, in a sentence."""
    return join(
        [
            el("div", [_shown(way) for way in code.shown], class_="ohm-shown"),
            el("p", _first_sentence(code.meaning)[0], class_="ohm-meaning"),
        ]
    )


def _then(code: Code) -> Html:
    """Return the rest of what it means, and what the machine does."""
    others = _first_sentence(code.meaning)[1]
    return el("p", f"{others} " if others else None, _does(code))


def _first_sentence(words: str) -> tuple[str, str]:
    """Return the first sentence of some words, and the others."""
    first, *others = re.split(r"(?<=[.!?])\s+(?=[A-Z0-9])", words.strip(), maxsplit=1)
    return first, "".join(others)


def _ways_on(context: SiteContext, *, code: Code, family: Family, answer: CodeAnswer) -> Html:
    """Return the keys to what is accused and to the job."""
    return el(
        "p",
        _to_the_accused(context, code=code, answer=answer),
        el(
            "a",
            in_words("code-page.start-job"),
            href=f"{context.root}jobs/{family.id}.html?code={code.id}",
            class_="ohm-go ohm-go-second",
            **_follows(code),
        ),
        class_="ohm-ways-on",
    )


def _to_the_accused(context: SiteContext, *, code: Code, answer: CodeAnswer) -> Html | None:
    """Return the key to the first sensor in the order of checks, or else to the first part.

    The key says which: what is checked first may be neither, and stands in the list of suspects.
    """
    in_order = [code.suspects[check.suspect.place] for check in answer.checks]
    accused = next((suspect.sensor for suspect in in_order if suspect.sensor), None)
    if accused is not None:
        sensor = context.catalog.get(Sensor, accused)
        key = "code-page.measure" if sensor.testable else "code-page.no-test"
        words = in_words(key, sensor=shown_name(sensor))
        return el("a", words, href=context.href(sensor), class_="ohm-go", **_follows(code))
    # Among parts a quick look goes before the one that the code is about: the key leads to that.
    blamed = [suspect for suspect in code.suspects if suspect.part]
    if not blamed:
        return None
    part = context.catalog.get(Part, max(blamed, key=lambda suspect: suspect.share).part or "")
    words = in_words("code-page.to-part", part=shown_name(part))
    return el("a", words, href=context.href(part), class_="ohm-go", **_follows(code))


def _follows(code: Code) -> dict[str, object]:
    """Return what a way on says of the code to the job: which, and as it is shown."""
    return {"data_ohm_code": code.id, "data_ohm_shown": spoken(code.shown[0])}


def _asked(code: Code, *, family: Family, answer: CodeAnswer) -> Html:
    """Return how the machine is made to name the fault, before anything is opened.

    The code's own steps stand open; the family's, the same on each of its codes, are folded.
    """
    title = f"{_heading('ask')}: {phrase(POWERED)}"
    touching = el("p", sentence(NOTHING_TOUCHED))
    if answer.ask == "code":
        return section(title, touching, steps(code.ask), id_="ask")
    asked = steps(family_asking(family))
    return fold(title, touching, asked, id_="ask", open_beside=True) if asked else Html("")


def _afterwards(context: SiteContext, *, code: Code, answer: CodeAnswer) -> Html:
    """Return what is done once a suspect is found, and what is looked up now and then."""
    steps_of = {field: _step(context, code=code, field=field) for field in answer.steps}
    done = [
        section(_heading(field), made, id_=ANCHORS[field])
        for field, made in steps_of.items()
        if field != TRIP
    ]
    return join(
        [
            section(_heading("does"), _then(code), id_=ANCHORS["does"]),
            done,
            fold(_heading(TRIP), steps_of.get(TRIP), id_=ANCHORS[TRIP], open_beside=True),
            _past_jobs(context, code),
            other_names(code),
        ]
    )


def _past_jobs(context: SiteContext, code: Code) -> Html:
    cases = context.catalog.cases_of(code)
    return fold(
        in_words("shared.past-jobs"),
        bullets(_past_job(context, case) for case in cases),
        id_="past-jobs",
        open_beside=True,
    )


def _past_job(context: SiteContext, case: Case) -> Html:
    minutes = in_words("shared.minutes", minutes=case.minutes)
    return join([f"{case.on.isoformat()}: ", context.link(case), f" ({minutes})"])


def _shown(way: Shown) -> Html:
    if way.blinks:
        return el(
            "div",
            draw_blinks(way.blinks),
            counted_blinks(way.blinks),
            el("span", capital(way.blinks.lamp), class_="ohm-shown-where"),
            class_="ohm-shown-way",
        )
    how = "asked" if way.asked else "shows"
    where = in_words(f"code-page.{how}-there", where=way.where) if way.where else ""
    return el(
        "div",
        el("span", spoken(way), class_="ohm-code"),
        el("span", capital(where) or in_words(f"code-page.{how}"), class_="ohm-shown-where"),
        class_="ohm-shown-way",
    )


def _does(code: Code) -> str:
    return value_of("stops", code.stops)


def _heading(step: str) -> str:
    return name_of("code-step", name=step)


def _step(context: SiteContext, *, code: Code, field: str) -> Html:
    made: dict[str, Callable[[], Child]] = {
        "rule_out": lambda: bullets(map(live_marked, code.rule_out)),
        TRIP: lambda: [_trip(context, trip) for trip in code.trip],
        "clear": lambda: steps(code.clear),
        "afterwards": lambda: bullets(code.afterwards),
    }
    return join(made[field]())


def _checks(context: SiteContext, *, code: Code, answer: CodeAnswer) -> Html:
    return section(
        _heading("checks"),
        draw_stair(answer),
        el(
            "ol",
            [_check(context, code=code, check=check) for check in answer.checks],
            class_="ohm-suspects",
        ),
        el("p", f"{sentence(answer.expected)}. {sentence(ORDER)}"),
        id_=ANCHORS["checks"],
    )


def _check(context: SiteContext, *, code: Code, check: Check) -> Html:
    """Return a suspect as one line: its way, how likely and how long; the rest unfolds below."""
    entry = code.suspects[check.suspect.place]
    if entry.sensor:
        name = context.link_to(Sensor, entry.sensor)
    elif entry.part:
        name = context.link_to(Part, entry.part)
    else:
        name = el("span", capital(entry.what or ""))
    return el(
        "li",
        el("h3", name, _live() if check.suspect.live else None),
        el(
            "details",
            el("summary", el("span", phrase(in_short(check)))),
            el("p", f"{sentence(check.likely)}."),
            el("p", entry.look_for) if entry.look_for else None,
            [el("p", "⚠ ", el("strong", cautions()[name].words)) for name in check.cautions],
            el("p", sentence(check.untestable)) if check.untestable else None,
            el("p", words_around("code-page.how", method=context.link_to(Method, entry.method)))
            if entry.method
            else None,
            class_="ohm-fold",
            open=True,
        ),
    )


def _live() -> Html:
    return el("span", "⚠ ", value_of("live", "live"), class_="ohm-live")


def in_short(check: Check) -> Statement:
    """Return how likely and how long, as short as a line needs it."""
    figures = {name: check.likely.figures[name] for name in ("of_one_share", "minutes")}
    return Statement(id="code.likely-short", figures=figures)


def _trip(context: SiteContext, trip: Trip) -> Html:
    rows: list[tuple[str, Child]] = []
    sensor = context.catalog.get(Sensor, trip.sensor) if trip.sensor else None
    curve = context.catalog.characteristic_of_sensor(sensor) if sensor else None
    below, above = in_words("code-page.below"), in_words("code-page.above")
    for word, t_c in ((below, trip.below_c), (above, trip.above_c)):
        if t_c is None:
            continue
        limit = degrees(t_c)
        if curve is not None and curve.low_c <= t_c <= curve.high_c:
            shown = _expected(curve, t_c)
            limit = words_around("code-page.limit-read", limit=limit, shown=shown)
        rows.append((word, limit))
    limits_c = [t_c for t_c in (trip.below_c, trip.above_c) if t_c is not None]
    for word, r_ohm in ((below, trip.below_ohm), (above, trip.above_ohm)):
        if r_ohm is None:
            continue
        t_c = _implied_c(curve, r_ohm)
        # One limit once: in degrees it already stands in ohms.
        if t_c is not None and any(abs(t_c - limit_c) <= SAME_LIMIT_K for limit_c in limits_c):
            continue
        limit = join(format_ohm(r_ohm, digits=ohm_digits(curve) if curve else 4))
        if t_c is not None:
            limit = words_around("code-page.limit-as-if", limit=limit, t=degrees(t_c))
        rows.append((word, limit))
    if trip.for_s is not None:
        rows.append((in_words("code-page.for"), f"{format_plain(trip.for_s)} s"))
    if trip.off_k is not None:
        rows.append((in_words("code-page.takes-off"), kelvin(trip.off_k)))
    if sensor:
        rows.append((in_words("shared.sensor"), context.link(sensor)))
    return join([el("p", trip.words), facts(rows)])


def _implied_c(curve: Characteristic | None, r_ohm: float) -> float | None:
    if curve is None:
        return None
    least_ohm, most_ohm = curve.range_ohm
    return float(curve.t_c(r_ohm)) if least_ohm <= r_ohm <= most_ohm else None


def _expected(curve: Characteristic, t_c: float) -> str:
    return format_ohm(curve.r_ohm(t_c), digits=ohm_digits(curve))
