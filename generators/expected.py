"""What a sensor should read: short tables that need no JavaScript, and the form that does."""

from __future__ import annotations

from collections.abc import Iterable
from functools import lru_cache

from kb.model import Sensor
from kb.numbers.characteristic import Characteristic
from kb.numbers.ohm_digits import ohm_digits
from kb.numbers.rounding import NARROW, format_ohm
from kb.numbers.same import Same
from kb.words.catalogue import language
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
    rows = [_row(Same(curve), t_c, language()) for t_c in at_c]
    heads: list[Child] = [in_words("shared.at"), in_words("expected.expect")]
    if curve.tolerance_known:
        heads += [in_words("expected.within"), "±"]
    return table(caption, heads, rows, class_="ohm-figures")


@lru_cache(maxsize=4096)
def _row(of: Same[Characteristic], t_c: float, _language: str) -> tuple[Child, ...]:
    # A thousand sensors share a dozen curves, and their tables the same round temperatures.
    curve = of.it
    digits = ohm_digits(curve)
    row: tuple[Child, ...] = (
        degrees(t_c),
        el("strong", format_ohm(curve.r_ohm(t_c), digits=digits)),
    )
    if curve.tolerance_known:
        row += (_within(curve, t_c, digits=digits), kelvin(float(curve.tol_k(t_c))))
    return row


def _within(curve: Characteristic, t_c: float, *, digits: int) -> str:
    """Return the band, without its unit where that stands in the cell before it."""
    bounds = (curve.r_ohm(t_c), curve.low_ohm(t_c), curve.high_ohm(t_c))
    nominal, low, high = (format_ohm(ohm, digits=digits) for ohm in bounds)
    units = {shown.partition(NARROW)[2] for shown in (nominal, low, high)}
    if len(units) > 1:
        return ohm_span(bounds[1], high_ohm=bounds[2], digits=digits)
    return f"{low.partition(NARROW)[0]}–{high.partition(NARROW)[0]}"
