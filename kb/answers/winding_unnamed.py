"""Three leads whose names nobody knows: what their three readings make of them."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import replace

from kb.numbers.meter import Meter
from kb.numbers.single_phase import ThreeLeads, three_leads
from kb.numbers.winding_triangle import is_triangle, shared_lead

from .statement import Refusal, Statement
from .winding_reading import Repeated, WindingFacts

UNNAMED = ("1-2", "2-3", "1-3")
"""The pairs of three leads that nobody knows the names of."""


def may_be_unnamed(facts: WindingFacts) -> bool:
    """Whether the entry has three leads, with names, and either one value or two windings."""
    known = {lead for pair in facts.pairs for lead in pair.split("-")}
    if len(known) != 3 or known == {"1", "2", "3"}:
        return False
    return has_two_windings(facts) or (is_triangle(facts.pairs) and _is_even(facts))


def has_two_windings(facts: WindingFacts) -> bool:
    """Whether the three leads are those of a run and a start winding."""
    three = len({lead for pair in facts.pairs for lead in pair.split("-")}) == 3
    uneven = len(facts.pairs) > 1 and not _is_even(facts)
    return three and (facts.connection == "single-phase" or uneven)


def _is_even(facts: WindingFacts) -> bool:
    return len(set(facts.pairs.values())) == 1


def facts_by_number(facts: WindingFacts, *, read: Mapping[str, Repeated]) -> WindingFacts:
    """Return the facts of leads 1, 2 and 3: each value where the reading belongs to it.

    Raises
    ------
    Refusal
        If two windings are told apart by fewer than three readings.
    """
    if not has_two_windings(facts):
        return replace(facts, pairs=dict.fromkeys(UNNAMED, next(iter(facts.pairs.values()))))
    if len(read) < len(UNNAMED):
        raise Refusal(Statement(id="winding.needs-three"), missing=True)
    values = _three_values(facts)
    if not _in_figures(read):
        # Nobody can tell which is which: only what is open or shorted is said.
        most = dict.fromkeys(UNNAMED, max(values.values()))
        return replace(facts, pairs=most, tolerance_share=None, balance_share=None)
    ordered = sorted(UNNAMED, key=lambda pair: read[pair].r_ohm)
    by_value = dict(zip(ordered, sorted(values.values()), strict=True))
    return replace(facts, pairs={pair: by_value[pair] for pair in UNNAMED}, balance_share=None)


def _three_values(facts: WindingFacts) -> dict[str, float]:
    """Return the three pairs' values, the one across both windings added where it is not noted."""
    if len(facts.pairs) == len(UNNAMED):
        return dict(facts.pairs)
    first, second = facts.pairs
    ends = {lead for pair in (first, second) for lead in pair.split("-")}
    both = "-".join(sorted(ends - {shared_lead(first, other=second)}))
    return {**facts.pairs, both: sum(facts.pairs.values())}


def _in_figures(read: Mapping[str, Repeated]) -> bool:
    return all(0 < repeated.r_ohm < math.inf for repeated in read.values())


def leads_found(read: Mapping[str, Repeated], *, meter: Meter) -> ThreeLeads | None:
    """Return what three readings between three leads say of two windings; None for fewer."""
    if not is_triangle(read) or not _in_figures(read):
        return None
    if any(repeated.r_ohm > meter.span_ohm for repeated in read.values()):
        return None
    ohms = {pair: repeated.r_ohm for pair, repeated in read.items()}
    beside = dict(zip(ohms, meter.beside_half_ohm(list(ohms.values())), strict=True))
    return three_leads(
        ohms,
        half_widths_ohm={
            pair: math.hypot(float(meter.half_width_ohm(r_ohm)), read[pair].half_ohm)
            for pair, r_ohm in ohms.items()
        },
        beside_halves_ohm={
            pair: math.hypot(half_ohm, read[pair].half_ohm) for pair, half_ohm in beside.items()
        },
    )


def lead_names(facts: WindingFacts, *, found: ThreeLeads | None) -> Statement | None:
    """Return which of leads 1, 2 and 3 is which of the entry's."""
    if found is None or not found.adds_up:
        return None
    if not found.common_known:
        return Statement(id="winding.names-none")
    values = _three_values(facts)
    small, middle, _ = sorted(values, key=lambda pair: values[pair])
    common = shared_lead(small, other=middle)
    figures = {"common": found.common, "common_name": common}
    if not found.run_known or values[small] == values[middle]:
        others = {"leads": sorted((found.run, found.start))}
        return Statement(id="winding.names-common", figures={**figures, **others})
    ends = [next(end for end in pair.split("-") if end != common) for pair in (small, middle)]
    figures |= {"less": found.run, "less_name": ends[0], "more": found.start, "more_name": ends[1]}
    return Statement(id="winding.names", figures=figures)


def names_notes(found: ThreeLeads | None) -> tuple[Statement, ...]:
    """Return by which rule leads were named, and where it fails."""
    return () if found is None else (Statement(id="winding.names-rule"),)
