"""What a sensor should read: short tables that need no JavaScript, and the form that does."""

from __future__ import annotations

from collections.abc import Iterable
from functools import lru_cache

import numpy as np

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
    return [*expected_words(curve, wanted_c)]


def expected_words(curve: Characteristic | None, wanted_c: Iterable[float]) -> list[str]:
    """Return what a curve says at each temperature, or a dash where it has no answer."""
    at_c = list(wanted_c)
    if curve is None:
        return ["–"] * len(at_c)
    inside_c = [t_c for t_c in at_c if curve.low_c <= t_c <= curve.high_c]
    read_ohm = dict(zip(inside_c, curve.r_ohm(np.array(inside_c, dtype=float)), strict=True))
    digits = ohm_digits(curve)
    return [format_ohm(read_ohm[t_c], digits=digits) if t_c in read_ohm else "–" for t_c in at_c]


def round_temperatures(low_c: float, *, high_c: float, step_c: float = 5.0) -> list[float]:
    """Return the multiples of `step_c` from `low_c` to `high_c`, both included when they fit."""
    first = -(-low_c // step_c) * step_c
    count = int((high_c - first) // step_c) + 1
    return [first + i * step_c for i in range(max(count, 0))]


def expected_table(curve: Characteristic, *, at_c: Iterable[float], caption: str) -> Html:
    """Return rows of temperature, resistance, lowest, highest, ± kelvin."""
    rows = _rows(Same(curve), tuple(at_c), language())
    heads: list[Child] = [in_words("shared.at"), in_words("expected.expect")]
    if curve.tolerance_known:
        heads += [in_words("expected.within"), "±"]
    return table(caption, heads, rows, class_="ohm-figures")


@lru_cache(maxsize=1024)
def _rows(of: Same[Characteristic], at_c: tuple[float, ...], _language: str) -> list[list[Child]]:
    # A thousand sensors share a dozen curves, and the temperatures that they meet.
    curve, places_c = of.it, np.array(at_c, dtype=float)
    digits = ohm_digits(curve)
    read_ohm = curve.r_ohm(places_c)
    rows: list[list[Child]] = [
        [degrees(t_c), el("strong", format_ohm(r_ohm, digits=digits))]
        for t_c, r_ohm in zip(at_c, read_ohm, strict=True)
    ]
    if curve.tolerance_known:
        bands = zip(read_ohm, curve.low_ohm(places_c), curve.high_ohm(places_c), strict=True)
        for row, band, tol_k in zip(rows, bands, curve.tol_k(places_c), strict=True):
            row += [_within(*band, digits=digits), kelvin(float(tol_k))]
    return rows


def _within(nominal_ohm: float, low_ohm: float, high_ohm: float, *, digits: int) -> str:
    """Return the band, without its unit where that stands in the cell before it."""
    bounds = (nominal_ohm, low_ohm, high_ohm)
    nominal, low, high = (format_ohm(ohm, digits=digits) for ohm in bounds)
    units = {shown.partition(NARROW)[2] for shown in (nominal, low, high)}
    if len(units) > 1:
        return ohm_span(low_ohm, high_ohm=high_ohm, digits=digits)
    return f"{low.partition(NARROW)[0]}–{high.partition(NARROW)[0]}"
