"""Which of the team's meters can judge a sensor: ± kelvin over its range, and where not at all."""

from __future__ import annotations

import numpy as np

from kb.instruments import meter_of
from kb.model import Curve, Instrument
from kb.numbers.characteristic import Characteristic
from kb.numbers.meter_reach import MeterReach, meter_reach
from kb.numbers.rounding import format_t

from .components import Titled, kelvin
from .html import Child, Html, el, join, section, table
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
    at_c = _range(curve, meets_c)
    reaches = [
        (meter, meter_reach(meter_of(meter), curve=curve, t_c=at_c, allow_k=allow_k or 0.0))
        for meter in context.catalog.meters()
    ]
    rows = [[context.link(meter), *_cells(reach)] for meter, reach in reaches]
    if not rows:
        return Html("")
    return titled(
        "Meters that can judge it",
        table("The team's meters on this curve", ["Meter", "Reads to ±", "Can judge"], rows),
        el(
            "p",
            "Judged against ",
            join(["the machine's ", kelvin(allow_k)]) if allow_k else "the part's own tolerance",
            ".",
            class_="ohm-hint",
        ),
        el(
            "p",
            "The meter's error alone, turned into kelvin. The thermometer and how it sits on "
            "the sensor come on top, and are mostly larger.",
            class_="ohm-hint",
        ),
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
        reach = meter_reach(meter_of(instrument), curve=curve, t_c=_range(curve, None))
        rows.append([context.link(curve_entry), *_cells(reach)])
    if not rows:
        return Html("")
    return section(
        "What it can judge",
        table(f"Curves read with {instrument.name}", ["Curve", "Reads to ±", "Can judge"], rows),
        el(
            "p",
            "Judged against the part's own tolerance. A machine that tolerates more is easier "
            "to judge: its sensors' pages say so.",
            class_="ohm-hint",
        ),
    )


def _range(curve: Characteristic, meets_c: tuple[float, float] | None) -> np.ndarray:
    low_c, high_c = meets_c or (curve.low_c, curve.high_c)
    return np.linspace(max(low_c, curve.low_c), min(high_c, curve.high_c), POINTS)


def _cells(reach: MeterReach) -> list[Child]:
    readable = reach.half_k[~reach.over_range]
    if not readable.size:
        return ["over range", "nowhere here"]
    best, worst = float(readable.min()), float(readable.max())
    reads: Child = kelvin(worst)
    if worst > 1.2 * best:
        reads = join([kelvin(best), " to ", kelvin(worst)])
    return [reads, _where(reach)]


def _where(reach: MeterReach) -> str:
    """Return the temperatures it can judge at, in as few words as they need."""
    can = reach.can_judge
    if can.all():
        return "everywhere here"
    why = []
    if reach.over_range.any():
        why.append("over range")
    if (reach.too_coarse & ~reach.over_range).any():
        why.append("too coarse")
    if not can.any():
        return f"nowhere here: {' or '.join(why)}"
    spans = [
        f"{format_t(reach.t_c[run[0]], decimals=0)} to {format_t(reach.t_c[run[-1]], decimals=0)}"
        for run in _runs(np.flatnonzero(can))
    ]
    return f"{' and '.join(spans)} only: elsewhere {' or '.join(why)}"


def _runs(at: np.ndarray) -> list[np.ndarray]:
    return np.split(at, np.flatnonzero(np.diff(at) > 1) + 1)
