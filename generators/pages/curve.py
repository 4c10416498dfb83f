"""A curve's page: table, chart, how it was obtained and how far it can be trusted."""

from __future__ import annotations

from kb.laws import LAWS
from kb.model import Curve, Sensor
from kb.model.curve import BetaCurve, TableCurve
from kb.numbers.characteristic import Characteristic
from kb.numbers.how_known import how_known
from kb.numbers.rounding import format_k, format_ohm, format_plain
from kb.numbers.switching_ptc import TEST_VOLTS_MAX, SwitchingPtc

from ..components import degrees, draft_badge, other_names, source_line
from ..expected import expected_table, round_temperatures
from ..fitted_rows import fitted_rows
from ..forms.curve_form import compare_form, curve_form, fine_table
from ..forms.scripts import form_scripts
from ..forms.stand_in_form import stand_in_form
from ..html import Child, Html, bullets, el, facts, join, section, table
from ..meters_fit import meters_section
from ..own_band import chart_places_c, own_band
from ..page import Page
from ..site_context import SiteContext
from ..tolerance_words import tolerance_words

ALIKE_SHARE = 0.7
"""What a curve is known to elsewhere, so near to its worst, is not worth a figure of its own."""
LEAST_SHOWN_K = 0.01
"""No line says less than that."""


def make_curve(
    context: SiteContext, curve: Curve, *, chart: str | None, grid_error_k: float | None
) -> Page:
    """Return the page of one curve; `chart` is its drawing, ready to stand in the page."""
    characteristic = context.catalog.characteristic(curve.id)
    parts = [
        draft_badge(curve),
        el("p", f"By {LAWS[curve.law].words}.", class_="ohm-lead"),
        other_names(curve),
    ]
    law = LAWS[curve.law]
    if law.limits is not None:
        parts.append(_limits(curve, law.limits(curve)))
    if characteristic is not None:
        parts.append(_computed(context, curve, characteristic, chart=chart))
        parts.append(
            section(
                "How right it is",
                _how_right(curve, characteristic, grid_error_k=grid_error_k),
                fitted_rows(curve, characteristic),
            )
        )
        scripts = form_scripts(context, forms=["curve", "stand-in"], curve_ids=[curve.id])
        parts += [meters_section(context, curve.id), scripts]
    parts += [
        section("Worth knowing", bullets(curve.notes)),
        section(
            "Sensors on this curve",
            bullets(context.link(sensor) for sensor in context.catalog.users_of(curve, Sensor)),
        ),
        source_line(context, curve),
    ]
    return Page(
        path=f"curves/{curve.id}.md",
        title=curve.name,
        kind="curve",
        summary=f"Resistance by {LAWS[curve.law].words}",
        trail=(("Curves", "curves/index.html"),),
        body=join(parts),
    )


def _computed(
    context: SiteContext, curve: Curve, characteristic: Characteristic, *, chart: str | None
) -> Html:
    """Return what can be worked out from a curve: by the page's scripts, and without them."""
    temperatures_c = round_temperatures(characteristic.low_c, high_c=characteristic.high_c)
    caption = f"{curve.name}, every 5 °C"
    return join(
        [
            curve_form(context, curve=curve),
            section(
                "Table",
                expected_table(characteristic, at_c=temperatures_c, caption=caption),
                fine_table(curve),
            ),
            section("Chart", _figure(characteristic, chart=chart or "")),
            _worked_out("Compare with another curve", compare_form(context, curve=curve)),
            _worked_out("Stand-in resistors", stand_in_form(curve.id)),
            el(
                "p",
                "A sensor without a mark? ",
                el("a", "Which curve is this?", href=f"{context.root}which.html"),
            ),
        ]
    )


def _figure(characteristic: Characteristic, *, chart: str) -> Html:
    """Return the chart, with a word on the dashed band where it has one."""
    caption = None
    if own_band(characteristic, t_c=chart_places_c(characteristic)) is not None:
        caption = el("figcaption", "Dashed: how far the curve itself may be off.")
    return el("figure", Html(chart), caption, class_="ohm-chart")


def _worked_out(title: str, form: Html) -> Html:
    """Return a section that needs the page's scripts, out of sight without them."""
    return el("div", section(title, form), class_="ohm-js") if form else Html("")


def _how_right(curve: Curve, characteristic: Characteristic, *, grid_error_k: float | None) -> Html:
    low_c, high_c = curve.range_c
    rows: list[tuple[str, Child]] = [
        ("Holds from", join([degrees(low_c), " to ", degrees(high_c)])),
        ("Obtained by", LAWS[curve.law].words),
        ("Part tolerance", tolerance_words(curve, characteristic)),
        (
            f"The {'table' if isinstance(curve, TableCurve) else 'law'} itself",
            _how_known_words(characteristic),
        ),
    ]
    if isinstance(curve, BetaCurve) and curve.b_pair_c is not None:
        first_c, second_c = curve.b_pair_c
        rows.append(("B taken between", join([degrees(first_c), " and ", degrees(second_c)])))
    if grid_error_k is not None:
        rows.append(
            (
                "On the phone",
                join(
                    [
                        "worst interpolation error ",
                        format_k(grid_error_k, digits=1),
                        ", proved when these notes were built",
                    ]
                ),
            )
        )
    return join(
        [facts(rows), el("p", "Outside this range there is no answer: a curve is never stretched.")]
    )


def _how_known_words(characteristic: Characteristic) -> Html:
    """Return how well the curve itself is known, worst and where."""
    known = how_known(characteristic)
    if known is None:
        return join("taken as it was published")
    worst = _own_k(known.worst_k)
    stretch: list[Child] = [" between ", degrees(known.low_c), " and ", degrees(known.high_c)]
    if known.elsewhere_k is None:
        return join(f"within {worst}")
    if known.elsewhere_k > ALIKE_SHARE * known.worst_k:
        return join([f"within {worst}, most", *stretch])
    return join([f"within {_own_k(known.elsewhere_k)}, {worst}", *stretch])


def _own_k(half_k: float) -> str:
    return format_k(max(half_k, LEAST_SHOWN_K))


def _limits(curve: Curve, loop: SwitchingPtc) -> Html:
    rows = []
    for over_k in (-20, -5, 5, 15):
        t_c = loop.trip_c + over_k
        least, most = loop.limits_ohm(t_c)
        limit = f"at least {format_ohm(least)}" if least else f"at most {format_ohm(most)}"
        rows.append([degrees(t_c), f"{over_k:+d} K".replace("-", "−"), limit])
    return section(
        f"Limits of {loop.in_series} in series",
        el(
            "p",
            "A switching PTC has limits and no curve: well below its response temperature the "
            "loop is low, above it high, and nothing in between means anything.",
        ),
        table(f"{curve.name}: limits of the loop", ["At", "From response", "Loop"], rows),
        el(
            "p",
            f"Measure with at most {format_plain(TEST_VOLTS_MAX)} V on each element: more warms "
            "it and "
            "falsifies the reading.",
        ),
    )
