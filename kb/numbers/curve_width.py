"""How far a curve made from printed rows may be off the part that it stands for."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from .between_rows import formula_between_k, table_between_k
from .law import Law, Quantity
from .out_of_range import as_given
from .point_table import PointTable
from .printed import PrintedPoint

_LOOKS = 9
"""Places in a piece where a law is held against the table of its rows, both ends among them."""


@dataclass(frozen=True, kw_only=True)
class TableWidth:
    """The width of a printed table: the rounding of its print, and what lies between its rows.

    Parameters
    ----------
    rows : tuple of PrintedPoint
        At least two, rising in temperature.
    """

    rows: tuple[PrintedPoint, ...]

    def half_k(self, t_c: Quantity) -> Quantity:
        """How far the table may be off at `t_c`, in ± K, any shape.

        Notes
        -----
        At a row: half of its last digit over the slope there, and the larger figure of the two
        pieces beside it (`table_between_k`), added whole, so that both are covered at their worst;
        straight between rows. One rectangle. Outside the rows nobody asks: a `Characteristic`
        refuses that before.

        Source: JCGM 100:2008, 4.3.7 and F.2.2.1 (a rounded figure is a rectangle of ± half of its
        last digit); for the pieces, published tables that were thinned.
        """
        return _straight(t_c, rows=self.rows, at_rows_k=self._at_rows_k)

    @cached_property
    def _at_rows_k(self) -> np.ndarray:
        points = tuple((row.t_c, row.r_ohm) for row in self.rows)
        per_k = PointTable(points=points).slope_ohm_per_k(np.array([row.t_c for row in self.rows]))
        return _rounding_k(self.rows, per_k=per_k) + _larger_beside(table_between_k(points))


@dataclass(frozen=True, kw_only=True)
class FittedWidth:
    """The width of a formula that was fitted to printed rows.

    Parameters
    ----------
    law : Law
    name : str
        Its word, as in `between_rows.PARAMETERS`: how many numbers it has to fit.
    rows : tuple of PrintedPoint
        At least two, rising in temperature. One that the law does not reach is held against the
        law's end.
    """

    law: Law
    name: str
    rows: tuple[PrintedPoint, ...]

    def half_k(self, t_c: Quantity) -> Quantity:
        """How far the law may be off at `t_c`, in ± K, any shape.

        Notes
        -----
        Its rows are a table, so the law may be off the part by what it is off that table, and the
        table off the part. At a row: the most it is off the table in the two pieces beside it, half
        of the row's last digit, and what lies between rows (`formula_between_k`). Added whole;
        straight between rows.

        Source: JCGM 100:2008, 4.3.7 and F.2.2.1 for the rounding; F.2.4.5 for what the law is
        known to be off and is not corrected for: it widens.
        """
        return _straight(t_c, rows=self.rows, at_rows_k=self._at_rows_k)

    @cached_property
    def _at_rows_k(self) -> np.ndarray:
        points = tuple((row.t_c, row.r_ohm) for row in self.rows)
        rows_c = np.array([row.t_c for row in self.rows])
        looks_c = np.linspace(rows_c[:-1], rows_c[1:], _LOOKS)
        table_ohm = PointTable(points=points).r_ohm(looks_c)
        reached_c = np.clip(looks_c, *self.law.domain_c)
        per_k = np.asarray(self.law.slope_ohm_per_k(reached_c))
        off_k = np.abs((self.law.r_ohm(reached_c) - table_ohm) / per_k).max(axis=0)
        between_k = formula_between_k(points, law=self.name)
        at_rows = np.append(per_k[0], per_k[-1, -1:])
        beside_k = _larger_beside(off_k) + _larger_beside(between_k)
        return _rounding_k(self.rows, per_k=at_rows) + beside_k


def _straight(t_c: Quantity, *, rows: Sequence[PrintedPoint], at_rows_k: np.ndarray) -> Quantity:
    rows_c = [row.t_c for row in rows]
    return as_given(np.interp(np.asarray(t_c, dtype=float), rows_c, at_rows_k), given=t_c)


def _rounding_k(rows: Sequence[PrintedPoint], *, per_k: np.ndarray) -> np.ndarray:
    """Return half of each last digit in K, by the slope in Ω/K at each row.

    A row of fewer ohms is printed no coarser than one of more: 10k below 17.6k is 10.0k, shortened.
    """
    half_ohm = np.array([row.half_ohm for row in rows])
    down = slice(None) if rows[-1].r_ohm < rows[0].r_ohm else slice(None, None, -1)
    printed_ohm = np.minimum.accumulate(half_ohm[down])[down]
    return np.asarray(printed_ohm / np.abs(per_k))


def _larger_beside(pieces_k: np.ndarray) -> np.ndarray:
    """Return for each of n rows the larger of the figures of the pieces beside it."""
    before_k, after_k = np.append(pieces_k[:1], pieces_k), np.append(pieces_k, pieces_k[-1:])
    return np.maximum(before_k, after_k)
