"""An instrument's page: its ranges and accuracy, and what it can judge well enough."""

from __future__ import annotations

from kb.catalog import reading_order
from kb.model import Case, Instrument
from kb.numbers.rounding import format_ohm, format_plain

from ..components import caution_box, degrees, draft_badge, kelvin, other_names, source_line
from ..html import Html, bullets, el, facts, join, section, table
from ..meters_fit import curves_section
from ..page import Page
from ..said import value_of
from ..site_context import SiteContext


def make_instrument(context: SiteContext, instrument: Instrument) -> Page:
    """Return the page of one instrument."""
    team = context.catalog.team
    cases = sorted(context.catalog.users_of(instrument, Case), key=reading_order)
    carried = instrument.id in (team.meter, team.thermometer, team.voltage_tester)
    body = join(
        [
            draft_badge(instrument),
            el(
                "p",
                value_of("instrument-of-team", instrument.is_a)
                + "."
                + (" Carried by everyone unless they say otherwise." if carried else ""),
                class_="ohm-lead",
            ),
            other_names(instrument),
            _rated(instrument),
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
        summary=value_of("instrument-of-team", instrument.is_a),
        trail=(("Instruments", "instruments/index.html"),),
        body=body,
    )


def _rated(instrument: Instrument) -> Html | None:
    """Return what it may be held to, and whether it proves dead; nothing of a thermometer."""
    if instrument.is_a == "thermometer":
        return None
    rated, volts_too = instrument.rated, instrument.is_a != "insulation tester"
    proves = (
        "Yes: two poles, on something live before and after"
        if instrument.is_a == "voltage tester"
        else "No: that takes a two-pole voltage tester"
    )
    if rated is None:
        held_to = "Only what is isolated, drained and proved so" if volts_too else None
        return facts([("May be held to", held_to), ("Proves dead", proves)])
    return facts(
        [
            ("May be held to", f"{format_plain(rated.volts)} V, category {rated.category}"),
            ("Leads", "with fuses of their own" if rated.fused_leads else "without fuses"),
            ("Proves dead", proves),
        ]
    )


def _case(context: SiteContext, case: Case) -> Html:
    return join([f"{case.on.isoformat()}: ", context.link(case)])


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
