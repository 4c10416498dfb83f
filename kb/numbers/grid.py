"""A curve compiled for the phone: a fine grid, straight between its points, with a proven error."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cached_property
from typing import TYPE_CHECKING

import numpy as np

from .characteristic import Characteristic
from .law import Quantity
from .out_of_range import as_given, within
from .rounding import format_plain, significant, whole_parts
from .same import once_each
from .tolerance_pieces import spans_of

if TYPE_CHECKING:
    from numpy.typing import ArrayLike

STEPS_K = (5.0, 2.0, 1.0, 0.5, 0.25, 0.125, 0.0625)
"""Steps tried, coarse to fine; all exact in binary, so nodes fall on round temperatures."""

MAX_ERROR_K = 0.002
_PROOF_PARTS = 16
_LN_PARTS = 1_000_000
_TOL_PARTS = 10_000
_WIDTH_SPARE = 0.05
"""A width bends at every row, wherever that stands, and no more hangs on it than so."""


@dataclass(frozen=True, kw_only=True, eq=False)
class Band:
    """How far a good part may be off over a stretch of a grid, straight between its own nodes.

    Parameters
    ----------
    nodes_c : ndarray, shape (m,)
        From the first at equal steps of the grid's; the last step may be short.
    below, above : ndarray, shape (m,)
        ln of nominal over lowest, and of highest over nominal resistance, in whole millionths.
    tol_k : ndarray, shape (m,)
        ± kelvin in whole ten-thousandths.
    """

    nodes_c: np.ndarray
    below: np.ndarray
    above: np.ndarray
    tol_k: np.ndarray

    def as_dict(self) -> dict[str, object]:
        """Return its nodes by how they bend, as the grid's are."""
        return {
            "below_e6": bends(whole_parts(self.below, parts=_LN_PARTS)),
            "above_e6": bends(whole_parts(self.above, parts=_LN_PARTS)),
            "tol_k_e4": bends(whole_parts(self.tol_k, parts=_TOL_PARTS)),
        }


