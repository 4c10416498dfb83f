"""What windings were held against, what was counted, and what follows from the answer."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

from kb.numbers.single_phase import ThreeLeads
from kb.numbers.winding_balance import Balance
from kb.numbers.winding_triangle import PHASE_TIMES, is_triangle
from kb.numbers.winding_value import TEMPERATURE_HALF_K

from .statement import Statement
from .winding_reading import WindingFacts, WindingReading
from .winding_unnamed import has_two_windings

CONTACT_OHM = 0.2
"""A balance limit below this is what a contact can make up or hide: ten times the 20 mΩ by which a
clip on a clean terminal may differ from one reading to the next. Common practice, no source."""


def winding_notes(
    part: WindingFacts,
    *,
    pairs: Mapping[str, WindingReading],
    solved_ohm: Mapping[str, float],
    solved_u_ohm: Mapping[str, float],
    balances: Sequence[Balance],
    t_c: float | None,
) -> tuple[Statement, ...]:
    """Return each winding, what was allowed, how balance was judged, what warmth and contact do."""
    notes = _solved(solved_ohm, u_ohm=solved_u_ohm, connection=part.connection)
    limits = {"balance_share": part.balance_share, "tolerance_share": part.tolerance_share}
    if part.balance_share is not None and part.tolerance_share is not None:
        notes.append(Statement(id="winding.allowed-both", figures=limits))
    elif part.balance_share is not None:
        notes.append(Statement(id="winding.allowed-mean", figures=limits))
    elif part.tolerance_share is not None:
        notes.append(Statement(id="winding.allowed-entry", figures=limits))
    if balances:
        notes += [Statement(id="winding.beside"), *balance_of_one(part)]
    warmth = _warmth(part, pairs=pairs, t_c=t_c)
    return (*notes, *warmth, *_contact(part, pairs=pairs, balances=balances))


def _warmth(
    part: WindingFacts, *, pairs: Mapping[str, WindingReading], t_c: float | None
) -> list[Statement]:
    """Return what the temperature does, or that it is wanted: one was held against nothing yet."""
    if t_c is None:
        waits = any(reading.state == "" for reading in pairs.values())
        return [Statement(id="winding.without-temperature")] if waits else []
    figures = {
        "t_c": t_c,
        "constant": part.constant,
        "per_k_share": 1 / (part.constant + t_c),
        "half_k": TEMPERATURE_HALF_K,
    }
    return [Statement(id=f"winding.warmth-{part.metal.replace(' ', '-')}", figures=figures)]


def balance_of_one(part: WindingFacts) -> list[Statement]:
    """Return what part of one winding the balance limit stands for, between three leads."""
    if part.balance_share is None or not is_triangle(part.pairs) or has_two_windings(part):
        return []
    figures = {"balance_share": part.balance_share, "phase_share": PHASE_TIMES * part.balance_share}
    return [Statement(id="winding.phase", figures=figures)]


def _solved(
    windings: Mapping[str, float], *, u_ohm: Mapping[str, float], connection: str
) -> list[Statement]:
    """Return each winding by itself, as solved from the pairs, and how well it is known."""
    if not windings or math.inf in windings.values():
        return []
    each = []
    for name, r_ohm in sorted(windings.items()):
        figures: dict[str, object] = {"winding": name, "r_ohm": r_ohm}
        if name in u_ohm:
            figures["u_share"] = u_ohm[name] / r_ohm
        way = "-within" if name in u_ohm else ""
        each.append(Statement(id=f"winding.solved-one{way}", figures=figures))
    return [Statement(id=f"winding.solved-{connection}", figures={"windings": each})]


def _contact(
    part: WindingFacts, *, pairs: Mapping[str, WindingReading], balances: Sequence[Balance]
) -> list[Statement]:
    """Return what repeats showed of the contact, and that it counts; or that nobody knows it."""
    again = [pair for pair, reading in pairs.items() if reading.repeats > 1]
    if not again:
        means_ohm = [balance.mean_at_20_ohm or math.inf for balance in balances]
        close = any(mean * (part.balance_share or math.inf) < CONTACT_OHM for mean in means_ohm)
        return [Statement(id="winding.contact-once")] if close else []
    figures = {"pairs": again, "spread_ohm": max(pairs[pair].spread_ohm for pair in again)}
    return [Statement(id="winding.contact", figures=figures)]


def contact_first(
    part: WindingFacts, *, pairs: Mapping[str, WindingReading], found: ThreeLeads | None
) -> list[Statement]:
    """Return what is wrong with the readings themselves: a bad contact, or a path beside them."""
    limit = part.tolerance_share if part.balance_share is None else part.balance_share
    wide = [
        pair
        for pair, reading in pairs.items()
        if limit is not None and reading.spread_ohm > limit * reading.r_ohm
    ]
    statements = []
    if wide:
        figures: dict[str, object] = {"pairs": wide, "limit_share": limit}
        statements.append(Statement(id="winding.contact-wide", figures=figures))
    if has_two_windings(part) and found is not None and not found.adds_up:
        great = max(pairs, key=lambda pair: pairs[pair].r_ohm)
        less = [pair for pair in pairs if pair != great]
        way = "less" if found.sum_off_ohm > 0 else "more"
        figures = {"less": less, "pair": great, "r_ohm": pairs[great].r_ohm}
        figures["sum_ohm"] = sum(pairs[pair].r_ohm for pair in less)
        statements.append(Statement(id=f"winding.sum-{way}", figures=figures))
    return statements


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
