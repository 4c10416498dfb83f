"""About the numbers: how a reading is judged, and how far each curve can be trusted."""

from __future__ import annotations

from collections.abc import Mapping

from kb.model import Curve
from kb.numbers.rounding import format_k, format_ohm
from kb.words.phrase import said

from ..components import degrees
from ..html import Html, bullets, el, join, section, table
from ..page import Page
from ..site_context import SiteContext


def make_numbers(context: SiteContext, *, grid_errors_k: Mapping[str, float]) -> Page:
    """Return the page; `grid_errors_k` is each curve's proved interpolation error."""
    body = join(
        [
            el(
                "p",
                "A meter shows ohms; the machine sees a temperature. So a reading is judged in "
                "kelvin, with the part's tolerance and the instruments' errors both counted.",
                class_="ohm-lead",
            ),
            _judged(context),
            _why_tables(),
            _computed(context, grid_errors_k),
            _not_known(),
        ]
    )
    return Page(
        path="numbers.md",
        title="About the numbers",
        kind="numbers",
        summary="How a reading is judged, and how far each curve can be trusted.",
        trail=(("Home", "index.html"),),
        body=body,
    )


def _judged(context: SiteContext) -> Html:
    """Return the arithmetic of a verdict, in words."""
    return section(
        "How a reading is judged",
        bullets(
            [
                "The reading is turned into the temperature it implies. The error is that "
                "minus the temperature you measured.",
                "The uncertainty has four terms: the meter (per cent of reading plus "
                "digits), the thermometer, how well it sits on the sensor, and the curve itself "
                "(rounding of its print, gaps between its rows, what its law is off). Each is "
                "taken as a half-width with every value in it equally likely (JCGM 100, "
                "4.3.7). The uncertainty U covers 95 % of their sum, taken as it is and not "
                "as a bell curve (JCGM 101): it is never more than twice the root of squares.",
                "The limit L is the part's tolerance in kelvin at that temperature, or what "
                "the machine tolerates, if that is more.",
                "Within limits only if the error is at most L − U; outside only if it is more "
                "than L + U; otherwise not decided, and the page says what would decide it "
                "(JCGM 106 and ILAC-G8, guarded both ways).",
                "Over range is an open circuit; below "
                f"{format_ohm(context.catalog.team.short_below_ohm)} is a short circuit.",
            ]
        ),
    )


def _why_tables() -> Html:
    """Return why a printed table is used wherever there is one."""
    return section(
        "Why tables beat a B value",
        el(
            "p",
            "Two parts with the same resistance at 25 °C and the same B can differ by a "
            "third at −40 °C, and one B value alone reads some kelvin wrong in the cold. "
            "Where the maker printed a table, the table is used.",
        ),
    )


def _computed(context: SiteContext, grid_errors_k: Mapping[str, float]) -> Html:
    """Return each curve with its range, its law and the phone's worst error."""
    rows = []
    for curve in context.notes.of(Curve).values():
        error_k = grid_errors_k.get(curve.id)
        rows.append(
            [
                context.link(curve),
                join([degrees(curve.range_c[0]), " to ", degrees(curve.range_c[1])]),
                said(f"law.{curve.law}").partition(";")[0],
                "limits only" if error_k is None else format_k(error_k, digits=1),
            ]
        )
    return section(
        "How each curve is computed",
        table(
            "Curves, their range and the worst error of the phone's arithmetic",
            ["Curve", "Holds", "By", "Phone"],
            rows,
        ),
        el(
            "p",
            "The phone interpolates a grid that was compiled from the law when these notes "
            "were built; the last column is the worst error of doing so, measured between "
            "the grid's points.",
        ),
    )


def _not_known() -> Html:
    """Return what only eyes and hands can tell."""
    return section(
        "What no number here knows",
        bullets(
            [
                "Whether the sensor sits where it should, touches what it should, and is the "
                "part that the machine was built for.",
                "A contact that is bad only when it shakes or gets wet.",
                "What the maker has changed since the notes were written.",
            ]
        ),
    )