@dataclass(frozen=True, kw_only=True, eq=False)
class Grid:
    """ln R against temperature at equal steps, and the band beside it; straight between nodes.

    Parameters
    ----------
    t0_c, step_k, high_c : float
        Node i stands at t0_c + i step_k; the last at high_c, however short its step.
    ln_ohm : ndarray, shape (n,)
        ln of the nominal resistance in Ω, in whole millionths, so that what is written out as
        JSON is what was proven.
    law_k_nodes : ndarray, shape (n,)
        How far the curve itself may be off the part, in ± K in whole ten-thousandths.
    bands : tuple of Band
        One for each piece of the tolerance, each beginning where the one before ends; none where
        nobody knows it. Where two meet the wider holds.
    worst_error_k : float
        Largest difference in kelvin from the exact curve, over sixteen parts of every step:
        of the nominal, both bounds and tol_k, and of law_k beyond a twentieth of itself.
    id : str

    Notes
    -----
    Nodes at equal steps and linear interpolation are what a phone does fastest, and both sides
    then agree to the last digits. It answers like a Characteristic.
    """

    t0_c: float
    step_k: float
    high_c: float
    ln_ohm: np.ndarray
    law_k_nodes: np.ndarray
    bands: tuple[Band, ...] = ()
    worst_error_k: float = 0.0
    id: str = ""

    @property
    def tolerance_known(self) -> bool:
        """False where nobody knows the part's tolerance."""
        return bool(self.bands)

    @property
    def low_c(self) -> float:
        """Lower end of the range in °C."""
        return self.t0_c

    @property
    def falling(self) -> bool:
        """True where resistance falls as temperature rises."""
        return bool(self.ln_ohm[-1] < self.ln_ohm[0])

    @cached_property
    def nodes_c(self) -> np.ndarray:
        """Temperatures of the nodes in °C, shape (n,)."""
        return _nodes_c(self.t0_c, high_c=self.high_c, step_k=self.step_k)

    @cached_property
    def range_ohm(self) -> tuple[float, float]:
        """Smallest and largest nominal resistance over the range."""
        ends = sorted(np.exp(self.ln_ohm[[0, -1]]))
        return float(ends[0]), float(ends[1])

    def r_ohm(self, t_c: Quantity) -> Quantity:
        """Nominal resistance in Ω at `t_c`, any shape; OutOfRange outside the range."""
        return as_given(np.exp(self._at(t_c, nodes=self.ln_ohm)), given=t_c)

    def low_ohm(self, t_c: Quantity) -> Quantity:
        """Lowest resistance in Ω of a good part at `t_c`."""
        ln_low = self._at(t_c, nodes=self.ln_ohm) - self._widest(t_c, column="below")
        return as_given(np.exp(ln_low), given=t_c)

    def high_ohm(self, t_c: Quantity) -> Quantity:
        """Highest resistance in Ω of a good part at `t_c`."""
        ln_high = self._at(t_c, nodes=self.ln_ohm) + self._widest(t_c, column="above")
        return as_given(np.exp(ln_high), given=t_c)

    def tol_k(self, t_c: Quantity) -> Quantity:
        """Part tolerance in ± kelvin at `t_c`; zero where it is not known."""
        return as_given(self._widest(t_c, column="tol_k"), given=t_c)

    def law_k(self, t_c: Quantity) -> Quantity:
        """How far the curve itself may be off the part at `t_c`, in ± K."""
        return as_given(self._at(t_c, nodes=self.law_k_nodes), given=t_c)

    def t_c(self, r_ohm: Quantity) -> Quantity:
        """Temperature in °C at which the grid reads `r_ohm`; OutOfRange outside its ohms."""
        low_ohm, high_ohm = self.range_ohm
        inside_ohm = within(r_ohm, low=low_ohm, high=high_ohm, unit="Ω", what=self._what)
        turn = -1 if self.falling else 1
        found_c = np.interp(np.log(inside_ohm), self.ln_ohm[::turn], self.nodes_c[::turn])
        return as_given(found_c, given=r_ohm)

    def slope_ohm_per_k(self, t_c: Quantity) -> Quantity:
        """dR/dT in Ω/K at `t_c`: R times the slope of the straight piece to its right."""
        inside_c = self._inside(t_c)
        i = np.clip(((inside_c - self.t0_c) / self.step_k).astype(int), 0, len(self.ln_ohm) - 2)
        rate_per_k = np.diff(self.ln_ohm)[i] / np.diff(self.nodes_c)[i]
        return as_given(np.exp(self._at(t_c, nodes=self.ln_ohm)) * rate_per_k, given=t_c)

    def beyond_ohm(self, t_c: ArrayLike) -> np.ndarray:
        """Resistance in Ω, past an end along the end's straight piece: for bands only."""
        asked_c = np.asarray(t_c, dtype=float)
        inside_c = np.clip(asked_c, self.t0_c, self.high_c)
        end_rate = np.where(asked_c < inside_c, self._end_rates[0], self._end_rates[1])
        ln_r = np.interp(inside_c, self.nodes_c, self.ln_ohm)
        return np.exp(ln_r + (asked_c - inside_c) * end_rate)

    def beyond_c(self, r_ohm: ArrayLike) -> np.ndarray:
        """Temperature in °C, past an end along the end's straight piece: for bands only."""
        ln_r = np.log(np.asarray(r_ohm, dtype=float))
        turn = -1 if self.falling else 1
        inside = np.clip(ln_r, self.ln_ohm.min(), self.ln_ohm.max())
        t_c = np.interp(inside, self.ln_ohm[::turn], self.nodes_c[::turn])
        cold = (ln_r > inside) if self.falling else (ln_r < inside)
        return t_c + (ln_r - inside) / np.where(cold, self._end_rates[0], self._end_rates[1])

    @cached_property
    def _end_rates(self) -> tuple[float, float]:
        """d ln R/dT of the first and the last piece, per K."""
        rate_per_k = np.diff(self.ln_ohm) / np.diff(self.nodes_c)
        return float(rate_per_k[0]), float(rate_per_k[-1])

    def as_dict(self) -> dict[str, object]:
        """Return what the browser needs, in JSON's own types; no band where none is known.

        Nodes go as whole numbers, and these by how they bend: a smooth curve then takes a digit
        or two for each, and an old phone a tenth of the bytes. The band stands beside the nominal.
        """
        fields: dict[str, object] = {
            "t0_c": self.t0_c,
            "high_c": self.high_c,
            "step_k": self.step_k,
            "ln_e6": bends(whole_parts(self.ln_ohm, parts=_LN_PARTS)),
            "worst_error_k": significant(self.worst_error_k, digits=2),
        }
        if len(self.bands) == 1:
            fields |= self.bands[0].as_dict()
        elif self.bands:
            fields["bands"] = [
                {"from_c": float(band.nodes_c[0]), **band.as_dict()} for band in self.bands
            ]
        if np.any(self.law_k_nodes):
            fields["law_k_e4"] = bends(whole_parts(self.law_k_nodes, parts=_TOL_PARTS))
        return fields

    def _at(self, t_c: ArrayLike, *, nodes: np.ndarray) -> np.ndarray:
        return np.interp(self._inside(t_c), self.nodes_c, nodes)

    def _widest(self, t_c: ArrayLike, *, column: str) -> np.ndarray:
        """Return the widest of the bands that hold at `t_c`; zero without one."""
        inside_c = self._inside(t_c)
        widest = np.zeros_like(inside_c)
        for band in self.bands:
            holds = (band.nodes_c[0] <= inside_c) & (inside_c <= band.nodes_c[-1])
            wide = np.interp(inside_c, band.nodes_c, getattr(band, column))
            widest = np.where(holds, np.maximum(widest, wide), widest)
        return widest

    def _inside(self, t_c: ArrayLike) -> np.ndarray:
        return within(t_c, low=self.t0_c, high=self.high_c, unit="°C", what=self._what)

    @property
    def _what(self) -> str:
        return f"curve {self.id}" if self.id else "this curve"


