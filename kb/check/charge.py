"""Stored charge: a voltage or a wait that would let somebody touch what is not drained."""

from __future__ import annotations

from collections.abc import Iterator

from kb.model import Family
from kb.notes.load import Notes
from kb.notes.problem import Problem
from kb.numbers.rounding import format_plain

# IEC 60364-4-41, 414.4.5 (from memory): up to 60 V d.c., in the dry, bare parts need no cover.
MOST_V = 60.0
# Common practice, no source: no electrolytic of a power supply or an inverter is empty sooner.
LEAST_MIN = 1.0


def charge_is_waited_for(family: Family, *, notes: Notes) -> Iterator[Problem]:
    """Warn of a family whose charge counts as gone at a voltage that hurts, or too soon."""
    if family.drained_below_v > MOST_V:
        yield notes.problem(
            family,
            ("drained_below_v",),
            "charge",
            f"{format_plain(family.drained_below_v)} V is no safe voltage to touch",
            hint=f"above {format_plain(MOST_V)} V direct nothing bare counts as safe: hold it "
            "against the maker's instructions",
            warning=True,
        )
    if family.no_charge is None and family.drain_min < LEAST_MIN:
        yield notes.problem(
            family,
            ("drain_min",),
            "charge",
            f"{format_plain(family.drain_min)} minutes is hardly a wait for stored charge",
            hint="hold it against the maker's instructions; where nothing is stored at all, "
            "write 'drain_min: 0' and 'no_charge: why'",
            warning=True,
        )
