"""About the numbers: how a reading is judged, and how far each curve can be trusted."""

from __future__ import annotations

from collections.abc import Mapping

from kb.model import Curve
from kb.numbers.rounding import format_k
from kb.words.phrase import in_words

from ..components import degrees
from ..html import Html, bullets, el, join, section, table
from ..in_words import words_around
from ..page import Page
from ..site_context import SiteContext


def make_numbers(context: SiteContext, *, grid_errors_k: Mapping[str, float]) -> Page:
    """Return the page; `grid_errors_k` is each curve's proved interpolation error."""
    body = join(
        [
            el("p", _words("lead"), class_="ohm-lead"),
            _judged(context),
            _why_tables(),
            _computed(context, grid_errors_k),
            _not_known(),
        ]
    )
    return Page(
        path="numbers.md",
        title=_words("title"),
        kind="numbers",
        summary=_words("summary"),
        trail=((_words("home"), "index.html"),),
        body=body,
    )


def _judged(context: SiteContext) -> Html:
    """Return the arithmetic of a verdict, in words."""
    return section(
        _words("judged"),
        bullets(
            [
                _words("judged-error"),
                _words("judged-doubt"),
                _words("judged-limit"),
                _words("judged-within"),
                _words("judged-open", short_ohm=context.catalog.team.short_below_ohm),
            ]
        ),
        id_="how-a-reading-is-judged",
    )


def _why_tables() -> Html:
    """Return why a printed table is used wherever there is one."""
    return section(_words("tables"), el("p", _words("tables-why")), id_="why-tables-beat-a-b-value")


def _computed(context: SiteContext, grid_errors_k: Mapping[str, float]) -> Html:
    """Return each curve with its range, its law and the phone's worst error."""
    rows = []
    for curve in context.notes.of(Curve).values():
        error_k = grid_errors_k.get(curve.id)
        low_c, high_c = curve.range_c
        rows.append(
            [
                context.link(curve),
                words_around("numbers-page.holds-from", low=degrees(low_c), high=degrees(high_c)),
                in_words(f"law.{curve.law}").partition(";")[0],
                _words("limits") if error_k is None else format_k(error_k, digits=1),
            ]
        )
    heads = [_words(name) for name in ("curve", "holds", "by", "phone")]
    return section(
        _words("curves"),
        table(_words("curves-caption"), heads, rows),
        el("p", _words("curves-how")),
        id_="how-each-curve-is-computed",
    )


def _not_known() -> Html:
    """Return what only eyes and hands can tell."""
    return section(
        _words("unknown"),
        bullets(_words(f"unknown-{name}") for name in ("seat", "contact", "maker")),
        id_="what-no-number-here-knows",
    )


def _words(name: str, /, **figures: object) -> str:
    return in_words(f"numbers-page.{name}", **figures)