def compile_grid(characteristic: Characteristic, *, max_error_k: float = MAX_ERROR_K) -> Grid:
    """Return the coarsest grid of STEPS_K that stays within `max_error_k` of the curve.

    Raises
    ------
    ValueError
        If even the finest step does not: the table has a kink no real sensor has.
    """
    grids = _grids(characteristic)
    for step_k in STEPS_K:
        if step_k not in grids:
            grids[step_k] = _compiled(characteristic, step_k=step_k)
        grid = grids[step_k]
        if grid.worst_error_k <= max_error_k:
            return grid
    raise ValueError(
        f"curve {characteristic.id or '(unnamed)'} is off by "
        f"{format_plain(grid.worst_error_k, digits=3)} K even at "
        f"steps of {format_plain(step_k)} K, more than {format_plain(max_error_k)} K; look for a "
        "kink or a misprint in it"
    )


def _none_yet(_curve: Characteristic) -> dict[float, Grid]:
    return {}


_grids = once_each(_none_yet, most=512)
"""What was compiled of each curve so far, by step: check and build ask the same."""


def bends(numbers: np.ndarray) -> list[int]:
    """Return the first of whole numbers, the step to the second, and how much each step grows."""
    steps = np.diff(numbers)
    return [int(numbers[0]), *steps[:1].tolist(), *np.diff(steps).tolist()]


def _in_parts(nodes: ArrayLike, *, parts: int) -> np.ndarray:
    return whole_parts(nodes, parts=parts) / parts


def _ends_outwards(ln_ohm: np.ndarray) -> np.ndarray:
    """Return nodes in whole parts, ends outwards: a curve's own first and last ohms are on it."""
    ln = _in_parts(ln_ohm, parts=_LN_PARTS)
    low, high = (0, -1) if ln_ohm[0] < ln_ohm[-1] else (-1, 0)
    ln[low] = np.floor(ln_ohm[low] * _LN_PARTS) / _LN_PARTS
    ln[high] = np.ceil(ln_ohm[high] * _LN_PARTS) / _LN_PARTS
    return ln


