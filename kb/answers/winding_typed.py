"""Windings as typed: each pair of leads by the entry's name or without one, once or repeated."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping, Sequence

from kb.numbers.repeated import contact_u_ohm, mean_ohm
from kb.numbers.verdict import full_half

from .statement import Refusal, Statement
from .typed import typed_reading_ohm
from .winding_reading import Repeated, WindingFacts
from .winding_unnamed import UNNAMED, may_be_unnamed

ALIKE_SHARE = 0.2
"""Figures with a space between that differ by less are repeats, and no thousands: `480 482`.
Common practice, no source."""

_BETWEEN = re.compile(r"\s*;\s*|,?\s+(?=[\d.,]|o\.?l\b|\u221e)", re.IGNORECASE)


def typed_windings(
    facts: WindingFacts, *, readings: Sequence[tuple[str, str]]
) -> tuple[dict[str, Repeated], tuple[Refusal, ...]]:
    """Return what was read by lead pair, in the order typed, and a refusal for each slip.

    Parameters
    ----------
    readings : sequence of (lead pair, text)
        An empty text is no reading. Repeats stand in one text, such as `2.31 2.29 2.33`, or under
        the same pair again.
    """
    pairs = UNNAMED if is_unnamed(facts, readings=readings) else tuple(facts.pairs)
    read: dict[str, list[float]] = {}
    refusals: list[Refusal] = []
    for leads, text in readings:
        if not text.strip():
            continue
        try:
            pair = _pair(pairs, leads=leads)
            values = _typed_ohms(text, pair=pair)
            read.setdefault(pair, []).extend(values)
        except Refusal as refusal:
            refusals.append(refusal)
    for pair, values in read.items():
        if math.inf in values and min(values) < math.inf:
            figures = {"pair": pair, "r_ohm": min(values)}
            statement = Statement(id="winding.contact-breaks", figures=figures)
            refusals.append(Refusal(statement, field=pair))
    return ({} if refusals else _repeated(read)), tuple(refusals)


def is_unnamed(facts: WindingFacts, *, readings: Sequence[tuple[str, str]]) -> bool:
    """Whether all that was typed is of leads 1, 2 and 3, where the entry's three have names."""
    if not may_be_unnamed(facts):
        return False
    typed = [_ends(leads) for leads, text in readings if text.strip()]
    return bool(typed) and all(ends in [_ends(pair) for pair in UNNAMED] for ends in typed)


def _typed_ohms(text: str, *, pair: str) -> list[float]:
    """Return one reading, or several of the same pair with a space or a semicolon between."""
    pieces = [piece for piece in _BETWEEN.split(text.strip()) if piece]
    if len(pieces) == 1:
        return [typed_reading_ohm(text, field=pair)]
    try:
        whole_ohm = typed_reading_ohm(text, field=pair)
    except Refusal:
        return [typed_reading_ohm(piece, field=pair) for piece in pieces]
    # `12 000` is one figure, and `480 482` are two of one winding.
    try:
        each_ohm = [typed_reading_ohm(piece, field=pair) for piece in pieces]
    except Refusal:
        return [whole_ohm]
    alike = max(each_ohm) - min(each_ohm) < ALIKE_SHARE * max(each_ohm)
    return each_ohm if alike else [whole_ohm]


def _repeated(read: Mapping[str, Sequence[float]]) -> dict[str, Repeated]:
    finite = {pair: values for pair, values in read.items() if max(values) < math.inf}
    u_ohm = contact_u_ohm(finite)
    return {
        pair: Repeated(
            r_ohm=mean_ohm(values),
            count=len(values),
            spread_ohm=max(values) - min(values),
            half_ohm=full_half(u_ohm[pair]),
        )
        if pair in finite
        else Repeated(r_ohm=math.inf, count=len(values))
        for pair, values in read.items()
    }


def _pair(pairs: Sequence[str], *, leads: str) -> str:
    """Return the name of a pair of leads, however it was typed."""
    ends = _ends(leads)
    for pair in pairs:
        if _ends(pair) == ends:
            return pair
    figures = {"leads": leads, "pairs": list(pairs)}
    raise Refusal(Statement(id="winding.no-such-pair", figures=figures), field=leads)


def _ends(leads: str) -> list[str]:
    return sorted(lead.strip().lower() for lead in leads.split("-"))
