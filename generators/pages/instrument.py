"""An instrument's page: its ranges and accuracy, and what it can judge well enough."""

from __future__ import annotations

from kb.catalog import reading_order
from kb.model import Case, Instrument
from kb.numbers.rounding import format_ohm, format_plain

from ..components import caution_box, degrees, draft_badge, kelvin, other_names, source_line
from ..html import Html, bullets, el, facts, join, section, table
from ..meters_fit import curves_section
from ..page import Page
from ..site_context import SiteContext


def make_instrument(context: SiteContext, instrument: Instrument) -> Page:
    """Return the page of one instrument."""
    team = context.catalog.team
    cases = sorted(context.catalog.users_of(instrument, Case), key=reading_order)
    carried = instrument.id in (team.meter, team.thermometer)
    body = join(
        [
            draft_badge(instrument),
            el(
                "p",
                f"{_article(instrument.is_a)} of the team's."
                + (" Carried by everyone unless they say otherwise." if carried else ""),
                class_="ohm-lead",
            ),
            other_names(instrument),
            caution_box(list(instrument.cautions)) if instrument.cautions else None,
            section("Resistance", _resistance(instrument)),
            section("Temperature", _temperature(instrument)),
            section("Insulation", _insulation(instrument)),
            curves_section(context, instrument),
            section("Used in", bullets(_case(context, case) for case in cases)),
            el("p", instrument.kept) if instrument.kept else None,
            source_line(context, instrument),
        ]
    )
    return Page(
        path=f"instruments/{instrument.id}.md",
        title=instrument.name,
        kind="instrument",
        summary=f"{_article(instrument.is_a)} of the team's",
        trail=(("Instruments", "instruments/index.html"),),
        body=body,
    )


def _case(context: SiteContext, case: Case) -> Html:
    return join([f"{case.on.isoformat()}: ", context.link(case)])


def _article(noun: str) -> str:
    return f"{'An' if noun[0] in 'aeiou' else 'A'} {noun}"


def _resistance(instrument: Instrument) -> Html | None:
    if not instrument.resistance:
        return None
    rows = [
        [
            format_ohm(reach.span),
            format_ohm(reach.resolution, digits=2),
            f"± ({format_plain(reach.percent)} % + {reach.digits} digits)",
        ]
        for reach in instrument.resistance
    ]
    return table(
        f"Resistance ranges of {instrument.name}", ["Up to", "One digit", "Accuracy"], rows
    )


def _temperature(instrument: Instrument) -> Html | None:
    what = instrument.temperature
    if what is None:
        return None
    percent = [f" and {format_plain(what.percent)} % of reading"] if what.percent else None
    return facts(
        [
            ("Accuracy", join(["± ", kelvin(what.accuracy_k), percent])),
            ("Shows", kelvin(what.resolution_k)),
            ("From", join([degrees(what.range_c[0]), " to ", degrees(what.range_c[1])])),
        ]
    )


def _insulation(instrument: Instrument) -> Html | None:
    if not instrument.insulation:
        return None
    rows = [
        [
            f"{format_plain(test.volts)} V",
            format_ohm(test.max_ohm),
            f"± {format_plain(test.percent)} %",
        ]
        for test in instrument.insulation
    ]
    return table(f"Test voltages of {instrument.name}", ["Voltage", "Up to", "Accuracy"], rows)
