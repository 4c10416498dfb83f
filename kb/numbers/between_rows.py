"""How far a curve may be off between the rows that it was made from: rows say nothing there."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from .point_table import PointTable

PARAMETERS = {"beta": 2, "steinhart-hart": 3, "polynomial": 4}
"""A formula of an NTC → how many rows it meets exactly."""

_PER_ROWS = {2: 1.5e-3, 3: 1.8e-5, 4: 4e-7}
"""Rows met → kelvin for each product of as many distances in kelvin to the nearest rows.

Source: what covers 19 of 20 choices of such rows, 15 K apart or more, from the published tables of
NTCs at −40 to 125 °C (`tests/kb/numbers/test_between_rows.py`).
"""
SPARE_ROWS = 2
"""With fewer rows than so many beyond what a formula meets exactly, they show nothing between them.

Source: the same tables; with one less the worst of a range is covered in 93 of 100 choices.
"""
_OF_CHORD = 0.2
_LOOKS = 9


def formula_between_k(points: Sequence[tuple[float, float]], *, law: str) -> np.ndarray:
    """Return what a formula may be off between each row and the next, beside what it is off there.

    Parameters
    ----------
    points : sequence of (t_c, r_ohm)
        The rows that it was fitted to, rising in temperature; at least two.
    law : str
        One of PARAMETERS; any other formula has nothing free, and is as good between its rows.

    Returns
    -------
    ndarray, shape (n − 1,)
        In ± K.

    Notes
    -----
    As a polynomial's error between its nodes: a constant times the product of the distances to as
    many of the nearest rows as the formula has parameters. Of SPARE_ROWS more rows than that the
    table of them says it too (`table_between_k`), and the less counts.
    """
    t_c, r_ohm = np.array(points, dtype=float).reshape(-1, 2).T
    needs = min(PARAMETERS.get(law, 0), len(t_c))
    if not needs:
        return np.zeros(len(t_c) - 1)
    remainders_k = _remainders_k(t_c, rows=needs)
    steps = np.diff(r_ohm)
    one_way = bool(np.all(steps < 0) or np.all(steps > 0))
    if len(t_c) < needs + SPARE_ROWS or not one_way:
        return remainders_k
    return np.minimum(remainders_k, table_between_k(points))


def table_between_k(points: Sequence[tuple[float, float]]) -> np.ndarray:
    """Return how far a table may be off between each row and the next, in ± K, shape (n − 1,).

    Parameters
    ----------
    points : sequence of (t_c, r_ohm)
        Rising in temperature, resistance strictly falling or strictly rising.

    Notes
    -----
    A row that is left out is found again from its neighbours with some error: in a piece counts the
    largest such error of the two rows that bound it and of their two neighbours, plus a fifth of
    what straight lines would be off there. That covers 19 of 20 pieces of published tables that
    were thinned. Two rows of an NTC have the error of one B value between them; two rows of another
    curve tell nothing, and give infinity.
    """
    count = len(points)
    t_c = np.array([row_c for row_c, _ in points])
    if count < 3:
        falling = points[-1][1] < points[0][1]
        return _remainders_k(t_c, rows=2) if falling else np.array([np.inf])
    found_k = np.zeros(count)
    for i in range(1, count - 1):
        near = range(max(0, i - 4), min(count, i + 5))
        others = PointTable(points=tuple(points[j] for j in near if j != i))
        found_k[i] = abs(others.t_c(points[i][1]) - t_c[i])
    whole = PointTable(points=tuple(points))
    between_k = np.zeros(count - 1)
    for i in range(count - 1):
        chord = PointTable(points=tuple(points[i : i + 2]))
        inside_c = np.linspace(t_c[i], t_c[i + 1], _LOOKS)
        bent_k = np.abs(chord.t_c(np.asarray(whole.r_ohm(inside_c))) - inside_c)
        between_k[i] = found_k[max(0, i - 1) : i + 3].max() + _OF_CHORD * bent_k.max()
    return between_k


def _remainders_k(t_c: np.ndarray, *, rows: int) -> np.ndarray:
    """Return the most in each piece of the constant times the product of nearest distances."""
    looks_c = np.linspace(t_c[:-1], t_c[1:], _LOOKS)
    away_k = np.sort(np.abs(looks_c[..., None] - t_c), axis=-1)[..., :rows]
    return np.asarray((_PER_ROWS[rows] * away_k.prod(axis=-1)).max(axis=0))
