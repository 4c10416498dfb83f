"""A code's page: what it means here, how to ask the machine, what to check in which order."""

from __future__ import annotations

from kb.catalog import shown_name
from kb.model import Case, Code, Family, Method, Part, Sensor
from kb.model.code import Shown, Trip
from kb.numbers.characteristic import Characteristic
from kb.numbers.rounding import format_ohm, format_percent, format_plain, format_whole
from kb.suspects import Ranked, Ranking, rank_suspects

from ..blinks import draw_blinks, say_blinks
from ..components import degrees, draft_badge, family_cautions, other_names, siblings, source_line
from ..html import Child, Html, bullets, el, facts, join, section, steps
from ..page import Page
from ..site_context import SiteContext

SAME_LIMIT_K = 1.0
"""A limit in degrees and one in ohms that lie no further apart are one limit, written twice."""


def make_code(context: SiteContext, code: Code) -> Page:
    """Return the page of one code."""
    family = context.catalog.get(Family, code.family)
    cases = context.catalog.cases_of(code)
    ranking = rank_suspects(code, cases=cases)
    body = join(
        [
            draft_badge(code),
            el("div", [_shown(way) for way in code.shown], class_="ohm-shown"),
            el("p", code.meaning, class_="ohm-lead"),
            other_names(code),
            el("p", _does(code), class_="ohm-does"),
            family_cautions(context, family),
            section("Ask the machine first", steps(_ask(family, code))),
            _order_of_checks(context, ranking),
            section("Rule out first", bullets(code.rule_out)),
            section("What raises it", [_trip(context, trip) for trip in code.trip]),
            section("Clear it", steps(code.clear)),
            section("Watch afterwards", bullets(code.afterwards)),
            section("Past jobs", bullets(_case(context, case) for case in cases)),
            _start(context, code),
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


def _ask(family: Family, code: Code) -> list[str]:
    """Return how the machine itself is asked: the code's own way, or the family's."""
    return code.ask or [step for controller in family.controllers for step in controller.ask][:8]


def _order_of_checks(context: SiteContext, ranking: Ranking) -> Html:
    """Return the suspects, the one that is found soonest first."""
    return section(
        "Check in this order",
        el("ol", [_suspect(context, ranked) for ranked in ranking.suspects], class_="ohm-suspects"),
        el(
            "p",
            "Expected time to find it in this order: "
            f"{format_whole(ranking.expected_min)} minutes. The order is the least "
            "expected time for one fault: share divided by minutes, largest first.",
        ),
    )


def _case(context: SiteContext, case: Case) -> Html:
    return join(
        [f"{case.on.isoformat()}: ", context.link(case), f" ({format_plain(case.minutes)} min)"]
    )


def _start(context: SiteContext, code: Code) -> Html:
    """Return the way to a job that begins with this code."""
    return el(
        "p",
        el(
            "a",
            "Start your job with this code",
            href=f"{context.root}jobs/{code.family}.html?code={code.id}",
        ),
    )


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


def _suspect(context: SiteContext, ranked: Ranked) -> Html:
    suspect = ranked.suspect
    if suspect.sensor:
        name: Child = context.link_to(Sensor, suspect.sensor)
    elif suspect.part:
        name = context.link_to(Part, suspect.part)
    else:
        words = suspect.what or ""
        name = words[:1].upper() + words[1:]
    counted = f"{ranked.cases} of {ranked.of_cases} here" if ranked.of_cases else "no past job yet"
    return el(
        "li",
        el("h3", name),
        el(
            "p",
            el(
                "meter",
                min=0,
                max=1,
                value=format_plain(ranked.share, digits=3),
                aria_hidden="true",
            ),
            f" {format_percent(ranked.share)} likely, {format_plain(suspect.minutes)} min to check "
            f"({counted})",
            class_="ohm-share",
        ),
        el("p", suspect.look_for) if suspect.look_for else None,
        el("p", el("strong", "⚠ Live work"), ", for those authorised to do it.")
        if suspect.live
        else None,
        _no_test(context, suspect.sensor),
        el("p", "How: ", context.link_to(Method, suspect.method)) if suspect.method else None,
    )


def _no_test(context: SiteContext, sensor_id: str | None) -> Html | None:
    sensor = context.catalog.get(Sensor, sensor_id) if sensor_id else None
    if sensor is None or sensor.untestable is None:
        return None
    return el(
        "p",
        el("strong", "No meter can test it. "),
        sensor.untestable.why,
        el("strong", " Instead: "),
        sensor.untestable.instead,
    )


def _trip(context: SiteContext, trip: Trip) -> Html:
    rows: list[tuple[str, Child]] = []
    sensor = context.catalog.get(Sensor, trip.sensor) if trip.sensor else None
    curve = context.catalog.characteristic(sensor.curve) if sensor and sensor.curve else None
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
        # One limit once: in degrees it has already been said in ohms.
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
    ends = sorted((curve.r_ohm(curve.low_c), curve.r_ohm(curve.high_c)))
    return float(curve.t_c(r_ohm)) if ends[0] <= r_ohm <= ends[1] else None
