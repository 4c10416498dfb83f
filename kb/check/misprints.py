"""Rows of a printed table that cannot be right beside their neighbours."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from kb.model import Curve
from kb.model.curve import TableCurve
from kb.notes.load import Notes
from kb.notes.problem import Problem
from kb.notes.yaml_text import Path as YamlPath
from kb.numbers.misprint import Misprint, misprints
from kb.numbers.printed import PrintedPoint, printed_points
from kb.numbers.rounding import format_k, format_plain, format_t

COLUMNS = {1: ("",), 3: ("the low ", "", "the high ")}
"""Values in a row → what each is called; the nominal needs no name."""

ENOUGH_ROWS = 8
"""In a shorter table several rows explain one bend, unless a single digit does."""


def tables_look_as_printed(curve: Curve, *, notes: Notes) -> Iterator[Problem]:
    """Warn of each value that one misread or misprinted digit would explain."""
    if isinstance(curve, TableCurve):
        yield from _odd_rows(notes, curve, field="points", at_c=[r.t_c for r in curve.points])
    elif curve.fitted_to:
        at_c = [row.t_c for row in curve.fitted_to]
        yield from _odd_rows(notes, curve, field="fitted_to", at_c=at_c)


def _odd_rows(
    notes: Notes, curve: Curve, *, field: str, at_c: Sequence[float]
) -> Iterator[Problem]:
    written = notes.texts[("curves", curve.id)].at((field,))
    if not isinstance(written, dict):
        return
    rows = [row if isinstance(row, list) else [row] for row in written.values()]
    keys = list(written)
    for i, column in enumerate(zip(*rows, strict=True)):
        points = printed_points(zip(at_c, column, strict=True))
        if not _one_way(points):
            # `curves_compute` refuses it, and beside level rows no row stands out.
            continue
        for misprint in misprints(points):
            if not slip_words(misprint) and len(column) < ENOUGH_ROWS:
                continue
            row = at_c.index(misprint.t_c)
            path: YamlPath = (field, keys[row])
            if len(rows[0]) > 1:
                path = (*path, i)
            yield notes.problem(
                curve,
                path,
                "misprint",
                f"at {format_t(misprint.t_c)} {COLUMNS[len(rows[0])][i]}{column[row]} reads "
                f"{format_k(abs(misprint.off_k))} {'warm' if misprint.off_k > 0 else 'cold'} "
                "beside its neighbours",
                hint=_hint(misprint),
                warning=True,
            )


def _one_way(points: Sequence[PrintedPoint]) -> bool:
    steps = [after.r_ohm - before.r_ohm for before, after in pairwise(points)]
    return all(step > 0 for step in steps) or all(step < 0 for step in steps)


def slip_words(misprint: Misprint) -> str:
    """Return what kind of slip would put it right, to follow `would fit`; empty for none."""
    if misprint.by_point:
        return ", its decimal sign lost or moved"
    return ", one digit changed or two swapped" if misprint.by_digit else ""


def _hint(misprint: Misprint) -> str:
    meant = f"{format_plain(misprint.expected_ohm, digits=8)} Ω would fit"
    return f"{meant}{slip_words(misprint)}: hold the row against its source"
