"""A curve's page: table, chart, how it was obtained and how far it can be trusted."""

from __future__ import annotations

from kb.laws import LAWS
from kb.model import CURVE_LAWS, Curve, Sensor
from kb.model.curve import BetaCurve, TableCurve
from kb.numbers.characteristic import Characteristic
from kb.numbers.how_known import how_known
from kb.numbers.rounding import format_k, format_ohm, format_plain
from kb.numbers.switching_ptc import TEST_VOLTS_MAX, SwitchingPtc
from kb.words.catalogue import languages, words_of
from kb.words.phrase import in_words

from ..components import degrees, draft_badge, other_names, paper_caution, source_line
from ..expected import expected_table, round_temperatures
from ..fitted_rows import fitted_rows
from ..forms.curve_form import compare_form, curve_form, fine_table
from ..forms.scripts import form_scripts
from ..forms.stand_in_form import stand_in_form
from ..html import Child, Html, bullets, el, facts, join, section, table
from ..in_words import words_around
from ..meters_fit import meters_section
from ..own_band import chart_places_c, own_band
from ..page import Page
from ..site_context import SiteContext
from ..tolerance_words import tolerance_words

ALIKE_SHARE = 0.7
"""What a curve is known to elsewhere, so near to its worst, is not worth a figure of its own."""
LEAST_SHOWN_K = 0.01
"""No line says less than that."""
for _law in CURVE_LAWS:
    for _language in languages():
        if _law not in words_of(_language)["law"]:
            raise ImportError(
                f"{__name__}: the law '{_law}' has no words in {_language}: say how a resistance "
                f"is obtained by it in section [law] of kb/words/{_language}/pages/laws.toml"
            )


def make_curve(
    context: SiteContext, curve: Curve, *, chart: str | None, grid_error_k: float | None
) -> Page:
    """Return the page of one curve; `chart` is its drawing, ready to stand in the page."""
    characteristic = context.catalog.characteristic(curve.id)
    parts = [
        draft_badge(curve),
        paper_caution(in_words("sheet-page.curve-caution")),
        el("p", in_words("curve-page.lead", law=_law_words(curve)), class_="ohm-lead"),
        other_names(curve),
    ]
    law = LAWS[curve.law]
    if law.limits is not None:
        parts.append(limits_section(curve, law.limits(curve)))
    if characteristic is not None:
        parts.append(_computed(context, curve, characteristic, chart=chart))
        parts.append(
            section(
                in_words("curve-page.how-right"),
                _how_right(curve, characteristic, grid_error_k=grid_error_k),
                fitted_rows(curve, characteristic),
                id_="how-right-it-is",
            )
        )
        scripts = form_scripts(context, forms=["curve", "stand-in"], curve_ids=[curve.id])
        parts += [meters_section(context, curve.id), scripts]
    parts += [
        section(in_words("curve-page.worth-knowing"), bullets(curve.notes), id_="worth-knowing"),
        section(
            in_words("curve-page.sensors"),
            bullets(context.link(sensor) for sensor in context.catalog.users_of(curve, Sensor)),
            id_="sensors-on-this-curve",
        ),
        source_line(context, curve),
    ]
    return Page(
        path=f"curves/{curve.id}.md",
        title=curve.name,
        kind="curve",
        summary=in_words("curve-page.summary", law=_law_words(curve)),
        trail=((in_words("curve-page.all"), "curves/index.html"),),
        on_paper=True,
        body=join(parts),
    )


def _law_words(curve: Curve) -> str:
    """Return how a resistance of the curve is obtained."""
    return in_words(f"law.{curve.law}")


def _computed(
    context: SiteContext, curve: Curve, characteristic: Characteristic, *, chart: str | None
) -> Html:
    """Return what can be worked out from a curve: by the page's scripts, and without them."""
    temperatures_c = round_temperatures(characteristic.low_c, high_c=characteristic.high_c)
    caption = in_words("curve-page.caption", curve=curve.name)
    unmarked = el("a", in_words("curve-page.unmarked-link"), href=f"{context.root}which.html")
    return join(
        [
            curve_form(context, curve=curve),
            section(
                in_words("curve-page.table"),
                expected_table(characteristic, at_c=temperatures_c, caption=caption),
                fine_table(curve),
                id_="table",
            ),
            section(
                in_words("curve-page.chart"),
                _figure(characteristic, chart=chart or ""),
                id_="chart",
            ),
            _worked_out(
                in_words("curve-page.compare"),
                compare_form(context, curve=curve),
                id_="compare-with-another-curve",
            ),
            _worked_out(
                in_words("curve-page.stand-ins"), stand_in_form(curve.id), id_="stand-in-resistors"
            ),
            el("p", words_around("curve-page.unmarked", link=unmarked)),
        ]
    )


