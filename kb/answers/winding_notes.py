"""What windings were held against, what was counted, and what follows from the answer."""

from __future__ import annotations

from collections.abc import Sequence

from kb.numbers.winding_triangle import PHASE_TIMES, is_triangle
from kb.numbers.winding_value import TEMPERATURE_HALF_K

from .statement import Statement
from .winding_reading import WindingFacts


def winding_notes(
    part: WindingFacts, *, balanced: bool, t_c: float | None, waits: bool
) -> tuple[Statement, ...]:
    """Return what was allowed, how balance was judged, and what the temperature does."""
    notes = []
    limits = {"balance_share": part.balance_share, "tolerance_share": part.tolerance_share}
    if part.balance_share is not None and part.tolerance_share is not None:
        notes.append(Statement(id="winding.allowed-both", figures=limits))
    elif part.balance_share is not None:
        notes.append(Statement(id="winding.allowed-mean", figures=limits))
    elif part.tolerance_share is not None:
        notes.append(Statement(id="winding.allowed-entry", figures=limits))
    if balanced:
        notes.append(Statement(id="winding.beside"))
    if balanced and part.balance_share is not None and is_triangle(part.pairs):
        phase = {
            "balance_share": part.balance_share,
            "phase_share": PHASE_TIMES * part.balance_share,
        }
        notes.append(Statement(id="winding.phase", figures=phase))
    if t_c is None:
        if waits:
            notes.append(Statement(id="winding.without-temperature"))
        return tuple(notes)
    figures = {
        "t_c": t_c,
        "constant": part.constant,
        "per_k_share": 1 / (part.constant + t_c),
        "half_k": TEMPERATURE_HALF_K,
    }
    metal = part.metal.replace(" ", "-")
    return (*notes, Statement(id=f"winding.warmth-{metal}", figures=figures))


def winding_advice(
    part: WindingFacts, *, state: str, better: bool, unread: Sequence[str]
) -> tuple[Statement, ...]:
    """Return what follows, after the better meters: what is unread, and what ohms cannot tell."""
    advice = []
    if state == "undecided" and not better:
        advice.append(Statement(id="winding.no-better"))
    if unread:
        advice.append(Statement(id="winding.unread", figures={"pairs": list(unread)}))
    if part.wound and state == "within":
        advice.append(Statement(id="winding.proves-no-motor"))
    if part.insulated:
        advice.append(Statement(id="winding.earth"))
    return tuple(advice)
