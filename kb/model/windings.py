"""The windings of a part: what they should read, lead to lead."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations
from typing import Literal

from pydantic import Field, model_validator

from kb.numbers.rounding import format_ohm

from .entry import Block
from .words import Fault, Number, Ohm, TempC

ALIKE_SHARE = 0.2
"""Values that differ by less are meant to be equal windings. Common practice, no source."""
ROUNDED_SHARE = 0.05
"""So far a value may be off a sum: printed with two digits each. Common practice, no source."""
MOST_BALANCE_PERCENT = 10
"""More would pass a phase with a fifth of its turns shorted. Common practice, no source."""
MOST_TOLERANCE_PERCENT = 30
"""More is no limit any more. Common practice, no source."""


class Windings(Block):
    """What its windings should read, lead to lead."""

    pairs: dict[str, Ohm] = Field(min_length=1)
    """Lead pair such as `U-V` → ohms."""
    at_c: TempC
    """The temperature these hold at."""
    connection: Literal["star", "delta", "single-phase", "unknown"] = "unknown"
    """How they are joined inside: with it a reading names the winding. `single-phase` is a run
    and a start winding on three leads."""
    metal: Literal["copper", "aluminium", "heating wire"] = "copper"
    """What it is wound of; its constant brings a reading to 20 °C."""
    tolerance_percent: Number | None = Field(default=None, gt=0, le=MOST_TOLERANCE_PERCENT)
    """± per cent on each value."""
    balance_percent: Number | None = Field(default=None, gt=0, le=MOST_BALANCE_PERCENT)
    """Greatest departure from the mean of equal windings, in per cent."""

    @model_validator(mode="after")
    def _pairs_have_two_leads(self) -> Windings:
        for pair in self.pairs:
            leads = pair.split("-")
            if len(leads) != 2 or not all(leads) or leads[0] == leads[1]:
                raise Fault(
                    f"'{pair}' is not a pair of leads", at=("pairs", pair), hint="write U-V: 3.2"
                )
        return self

    @model_validator(mode="after")
    def _values_can_be_of_one_part(self) -> Windings:
        faults = [
            *self._against_their_connection(),
            *self._against_their_sum(),
            *self._against_their_balance(),
        ]
        if faults:
            first, *others = faults
            raise Fault(str(first), at=first.at, hint=first.hint, also=others)
        return self

    def _against_their_connection(self) -> Iterator[Fault]:
        """Yield what no windings joined so can have."""
        ends = [set(pair.split("-")) for pair in self.pairs]
        leads = len(set().union(*ends))
        triangle = leads == 3 and len({frozenset(pair) for pair in ends}) == 3 == len(ends)
        point = len(ends) > 2 and len(set.intersection(*ends)) == 1
        if self.connection == "single-phase" and not (leads == 3 and len(ends) in (2, 3)):
            yield Fault(
                "a run and a start winding have three leads, and two or three pairs of them",
                at=("connection",),
                hint="write C-R and C-S, or leave 'connection' out",
            )
        elif self.connection == "star" and not (triangle or point):
            yield Fault(
                "a star has the three pairs of three leads, or every lead to its point",
                at=("connection",),
                hint="write U-V, V-W and W-U, or leave 'connection' out: windings whose both ends "
                "come out are read one by one",
            )
        elif self.connection == "delta" and not triangle:
            yield Fault(
                "a delta has the three pairs of three leads",
                at=("connection",),
                hint="write U-V, V-W and W-U, or leave 'connection' out",
            )
        else:
            yield from self._against_their_values(triangle=triangle)

    def _against_their_values(self, *, triangle: bool) -> Iterator[Fault]:
        """Yield it where the values are not those of windings joined so."""
        least_ohm, most_ohm = min(self.pairs.values()), max(self.pairs.values())
        alike = most_ohm - least_ohm < ALIKE_SHARE * most_ohm
        if self.connection in ("star", "delta") and not alike:
            yield Fault(
                f"{format_ohm(least_ohm)} and {format_ohm(most_ohm)} are no equal windings of a "
                f"{self.connection}",
                at=("connection",),
                hint="a run and a start winding are 'single-phase'",
            )
        elif self.connection == "single-phase" and triangle and alike:
            yield Fault(
                "three pairs alike are no run and start winding: the third is the sum of two",
                at=("connection",),
                hint="write star or delta, or look at the sheet again",
            )

    def _against_their_sum(self) -> Iterator[Fault]:
        """Yield each three leads whose values no windings between them can have.

        Notes
        -----
        Between three leads no value is more than the other two together: the resistance seen
        between points of a network is a distance (Klein and Randić, 1993). Three that differ are a
        start and a running winding, or a tapped one, and there the greatest is the sum.
        """
        ohms = {frozenset(pair.split("-")): (pair, r) for pair, r in self.pairs.items()}
        for leads in combinations(sorted({lead for both in ohms for lead in both}), 3):
            sides = [ohms.get(frozenset(both)) for both in combinations(leads, 2)]
            if None in sides:
                continue
            *two, (pair, most_ohm) = sorted((s for s in sides if s), key=lambda side: side[1])
            (_, least_ohm), (_, middle_ohm) = two
            sum_ohm = least_ohm + middle_ohm
            alike = most_ohm - least_ohm < ALIKE_SHARE * most_ohm
            off = abs(most_ohm - sum_ohm) > ROUNDED_SHARE * sum_ohm
            if off and not alike:
                yield Fault(
                    f"{format_ohm(most_ohm)} is not the {format_ohm(least_ohm)} and "
                    f"{format_ohm(middle_ohm)} of the other two pairs in a row, "
                    f"{format_ohm(sum_ohm)}",
                    at=("pairs", pair),
                    hint="look at the sheet again, or leave out the pair that it does not print",
                )

    def _against_their_balance(self) -> Iterator[Fault]:
        """Yield each value that would itself fail the balance it is held to."""
        if self.balance_percent is None:
            return
        off: dict[str, tuple[str, float]] = {}
        for (first, first_ohm), (pair, r_ohm) in combinations(self.pairs.items(), 2):
            apart = abs(r_ohm - first_ohm) / max((r_ohm + first_ohm) / 2, 1e-12)
            if self.balance_percent / 100 < apart < ALIKE_SHARE:
                off.setdefault(pair, (first, apart))
        for pair, (first, apart) in off.items():
            yield Fault(
                f"{100 * apart:.1f} % from {first}, more than 'balance_percent' lets equal "
                "windings differ",
                at=("pairs", pair),
                hint="write the sheet's one value at all of them, or its greater balance",
            )
