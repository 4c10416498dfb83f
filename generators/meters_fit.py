"""Which of the team's meters can judge a sensor: ± kelvin over its range, and where not at all."""

from __future__ import annotations

from functools import lru_cache

import numpy as np

from kb.instruments import meter_of
from kb.model import Curve, Instrument
from kb.numbers.characteristic import Characteristic
from kb.numbers.meter_reach import MeterReach, meter_reach
from kb.numbers.rounding import format_t
from kb.numbers.same import Same
from kb.words.phrase import in_words

from .components import Titled, kelvin
from .html import Child, Html, el, join, section, table
from .in_words import words_around
from .site_context import SiteContext

POINTS = 60


def meters_section(
    context: SiteContext,
    curve_id: str | None,
    *,
    meets_c: tuple[float, float] | None = None,
    allow_k: float | None = None,
    titled: Titled = section,
) -> Html:
    """Return how well each meter reads a curve, over the temperatures that matter."""
    curve = context.catalog.characteristic(curve_id) if curve_id else None
    if curve is None:
        return Html("")
    reaches = [
        (meter, _reach(Same(meter), Same(curve), meets_c, allow_k or 0.0))
        for meter in context.catalog.meters()
    ]
    rows = [[context.link(meter), *_cells(reach)] for meter, reach in reaches]
    if not rows:
        return Html("")
    against = join(in_words("meters-fit.against-part"))
    if allow_k:
        against = words_around("meters-fit.against-machine", allow=kelvin(allow_k))
    return titled(
        in_words("meters-fit.title"),
        table(in_words("meters-fit.caption"), _heads("meter"), rows),
        el("p", against, class_="ohm-hint"),
        el("p", in_words("meters-fit.meter-alone"), class_="ohm-hint"),
        id_="meters-that-can-judge-it",
    )


def curves_section(context: SiteContext, instrument: Instrument) -> Html:
    """Return how well one meter reads each curve of the notes."""
    if not instrument.resistance:
        return Html("")
    rows = []
    for curve_entry in context.notes.of(Curve).values():
        curve = context.catalog.characteristic(curve_entry.id)
        if curve is None:
            continue
        reach = _reach(Same(instrument), Same(curve), None, 0.0)
        rows.append([context.link(curve_entry), *_cells(reach)])
    if not rows:
        return Html("")
    return section(
        in_words("meters-fit.of-meter-title"),
        table(
            in_words("meters-fit.of-meter-caption", meter=instrument.name),
            _heads("of-meter-curve"),
            rows,
        ),
        el("p", in_words("meters-fit.of-meter-against"), class_="ohm-hint"),
        id_="what-it-can-judge",
    )


def _heads(first: str) -> list[str]:
    return [in_words(f"meters-fit.{head}") for head in (first, "reads", "can-judge")]


@lru_cache(maxsize=1024)
def _reach(
    meter: Same[Instrument],
    curve: Same[Characteristic],
    meets_c: tuple[float, float] | None,
    allow_k: float,
) -> MeterReach:
    # A thousand sensors share a dozen curves, and the temperatures that they meet.
    at_c = _range(curve.it, meets_c)
    return meter_reach(meter_of(meter.it), curve=curve.it, t_c=at_c, allow_k=allow_k)


def _range(curve: Characteristic, meets_c: tuple[float, float] | None) -> np.ndarray:
    low_c, high_c = meets_c or (curve.low_c, curve.high_c)
    return np.linspace(max(low_c, curve.low_c), min(high_c, curve.high_c), POINTS)


def _cells(reach: MeterReach) -> list[Child]:
    readable = reach.half_k[~reach.over_range]
    if not readable.size:
        return [in_words("meters-fit.over-range"), in_words("meters-fit.nowhere")]
    best, worst = float(readable.min()), float(readable.max())
    reads: Child = kelvin(worst)
    if worst > 1.2 * best:
        reads = words_around("meters-fit.span", best=kelvin(best), worst=kelvin(worst))
    return [reads, _where(reach)]


def _where(reach: MeterReach) -> str:
    """Return the temperatures it can judge at, in as few words as they need."""
    can = reach.can_judge
    if can.all():
        return in_words("meters-fit.everywhere")
    over, coarse = reach.over_range.any(), (reach.too_coarse & ~reach.over_range).any()
    why = "both" if over and coarse else "over-range" if over else "too-coarse"
    if not can.any():
        return in_words(f"meters-fit.nowhere-{why}")
    ends = [reach.t_c[[run[0], run[-1]]] for run in _runs(np.flatnonzero(can))]
    spans = [
        in_words(
            "meters-fit.span",
            best=format_t(first_c, decimals=0),
            worst=format_t(last_c, decimals=0),
        )
        for first_c, last_c in ends
    ]
    return in_words(
        f"meters-fit.only-{why}", spans=in_words("meters-fit.between-spans").join(spans)
    )


def _runs(at: np.ndarray) -> list[np.ndarray]:
    return np.split(at, np.flatnonzero(np.diff(at) > 1) + 1)
