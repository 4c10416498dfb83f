"""How well a part must be insulated from earth, and the voltage that may test it."""

from __future__ import annotations

from typing import Literal

from pydantic import Field, model_validator

from kb.numbers.insulation import HIGH_C, LOW_C
from kb.numbers.rounding import format_ohm, format_plain

from .entry import Block
from .words import Fault, Number, Ohm, TempC, Text, YesNo

LEAST_OHM = 100e3
"""No maker's limit is lower: a bare number below it is megohms without their letter. Common
practice, no source; a tester's display is read by the same rule."""
MOST_TEST_V = 1000
"""Direct volts for windings rated up to 2500 V.

Source: IEEE 43-2013, Table 1 (from memory): 500 V below 1000 V rated, 500 to 1000 V up to 2500 V.
"""

MOST_RATED_V = 2500
"""Above it the test needs more than MOST_TEST_V, and people of another trade."""


class Insulation(Block):
    """How well it is insulated from earth."""

    min_ohm: Ohm
    """The least resistance the maker accepts."""
    test_v: Number = Field(gt=0)
    """Direct test voltage; never higher than the maker allows."""
    at_c: TempC = 40.0
    """The temperature the limit holds at."""
    material: Literal["thermoplastic", "thermoset"] = "thermoset"
    """Winding insulation, for the correction to 40 °C."""
    rated_v: Number | None = Field(default=None, gt=0, le=MOST_RATED_V)
    """Rated volts between lines; `check` holds test voltage and limit against them."""
    hermetic: YesNo | None = None
    """Whether its winding stands in refrigerant; a compressor's does, unless this says no."""
    coils: Literal["random-wound", "form-wound"] = "random-wound"
    """Form-wound: a large machine's preformed coils; there ten minutes are held against one."""
    disconnect: Text
    """What must be disconnected first."""

    @model_validator(mode="after")
    def _guards_somebody(self) -> Insulation:
        faults = []
        if self.min_ohm < LEAST_OHM:
            number = format_plain(self.min_ohm)
            faults.append(
                Fault(
                    f"{format_ohm(self.min_ohm)} would pass a part that is shorted to earth",
                    at=("min_ohm",),
                    hint=f"write {number}M for megohms; no maker's limit is below 100k",
                )
            )
        if self.test_v > MOST_TEST_V:
            faults.append(
                Fault(
                    f"{format_plain(self.test_v)} V breaks the insulation that it should prove",
                    at=("test_v",),
                    hint="500 V for windings rated below 1000 V (IEEE 43-2013, Table 1); never "
                    "more than the maker allows",
                )
            )
        if not LOW_C <= self.at_c <= HIGH_C:
            faults.append(
                Fault(
                    f"no correction leads to {format_plain(self.at_c)} °C",
                    at=("at_c",),
                    hint="bring the limit to a temperature from 10 to 85 °C, where IEEE 43-2013 "
                    "gives the correction; most limits hold at 40",
                )
            )
        if faults:
            first, *others = faults
            raise Fault(str(first), at=first.at, hint=first.hint, also=others)
        return self
