"""A code's page: what it means here, how to ask the machine, what to check in which order."""

from __future__ import annotations

from kb.answers.code_checks import Check, CodeAnswer, answer_code
from kb.answers.statement import Statement
from kb.catalog import shown_name
from kb.code_facts import code_facts, family_asking
from kb.model import Case, Code, Family, Method, Part, Sensor
from kb.model.code import Shown, Trip
from kb.numbers.characteristic import Characteristic
from kb.numbers.rounding import format_ohm, format_plain
from kb.words.catalogue import cautions, name_of
from kb.words.phrase import capital, phrase, sentence

from ..blinks import draw_blinks, say_blinks
from ..components import caution_line, degrees, draft_badge, other_names, siblings, source_line
from ..html import Child, Html, bullets, el, facts, join, section, steps
from ..page import Page
from ..site_context import SiteContext

ORDER = Statement(id="code.order")
"""Why the checks stand in their order."""
SAME_LIMIT_K = 1.0
"""A limit in degrees and one in ohms that lie no further apart are one limit, written twice."""


def make_code(context: SiteContext, code: Code) -> Page:
    """Return the page of one code."""
    family = context.catalog.get(Family, code.family)
    answer = answer_code(code_facts(context.catalog, code=code))
    cases = context.catalog.cases_of(code)
    body = join(
        [
            draft_badge(code),
            el("div", [_shown(way) for way in code.shown], class_="ohm-shown"),
            el("p", code.meaning, class_="ohm-lead"),
            other_names(code),
            el("p", _does(code), class_="ohm-does"),
            caution_line(context, family),
            section(_heading("ask"), steps(_ask(code, family=family, answer=answer))),
            _checks(context, code=code, answer=answer),
            *(_step(context, code=code, field=field) for field in answer.steps),
            section("Past jobs", bullets(_past_job(context, case) for case in cases)),
            el(
                "p",
                el(
                    "a",
                    "Start your job with this code",
                    href=f"{context.root}jobs/{family.id}.html?code={code.id}",
                ),
            ),
            source_line(context, code),
            siblings(
                context, code, entries=context.catalog.of_family(Code, family.id), label="codes"
            ),
        ]
    )
    return Page(
        path=f"codes/{code.id}.md",
        title=shown_name(code),
        kind="code",
        summary=f"{family.name}: {code.meaning}",
        trail=(("Families", "families/index.html"), (family.name, family.href)),
        body=body,
    )


def _past_job(context: SiteContext, case: Case) -> Html:
    minutes = format_plain(case.minutes)
    return join([f"{case.on.isoformat()}: ", context.link(case), f" ({minutes} min)"])


def _shown(way: Shown) -> Html:
    if way.blinks:
        return el(
            "div",
            draw_blinks(way.blinks),
            el("span", f"{say_blinks(way.blinks)} ({way.blinks.lamp})"),
            class_="ohm-shown-way",
        )
    before = "when asked" if way.asked else "shows"
    where = f"{way.where} {before}" if way.where else before
    return el(
        "div",
        el("span", way.spoken(), class_="ohm-code"),
        el("span", where[0].upper() + where[1:], class_="ohm-shown-where"),
        class_="ohm-shown-way",
    )


def _does(code: Code) -> str:
    return {
        "stops": "The machine stops and stays stopped.",
        "runs on": "The machine runs on.",
        "restarts by itself": "The machine stops and restarts by itself.",
    }[code.stops]


def _heading(step: str) -> str:
    return name_of("code-step", name=step)


def _ask(code: Code, *, family: Family, answer: CodeAnswer) -> list[str]:
    return {"code": code.ask, "family": family_asking(family), "": []}[answer.ask]


def _step(context: SiteContext, *, code: Code, field: str) -> Html:
    made: dict[str, Child] = {
        "rule_out": bullets(code.rule_out),
        "trip": [_trip(context, trip) for trip in code.trip],
        "clear": steps(code.clear),
        "afterwards": bullets(code.afterwards),
    }
    return section(_heading(field), made[field])


def _checks(context: SiteContext, *, code: Code, answer: CodeAnswer) -> Html:
    return section(
        _heading("checks"),
        el(
            "ol",
            [_check(context, code=code, check=check) for check in answer.checks],
            class_="ohm-suspects",
        ),
        el("p", f"{sentence(answer.expected)}. {sentence(ORDER)}"),
    )


def _check(context: SiteContext, *, code: Code, check: Check) -> Html:
    entry = code.suspects[check.suspect.place]
    if entry.sensor:
        name: Child = context.link_to(Sensor, entry.sensor)
    elif entry.part:
        name = context.link_to(Part, entry.part)
    else:
        name = capital(entry.what or "")
    return el(
        "li",
        el("h3", name),
        el(
            "p",
            el(
                "meter",
                min=0,
                max=1,
                value=format_plain(check.suspect.share, digits=3),
                aria_hidden="true",
            ),
            f" {phrase(check.likely)}",
            class_="ohm-share",
        ),
        el("p", entry.look_for) if entry.look_for else None,
        [el("p", "⚠ ", el("strong", cautions()[name].words)) for name in check.cautions],
        el("p", sentence(check.untestable)) if check.untestable else None,
        el("p", "How: ", context.link_to(Method, entry.method)) if entry.method else None,
    )


def _trip(context: SiteContext, trip: Trip) -> Html:
    rows: list[tuple[str, Child]] = []
    sensor = context.catalog.get(Sensor, trip.sensor) if trip.sensor else None
    curve = context.catalog.characteristic_of_sensor(sensor) if sensor else None
    for word, t_c in (("Below", trip.below_c), ("Above", trip.above_c)):
        if t_c is None:
            continue
        words: list[Child] = [degrees(t_c)]
        if curve is not None and curve.low_c <= t_c <= curve.high_c:
            words.append(f", which is {format_ohm(curve.r_ohm(t_c))} at the sensor")
        rows.append((word, join(words)))
    limits_c = [t_c for t_c in (trip.below_c, trip.above_c) if t_c is not None]
    for word, r_ohm in (("Below", trip.below_ohm), ("Above", trip.above_ohm)):
        if r_ohm is None:
            continue
        t_c = _implied_c(curve, r_ohm)
        # One limit once: in degrees it already stands in ohms.
        if t_c is not None and any(abs(t_c - limit_c) <= SAME_LIMIT_K for limit_c in limits_c):
            continue
        words = [format_ohm(r_ohm)]
        if t_c is not None:
            words += [", as if at ", degrees(t_c)]
        rows.append((word, join(words)))
    if trip.for_s is not None:
        rows.append(("For", f"{format_plain(trip.for_s)} s"))
    if sensor:
        rows.append(("Sensor", context.link(sensor)))
    return join([el("p", trip.words), facts(rows)])


def _implied_c(curve: Characteristic | None, r_ohm: float) -> float | None:
    if curve is None:
        return None
    least_ohm, most_ohm = curve.range_ohm
    return float(curve.t_c(r_ohm)) if least_ohm <= r_ohm <= most_ohm else None
