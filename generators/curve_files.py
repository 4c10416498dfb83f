"""What is made of a curve: its grid for the phone, what its chart shows, and the name of that."""

from __future__ import annotations

from functools import partial
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from kb.model import Curve
from kb.numbers.grid import compile_grid
from kb.numbers.rounding import format_plain, significant
from kb.words.phrase import in_words

from .browser_data import CurveScript, curve_script_text
from .chart import ChartData
from .chart_cache import chart_name
from .own_band import chart_places_c, own_band
from .site_context import SiteContext


def curve_scripts(context: SiteContext) -> dict[str, CurveScript]:
    """Return every curve that computes, compiled for the browser with its proved error."""
    found = {}
    for curve_id in context.notes.of(Curve):
        made = context.worked.of_entry(
            "grid", f"{Curve.kind}/{curve_id}", make=partial(_compiled, context, curve_id=curve_id)
        )
        if made is not None:
            found[curve_id] = CurveScript(*made)
    return found


def _compiled(context: SiteContext, *, curve_id: str) -> list[Any] | None:
    """Return a curve's script and its worst error in K; None for one that does not compute."""
    characteristic = context.catalog.characteristic(curve_id)
    if characteristic is None:
        return None
    grid = compile_grid(characteristic)
    return [curve_script_text(curve_id, grid), float(grid.worst_error_k)]


def chart_names(context: SiteContext) -> dict[str, str]:
    """Return the file name of each curve's chart, by curve id."""
    names = {
        curve_id: context.worked.of_entry(
            "chart", f"{Curve.kind}/{curve_id}", make=partial(_chart_name, context, curve_id)
        )
        for curve_id in context.notes.of(Curve)
    }
    return {curve_id: name for curve_id, name in names.items() if name}


def _chart_name(context: SiteContext, curve_id: str) -> str:
    if context.catalog.characteristic(curve_id) is None:
        return ""
    return chart_name(chart_data(context, curve_id))


def chart_data(context: SiteContext, curve_id: str) -> ChartData:
    """Return what the chart of a curve that computes shows."""
    curve = context.catalog.get(Curve, curve_id)
    characteristic = context.catalog.computing_curves[curve_id]
    t_c = chart_places_c(characteristic)
    known = characteristic.tolerance_known
    r_ohm = characteristic.r_ohm(t_c)
    own = own_band(characteristic, t_c=t_c)
    return ChartData(
        curve_id=curve.id,
        words=in_words(
            "chart.words",
            curve=curve.name,
            low=format_plain(characteristic.low_c),
            high=format_plain(characteristic.high_c),
        ),
        axis=in_words("chart.axis"),
        falling=bool(characteristic.falling),
        t_c=_plain(t_c),
        r_ohm=_plain(r_ohm),
        low_ohm=_plain(characteristic.low_ohm(t_c)) if known else (),
        high_ohm=_plain(characteristic.high_ohm(t_c)) if known else (),
        tol_k=_plain(characteristic.tol_k(t_c)) if known else (),
        own_k=_plain(own.own_k) if own else (),
        own_low_ohm=_plain(own.low_ohm) if own else (),
        own_high_ohm=_plain(own.high_ohm) if own else (),
    )


def _plain(values: ArrayLike) -> tuple[float, ...]:
    return tuple(significant(float(value), digits=9) for value in np.asarray(values))
