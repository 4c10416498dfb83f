"""Which winding, lead or joint is bad, as far as the way they are joined lets it be said."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

from kb.numbers.winding_balance import Balance
from kb.numbers.winding_phases import delta_windings, is_broken, solved_u_ohm, star_windings
from kb.numbers.winding_triangle import PairApart, is_triangle, pair_apart, shared_lead

from .statement import Statement
from .winding_reading import WindingFacts, WindingReading
from .winding_unnamed import has_two_windings

SAME_SHARE = 1e-9
"""Below this a difference of shares is arithmetic."""


def off_mean(
    part: WindingFacts, *, pairs: Mapping[str, WindingReading], balances: Sequence[Balance]
) -> list[Statement]:
    """Return what is off the mean, one statement for each pair that is to be named."""
    faults = []
    for balance in balances:
        if balance.state != "outside":
            continue
        ohms = {pair: winding.r_ohm for pair, winding in balance.windings.items()}
        apart = pair_apart(ohms)
        where = None
        if apart is not None:
            sound = _others_sound(apart, ohms=ohms, pairs=pairs)
            where = _where(part, apart=apart, ohms=ohms, sound=sound)
        named = [apart.pair] if apart and where else _furthest(balance)
        for pair in named:
            figures: dict[str, object] = {
                "pair": pair,
                "off_share": balance.windings[pair].off_share,
                "allowed_share": part.balance_share,
                **(where.figures if where else {}),
            }
            faults.append(Statement(id=where.id if where else "winding.off-mean", figures=figures))
    return faults


def _where(
    part: WindingFacts, *, apart: PairApart, ohms: Mapping[str, float], sound: bool
) -> Statement | None:
    """Return what the pair apart accuses, its id and its figures; None for that pair itself.

    Parameters
    ----------
    sound : bool
        Whether the two others read what their entry gives.

    Notes
    -----
    In a star the pair apart is the sound one: the winding is that of the lead which the two others
    share. In a delta it is its own, but a bad joint of a lead outside raises two pairs there too.
    """
    windings = windings_solved(part, ohms=ohms)
    figures: dict[str, object] = {"lead": apart.lead}
    if not windings:
        way = "high" if apart.high else "low"
        return None if sound else Statement(id=f"winding.off-mean-{way}", figures=figures)
    star = part.connection == "star"
    winding = apart.lead if star else apart.pair
    if not star and is_broken(windings, winding=winding):
        return Statement(id="winding.off-mean-open-delta", figures={"winding": winding})
    others = [r_ohm for name, r_ohm in windings.items() if name != winding]
    figures |= {"winding": winding, "own_ohm": windings[winding]}
    figures |= {"others_ohm": sum(others) / len(others)}
    if star:
        way = "high-star" if apart.high else "low-star"
    elif apart.high:
        way = "high-delta"
    else:
        way = "short-delta" if sound else "low-delta"
    return Statement(id=f"winding.off-mean-{way}", figures=figures)


def _others_sound(
    apart: PairApart, *, ohms: Mapping[str, float], pairs: Mapping[str, WindingReading]
) -> bool:
    """Whether the two others read what their entry gives: then no lead that they share is bad."""
    return all(pairs[pair].state == "within" for pair in ohms if pair != apart.pair)


def _furthest(balance: Balance) -> list[str]:
    """Return the windings furthest off the mean.

    One bad winding moves the mean under all of them, so the furthest is the bad one; of two that
    are as far, as any two alone are, nobody can tell which.
    """
    off = {pair: abs(winding.off_share) for pair, winding in balance.windings.items()}
    return [pair for pair, share in off.items() if share >= max(off.values()) - SAME_SHARE]


def open_lead(part: WindingFacts, *, pairs: Mapping[str, WindingReading]) -> Statement | None:
    """Return the lead that two open pairs share; None where that says nothing more."""
    named = [pair for pair, reading in pairs.items() if reading.state == "open"]
    figure = any(math.isfinite(reading.r_ohm) for reading in pairs.values())
    way = "single" if has_two_windings(part) else part.connection
    lead = shared_lead(named[0], other=named[1]) if len(named) == 2 else ""
    if not lead or not (way == "single" or (is_triangle(part.pairs) and figure)):
        return None
    return Statement(id=f"winding.open-lead-{way}", figures={"pairs": named, "lead": lead})


def windings_solved(part: WindingFacts, *, ohms: Mapping[str, float]) -> dict[str, float]:
    """Return Ω of each winding by itself, where the entry says how they are joined."""
    if part.connection == "star":
        return star_windings(ohms)
    return delta_windings(ohms) if part.connection == "delta" else {}


def windings_uncertain(
    part: WindingFacts, *, ohms: Mapping[str, float], half_widths_ohm: Mapping[str, float]
) -> dict[str, float]:
    """Return U in Ω of each winding by itself, against the others; empty where nothing says it."""
    return solved_u_ohm(
        ohms,
        half_widths_ohm=half_widths_ohm,
        solve=lambda read_ohm: windings_solved(part, ohms=read_ohm),
    )
