"""An instrument's page: its ranges and accuracy, and what it can judge well enough."""

from __future__ import annotations

from kb.catalog import reading_order
from kb.model import Case, Instrument
from kb.numbers.rounding import format_ohm, format_plain
from kb.words.phrase import in_words

from ..components import caution_box, degrees, draft_badge, kelvin, other_names, source_line
from ..html import Html, bullets, el, facts, join, section, table
from ..in_words import value_of, words_around
from ..meters_fit import curves_section
from ..page import Page
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
                in_words(
                    "instrument-page.lead-carried" if carried else "instrument-page.lead",
                    whose=value_of("instrument-of-team", instrument.is_a),
                ),
                class_="ohm-lead",
            ),
            other_names(instrument),
            held_to(instrument),
            el("p", in_words("instrument-page.over", shown=instrument.over_shows))
            if instrument.over_shows
            else None,
            caution_box(list(instrument.cautions)) if instrument.cautions else None,
            section(
                in_words("instrument-page.resistance"), _resistance(instrument), id_="resistance"
            ),
            section(
                in_words("instrument-page.temperature"), _temperature(instrument), id_="temperature"
            ),
            section(
                in_words("instrument-page.insulation"), _insulation(instrument), id_="insulation"
            ),
            curves_section(context, instrument),
            section(
                in_words("instrument-page.used"),
                bullets(_case(context, case) for case in cases),
                id_="used-in",
            ),
            el("p", instrument.kept) if instrument.kept else None,
            source_line(context, instrument),
        ]
    )
    return Page(
        path=f"instruments/{instrument.id}.md",
        title=instrument.name,
        kind="instrument",
        summary=value_of("instrument-of-team", instrument.is_a),
        trail=((in_words("instrument-page.all"), "instruments/index.html"),),
        body=body,
    )


def held_to(instrument: Instrument) -> Html | None:
    """Return what it may be held to, and whether it proves dead; nothing of a thermometer."""
    if instrument.is_a == "thermometer":
        return None
    rated, volts_too = instrument.rated, instrument.is_a != "insulation tester"
    yes = instrument.is_a == "voltage tester"
    proves = in_words("instrument-page.proves-yes" if yes else "instrument-page.proves-no")
    limit = in_words("instrument-page.held-to-nothing-live") if volts_too else None
    leads = None
    if rated is not None:
        limit = in_words(
            "instrument-page.held-to-volts", volts=rated.volts, category=rated.category
        )
        leads = in_words(f"instrument-page.leads-{'fused' if rated.fused_leads else 'plain'}")
    rows = {"held-to": limit, "leads": leads, "proves": proves}
    return facts((in_words(f"instrument-page.{key}"), value) for key, value in rows.items())


def _case(context: SiteContext, case: Case) -> Html:
    return join([f"{case.on.isoformat()}: ", context.link(case)])


def _resistance(instrument: Instrument) -> Html | None:
    if not instrument.resistance:
        return None
    rows = [
        [
            format_ohm(reach.span),
            format_ohm(reach.resolution, digits=2),
            in_words("instrument-page.ohm-accuracy", percent=reach.percent, digits=reach.digits),
        ]
        for reach in instrument.resistance
    ]
    heads = [in_words(f"instrument-page.{head}") for head in ("up-to", "digit", "accuracy")]
    return table(in_words("instrument-page.ohm-caption", instrument=instrument.name), heads, rows)


def _temperature(instrument: Instrument) -> Html | None:
    what = instrument.temperature
    if what is None:
        return None
    accuracy, within = "t-accuracy-percent" if what.percent else "t-accuracy", what.accuracy_k
    percent = format_plain(what.percent) if what.percent else None
    low, high = map(degrees, what.range_c)
    rows = {
        "accuracy": words_around(
            f"instrument-page.{accuracy}", within=kelvin(within), percent=percent
        ),
        "shows": kelvin(what.resolution_k),
        "from": words_around("instrument-page.span", low=low, high=high),
    }
    return facts((in_words(f"instrument-page.{key}"), value) for key, value in rows.items())


def _insulation(instrument: Instrument) -> Html | None:
    if not instrument.insulation:
        return None
    rows = [
        [
            in_words("instrument-page.volts", volts=test.volts),
            format_ohm(test.max_ohm),
            in_words("instrument-page.percent", percent=test.percent),
        ]
        for test in instrument.insulation
    ]
    heads = [in_words(f"instrument-page.{head}") for head in ("voltage", "up-to", "accuracy")]
    return table(in_words("instrument-page.test-caption", instrument=instrument.name), heads, rows)
