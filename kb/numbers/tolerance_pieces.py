"""A tolerance that is another one in each part of the range: pieces, as makers print them."""

from __future__ import annotations

import itertools
from dataclasses import dataclass
from typing import ClassVar

import numpy as np

from .out_of_range import within
from .rounding import format_plain
from .tolerance import KelvinTolerance, NominalCurve, SpreadTolerance, Tolerance


@dataclass(frozen=True, kw_only=True)
class TolerancePiece:
    """One tolerance, from one temperature to another, both included."""

    from_c: float
    to_c: float
    tolerance: KelvinTolerance | SpreadTolerance

    def holds(self, t_c: np.ndarray) -> np.ndarray:
        """Return where the piece holds, shape of `t_c`."""
        return (self.from_c <= t_c) & (t_c <= self.to_c)


@dataclass(frozen=True, kw_only=True)
class TolerancePieces:
    """Pieces from cold to hot, each beginning where the one before ends.

    Notes
    -----
    Where two pieces meet both are promised, and the wider one holds: a temperature is known to
    some tenths of a kelvin only, and no sound part is condemned for the side of a line that it is
    on. Common practice, no source.
    """

    pieces: tuple[TolerancePiece, ...]

    known: ClassVar[bool] = True

    def __post_init__(self) -> None:
        if not self.pieces:
            raise ValueError("a tolerance in pieces has at least one")
        for piece in self.pieces:
            if not piece.from_c < piece.to_c:
                raise ValueError(f"a piece from {format_plain(piece.from_c)} °C must end above it")
        for before, piece in itertools.pairwise(self.pieces):
            if piece.from_c != before.to_c:
                raise ValueError(
                    f"a piece begins at {format_plain(piece.from_c)} °C, but the one before ends "
                    f"at {format_plain(before.to_c)} °C"
                )

    def over(self, *, low_c: float, high_c: float) -> TolerancePieces:
        """Return the pieces that hold between two temperatures: makers print wider ones."""
        return TolerancePieces(
            pieces=tuple(
                piece for piece in self.pieces if piece.from_c < high_c and low_c < piece.to_c
            )
        )

    def span_c(self) -> tuple[float, float]:
        """Return where the first begins and the last ends."""
        return self.pieces[0].from_c, self.pieces[-1].to_c

    def bounds_ohm(self, t_c: np.ndarray, *, curve: NominalCurve) -> tuple[np.ndarray, np.ndarray]:
        """Return (low, high) in Ω; OutOfRange where no piece holds."""
        inside_c = self._inside(t_c)
        low_ohm, high_ohm = np.full_like(inside_c, np.inf), np.zeros_like(inside_c)
        for piece in self.pieces:
            low, high = piece.tolerance.bounds_ohm(inside_c, curve=curve)
            holds = piece.holds(inside_c)
            low_ohm = np.where(holds, np.minimum(low_ohm, low), low_ohm)
            high_ohm = np.where(holds, np.maximum(high_ohm, high), high_ohm)
        return low_ohm, high_ohm

    def kelvin_k(self, t_c: np.ndarray) -> np.ndarray | None:
        """Return ± kelvin where every piece is given in kelvin, else None."""
        inside_c = self._inside(t_c)
        tol_k = np.zeros_like(inside_c)
        for piece in self.pieces:
            piece_k = piece.tolerance.kelvin_k(inside_c)
            if piece_k is None:
                return None
            tol_k = np.where(piece.holds(inside_c), np.maximum(tol_k, piece_k), tol_k)
        return tol_k

    def _inside(self, t_c: np.ndarray) -> np.ndarray:
        low_c, high_c = self.span_c()
        return within(t_c, low=low_c, high=high_c, unit="°C", what="the tolerance")


def spans_of(
    tolerance: Tolerance, *, low_c: float, high_c: float
) -> list[tuple[float, float, Tolerance]]:
    """Return (from_c, to_c, tolerance) of each stretch of a range in which the band has no jump."""
    if not isinstance(tolerance, TolerancePieces):
        return [(low_c, high_c, tolerance)]
    clipped = (
        (max(piece.from_c, low_c), min(piece.to_c, high_c), piece.tolerance)
        for piece in tolerance.pieces
    )
    return [(from_c, to_c, held) for from_c, to_c, held in clipped if from_c < to_c]