def _compiled(curve: Characteristic, *, step_k: float) -> Grid:
    nodes_c = _nodes_c(curve.low_c, high_c=curve.high_c, step_k=step_k)
    grid = Grid(
        t0_c=float(curve.low_c),
        step_k=step_k,
        high_c=float(curve.high_c),
        ln_ohm=_ends_outwards(np.log(curve.r_ohm(nodes_c))),
        law_k_nodes=_in_parts(curve.law_k(nodes_c), parts=_TOL_PARTS),
        id=curve.id,
    )
    if curve.tolerance_known:
        grid = replace(grid, bands=tuple(_bands(curve, grid=grid)))
    return replace(grid, worst_error_k=_worst_k(curve, grid=grid))


def _bands(curve: Characteristic, *, grid: Grid) -> Iterator[Band]:
    """Yield the band of each piece of the tolerance, each compiled as if it held everywhere."""
    for from_c, to_c, tolerance in spans_of(
        curve.tolerance, low_c=curve.low_c, high_c=curve.high_c
    ):
        piece = replace(curve, tolerance=tolerance)
        nodes_c = _nodes_c(from_c, high_c=to_c, step_k=grid.step_k)
        ln = np.log(np.asarray(grid.r_ohm(nodes_c)))
        # Rounded apart, a bound could come to lie on the wrong side.
        below = np.maximum(0.0, ln - np.log(np.asarray(piece.low_ohm(nodes_c))))
        above = np.maximum(0.0, np.log(np.asarray(piece.high_ohm(nodes_c))) - ln)
        yield Band(
            nodes_c=nodes_c,
            below=_in_parts(below, parts=_LN_PARTS),
            above=_in_parts(above, parts=_LN_PARTS),
            tol_k=_in_parts(piece.tol_k(nodes_c), parts=_TOL_PARTS),
        )


def _worst_k(curve: Characteristic, *, grid: Grid) -> float:
    """Return the largest error in kelvin between the nodes, looked for at sixteenths of a step."""
    dense_c = np.unique(
        np.concatenate([_dense_c(each) for each in (grid.nodes_c, *_own_nodes_c(grid))])
    )
    r_ohm = np.asarray(curve.r_ohm(dense_c))
    rate_per_k = np.abs(np.asarray(curve.slope_ohm_per_k(dense_c))) / r_ohm
    worst = 0.0
    for exact, compiled in (
        (curve.r_ohm, grid.r_ohm),
        (curve.low_ohm, grid.low_ohm),
        (curve.high_ohm, grid.high_ohm),
    ):
        off = np.abs(np.log(np.asarray(compiled(dense_c)) / np.asarray(exact(dense_c))))
        worst = max(worst, float(np.max(off / rate_per_k)))
    for in_k, compiled_k, spare in (
        (curve.tol_k, grid.tol_k, 0.0),
        (curve.law_k, grid.law_k, _WIDTH_SPARE),
    ):
        exact_k = np.asarray(in_k(dense_c))
        off_k = np.abs(np.asarray(compiled_k(dense_c)) - exact_k) - spare * exact_k
        worst = max(worst, float(np.max(off_k)))
    return worst


def _own_nodes_c(grid: Grid) -> list[np.ndarray]:
    """Return the nodes of bands that do not share the grid's."""
    return [band.nodes_c for band in grid.bands] if len(grid.bands) > 1 else []


def _dense_c(nodes_c: np.ndarray) -> np.ndarray:
    parts = np.arange(_PROOF_PARTS)[None, :] / _PROOF_PARTS
    between = nodes_c[:-1, None] + np.diff(nodes_c)[:, None] * parts
    return np.append(between.ravel(), nodes_c[-1])


def _nodes_c(low_c: float, *, high_c: float, step_k: float) -> np.ndarray:
    whole = int(np.ceil((high_c - low_c) / step_k - 1e-9))
    nodes_c = low_c + step_k * np.arange(whole + 1)
    nodes_c[-1] = high_c
    return nodes_c
