"""A fitted curve as an entry for the notes: the text of its file, and whether it may stand."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from kb.check import problems_of
from kb.notes.load import Notes, load_entry
from kb.notes.problem import Problem
from kb.numbers.fit import Fit
from kb.numbers.rounding import format_k, format_plain, format_t

from .point_file import PrintedRow

DIGITS = 10
"""Significant digits of a fitted parameter: more than any reading needs, and no long tail."""


def entry_text(fit: Fit, *, rows: Sequence[PrintedRow], title: str, source: str) -> str:
    """Return the YAML of a curve entry.

    Parameters
    ----------
    fit : Fit
    rows : sequence of PrintedRow
        Those that were fitted; the suspects among them stay out of a table.
    title, source : str
        The entry's name, and the id of its source.

    Notes
    -----
    The entry is a draft: nobody has held it against its source yet. A formula keeps the rows beside
    its numbers, so that `check` can hold it to them.
    """
    suspects_c = {point.t_c for point in fit.suspects}
    kept = [row for row in rows if row.t_c not in suspects_c]
    lines = [
        f"name: {quoted(title)}",
        f"source: {source}",
        f"law: {fit.name}",
        f"range_c: [{plain(kept[0].t_c)}, {plain(kept[-1].t_c)}]",
    ]
    if fit.name == "table":
        lines += ["points:", *(_point(row) for row in kept)]
    else:
        lines += [f"{name}: {plain(value)}" for name, value in formula_parameters(fit).items()]
        lines += ["fitted_to:", *(_fitted_row(row) for row in kept)]
    lines += ["notes:", *(f"- {quoted(note)}" for note in _notes(fit, kept=kept))]
    return "\n".join(lines) + "\n"


def _point(row: PrintedRow) -> str:
    if row.low_ohm is None or row.high_ohm is None:
        return f"  {plain(row.t_c)}: {quoted_ohm(row.r_ohm)}"
    three = ", ".join(quoted_ohm(ohm) for ohm in (row.low_ohm, row.r_ohm, row.high_ohm))
    return f"  {plain(row.t_c)}: [{three}]"


def _fitted_row(row: PrintedRow) -> str:
    return f"  {plain(row.t_c)}: {quoted_ohm(row.r_ohm)}"


def _notes(fit: Fit, *, kept: Sequence[PrintedRow]) -> list[str]:
    span = f"{len(kept)} printed points from {format_t(kept[0].t_c)} to {format_t(kept[-1].t_c)}"
    if fit.name == "table":
        notes = [f"{span}."]
        if fit.roughness_k:
            notes = [f"{span}; a point is up to {format_k(fit.roughness_k)} off its neighbours."]
    else:
        worst = f"at most {format_k(fit.worst_k)} off, at {format_t(fit.worst_at_c)}"
        if fit.met_exactly:
            worst = "as many as it has numbers, so that it meets them however well it holds"
        notes = [f"Fitted to {span}; {worst}."]
    if fit.more_between and np.isfinite(fit.between_k):
        notes.append(f"Between them it may be {format_k(fit.between_k)} off.")
    notes += [
        f"Left out as misprinted: {format_plain(point.r_ohm, digits=DIGITS)} Ω at "
        f"{format_t(point.t_c)}, where "
        f"{format_plain(point.expected_ohm, digits=DIGITS)} Ω would fit."
        for point in fit.suspects
    ]
    return [note.replace("\u00a0", " ") for note in notes]


def formula_parameters(fit: Fit) -> dict[str, float]:
    """Return the numbers of a fitted formula by name; a table has points and no numbers."""
    return {name: value for name, value in fit.parameters.items() if isinstance(value, int | float)}


def plain(value: float, *, digits: int = DIGITS) -> str:
    """Return a number for YAML, to so many digits as count."""
    return format_plain(value, digits=digits)


def quoted(text: str) -> str:
    """Return text in single quotes, as YAML keeps any text."""
    return "'" + text.replace("'", "''") + "'"


def quoted_ohm(text: str) -> str:
    """Return a resistance as printed; with a comma it needs quotes inside brackets."""
    return quoted(text) if "," in text or " " in text else text


def faults_of(text: str, *, notes: Notes, entry_id: str, file: str) -> list[Problem]:
    """Add the entry to loaded notes, and return what `check` would then refuse because of it."""
    before = set(problems_of(notes))
    load_entry(text.encode(), kind="curves", entry_id=entry_id, file=file, notes=notes)
    return [fault for fault in problems_of(notes) if fault not in before and not fault.warning]