def _figure(characteristic: Characteristic, *, chart: str) -> Html:
    """Return the chart, with a word on the dashed band where it has one."""
    caption = None
    if own_band(characteristic, t_c=chart_places_c(characteristic)) is not None:
        caption = el("figcaption", in_words("curve-page.dashed"))
    return el("figure", Html(chart), caption, class_="ohm-chart")


def _worked_out(title: str, form: Html, *, id_: str) -> Html:
    """Return a section that needs the page's scripts, out of sight without them."""
    return el("div", section(title, form, id_=id_), class_="ohm-js") if form else Html("")


def _how_right(curve: Curve, characteristic: Characteristic, *, grid_error_k: float | None) -> Html:
    low, high = map(degrees, curve.range_c)
    itself = "table-itself" if isinstance(curve, TableCurve) else "law-itself"
    rows: list[tuple[str, Child]] = [
        (in_words("curve-page.holds"), words_around("curve-page.span", low=low, high=high)),
        (in_words("curve-page.obtained"), _law_words(curve)),
        (in_words("curve-page.tolerance"), tolerance_words(curve, characteristic)),
        (in_words(f"curve-page.{itself}"), _how_known_words(characteristic)),
    ]
    if isinstance(curve, BetaCurve) and curve.b_pair_c is not None:
        first, second = map(degrees, curve.b_pair_c)
        pair = words_around("curve-page.b-pair", first=first, second=second)
        rows.append((in_words("curve-page.b-between"), pair))
    if grid_error_k is not None:
        error = format_k(grid_error_k, digits=1)
        rows.append((in_words("curve-page.phone"), in_words("curve-page.phone-error", error=error)))
    return join([facts(rows), el("p", in_words("curve-page.never-stretched"))])


def _how_known_words(characteristic: Characteristic) -> Html:
    """Return how well the curve itself is known, worst and where."""
    known = how_known(characteristic)
    if known is None:
        return join(in_words("curve-page.as-published"))
    worst = _own_k(known.worst_k)
    if known.elsewhere_k is None:
        return join(in_words("curve-page.within", worst=worst))
    low, high = degrees(known.low_c), degrees(known.high_c)
    if known.elsewhere_k > ALIKE_SHARE * known.worst_k:
        return words_around("curve-page.within-most", worst=worst, low=low, high=high)
    elsewhere = _own_k(known.elsewhere_k)
    return words_around(
        "curve-page.within-worst", elsewhere=elsewhere, worst=worst, low=low, high=high
    )


def _own_k(half_k: float) -> str:
    return format_k(max(half_k, LEAST_SHOWN_K))


def limits_section(curve: Curve, loop: SwitchingPtc) -> Html:
    """Return what a loop that has limits and no curve should read, around its trip."""
    rows = []
    for over_k in (-20, -5, 5, 15):
        t_c = loop.trip_c + over_k
        least, most = loop.limits_ohm(t_c)
        which, limit = ("least", least) if least else ("most", most)
        shown = in_words(f"loop-limits.{which}", limit=format_ohm(limit))
        rows.append([degrees(t_c), f"{over_k:+d} K".replace("-", "−"), shown])
    return section(
        in_words("loop-limits.title", n=loop.in_series),
        el("p", in_words("loop-limits.what")),
        table(
            in_words("loop-limits.caption", curve=curve.name),
            [in_words(f"loop-limits.{head}") for head in ("at", "from", "loop")],
            rows,
        ),
        el("p", in_words("loop-limits.test-voltage", volts=format_plain(TEST_VOLTS_MAX))),
        id_=f"limits-of-{loop.in_series}-in-series",
    )
