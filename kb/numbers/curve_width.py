"""How far a curve made from printed rows may be off the part that it stands for."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from .between_rows import formula_pieces_k, table_between_k
from .law import Law, Quantity
from .out_of_range import as_given
from .point_table import PointTable
from .printed import PrintedPoint


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
        At a row: how far the law is off it, half of its last digit, and the larger of what lies
        between it and its neighbours (`formula_pieces_k`), added whole; straight between rows.

        Source: JCGM 100:2008, 4.3.7 and F.2.2.1 for the rounding; F.2.4.5 for what the law is
        known to be off and is not corrected for: it widens.
        """
        return _straight(t_c, rows=self.rows, at_rows_k=self._at_rows_k)

    @cached_property
    def _at_rows_k(self) -> np.ndarray:
        rows_c, r_ohm = np.array([[row.t_c, row.r_ohm] for row in self.rows]).T
        reached_c = np.clip(rows_c, *self.law.domain_c)
        per_k = self.law.slope_ohm_per_k(reached_c)
        off_k = np.abs((self.law.r_ohm(reached_c) - r_ohm) / per_k)
        between_k = formula_pieces_k(rows_c, law=self.name)
        return off_k + _rounding_k(self.rows, per_k=per_k) + _larger_beside(between_k)


def _straight(t_c: Quantity, *, rows: Sequence[PrintedPoint], at_rows_k: np.ndarray) -> Quantity:
    rows_c = [row.t_c for row in rows]
    return as_given(np.interp(np.asarray(t_c, dtype=float), rows_c, at_rows_k), given=t_c)


def _rounding_k(rows: Sequence[PrintedPoint], *, per_k: np.ndarray) -> np.ndarray:
    """Return half of each last digit in K, by the slope in Ω/K at each row."""
    return np.array([row.half_ohm for row in rows]) / np.abs(per_k)


def _larger_beside(pieces_k: np.ndarray) -> np.ndarray:
    """Return for each of n rows the larger of the figures of the pieces beside it."""
    before_k, after_k = np.append(pieces_k[:1], pieces_k), np.append(pieces_k, pieces_k[-1:])
    return np.maximum(before_k, after_k)
