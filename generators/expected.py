"""What a sensor should read: short tables that need no JavaScript, and the form that does."""

from __future__ import annotations

from collections.abc import Iterable

from kb.model import Sensor
from kb.numbers.characteristic import Characteristic
from kb.numbers.ohm_digits import ohm_digits
from kb.numbers.rounding import NARROW, format_ohm
from kb.words.phrase import in_words, ohm_span

from .components import degrees, kelvin
from .html import Child, Html, el, table
from .site_context import SiteContext


def expected_cells(context: SiteContext, sensor: Sensor, wanted_c: Iterable[float]) -> list[Child]:
    """Return what a sensor should read at each temperature, or a dash where it has no answer."""
    curve = context.catalog.characteristic_of_sensor(sensor)
    cells: list[Child] = []
    for t_c in wanted_c:
        if curve is None or not curve.low_c <= t_c <= curve.high_c:
            cells.append("–")
        else:
            cells.append(format_ohm(curve.r_ohm(t_c), digits=ohm_digits(curve)))
    return cells


def round_temperatures(low_c: float, *, high_c: float, step_c: float = 5.0) -> list[float]:
    """Return the multiples of `step_c` from `low_c` to `high_c`, both included when they fit."""
    first = -(-low_c // step_c) * step_c
    count = int((high_c - first) // step_c) + 1
    return [first + i * step_c for i in range(max(count, 0))]


def expected_table(curve: Characteristic, *, at_c: Iterable[float], caption: str) -> Html:
    """Return rows of temperature, resistance, lowest, highest, ± kelvin."""
    rows = []
    for t_c in at_c:
        row: list[Child] = [
            degrees(t_c),
            el("strong", format_ohm(curve.r_ohm(t_c), digits=ohm_digits(curve))),
        ]
        if curve.tolerance_known:
            row += [_within(curve, t_c), kelvin(float(curve.tol_k(t_c)))]
        rows.append(row)
    heads: list[Child] = [in_words("shared.at"), in_words("expected.expect")]
    if curve.tolerance_known:
        heads += [in_words("expected.within"), "±"]
    return table(caption, heads, rows)


def _within(curve: Characteristic, t_c: float) -> str:
    """Return the band, without its unit where that stands in the cell before it."""
    nominal, low, high = (
        format_ohm(r_ohm(t_c), digits=ohm_digits(curve))
        for r_ohm in (curve.r_ohm, curve.low_ohm, curve.high_ohm)
    )
    units = {shown.partition(NARROW)[2] for shown in (nominal, low, high)}
    if len(units) > 1:
        return ohm_span(curve.low_ohm(t_c), high_ohm=curve.high_ohm(t_c), digits=ohm_digits(curve))
    return f"{low.partition(NARROW)[0]}–{high.partition(NARROW)[0]}"
