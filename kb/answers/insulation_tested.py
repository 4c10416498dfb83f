"""An insulation test as typed: refused where it does harm, then with which tester it was read."""

from __future__ import annotations

import math
import re
from collections.abc import Sequence
from dataclasses import dataclass

from kb.numbers.insulation import parse_insulation
from kb.numbers.notation import Unreadable

from .statement import Refusal, Statement
from .typed import unreadable

WOUND = ("motor", "compressor", "fan")
"""Parts with a motor winding: IEEE 43 is about those, and says nothing of heaters or valves."""
HERMETIC = ("compressor",)
"""Parts whose winding stands in refrigerant, where their entry does not say otherwise: the standard
is not written for them."""
BOARDS = ("board",)
"""Parts that an insulation test destroys."""

_VOLTS = re.compile(r"(\d+(?:[.,]\d+)?) ?V?", re.IGNORECASE | re.ASCII)


@dataclass(frozen=True, kw_only=True)
class InsulationFacts:
    """What an entry says of a part's insulation: no words, only what decides.

    Parameters
    ----------
    name : str
    min_ohm, limit_c : float
        Its own limit in Ω, and the temperature in °C that this holds at.
    test_volts : float
        The most that it is tested with, direct.
    material : str
        "thermoplastic" or "thermoset".
    wound, board : bool
        Whether its kind is one of WOUND, BOARDS.
    hermetic : bool
        Whether its winding stands in refrigerant.
    rated_volts : float or None
        Between lines, r.m.s.
    form_wound : bool
        A large winding of preformed coils.
    """

    name: str
    min_ohm: float
    limit_c: float = 40.0
    test_volts: float
    material: str = "thermoset"
    wound: bool = False
    hermetic: bool = False
    board: bool = False
    rated_volts: float | None = None
    form_wound: bool = False

    @property
    def winding(self) -> str:
        """Its row in IEEE 43-2013, Table 3: form-wound below 1 kV counts as random-wound."""
        large = self.form_wound and (self.rated_volts or 0.0) >= 1000
        return "form-wound" if large else "random-wound"


@dataclass(frozen=True, kw_only=True)
class InsulationVoltage:
    """One test voltage of a tester: the most in Ω that it shows there, and its ± per cent."""

    volts: float
    max_ohm: float
    percent: float


@dataclass(frozen=True, kw_only=True)
class NamedTester:
    """An insulation tester of the team's."""

    id: str
    name: str
    voltages: Sequence[InsulationVoltage]


@dataclass(frozen=True, kw_only=True)
class Tested:
    """A test that may be judged.

    Parameters
    ----------
    tester, used : or None
        What it was read with, where that is known, and the voltage's own figures.
    r_ohm : float
        As typed; infinity for OL.
    """

    volts: float
    tester: NamedTester | None
    used: InsulationVoltage | None
    r_ohm: float

    @property
    def most_ohm(self) -> float:
        """The most in Ω that the tester can show; infinity where nobody knows."""
        return self.used.max_ohm if self.used else math.inf

    @property
    def over_range(self) -> bool:
        """Whether the tester shows no figure, or one beyond its own end."""
        return math.isinf(self.r_ohm) or self.r_ohm > self.most_ohm


def tested(
    part: InsulationFacts, *, volts: str, reading: str, testers: Sequence[NamedTester], tester: str
) -> Tested:
    """Return the test typed.

    Raises
    ------
    Refusal
        What may hurt comes first: a board, a voltage too high; then what cannot be read.
    """
    if part.board:
        raise Refusal(Statement(id="insulation.board", figures={"part": part.name}))
    test_volts = _typed_volts(volts, part=part)
    if test_volts > part.test_volts:
        figures = {"part": part.name, "most_volts": part.test_volts, "test_volts": test_volts}
        raise Refusal(Statement(id="insulation.too-high", figures=figures), field="volts")
    used = _tester(testers, tester=tester, volts=test_volts)
    return Tested(
        volts=test_volts,
        tester=used[0] if used else None,
        used=used[1] if used else None,
        r_ohm=typed_insulation_ohm(reading, field="reading"),
    )


def _typed_volts(text: str, *, part: InsulationFacts) -> float:
    if not text.strip():
        statement = Statement(
            id="insulation.volts-missing", figures={"most_volts": part.test_volts}
        )
        raise Refusal(statement, field="volts", missing=True)
    found = _VOLTS.fullmatch(text.strip())
    volts = float(found[1].replace(",", ".")) if found else 0.0
    if not 0 < volts < math.inf:
        statement = Statement(id="insulation.no-voltage", figures={"typed": text.strip()})
        raise Refusal(statement, field="volts")
    return volts


def typed_insulation_ohm(text: str, *, field: str) -> float:
    """Return the ohms that a tester shows, infinity for over range; Refusal as its field."""
    if not text.strip():
        raise Refusal(Statement(id="insulation.reading-missing"), field=field, missing=True)
    try:
        return parse_insulation(text)
    except Unreadable as error:
        raise unreadable(error, field=field) from None


def _tester(
    testers: Sequence[NamedTester], *, tester: str, volts: float
) -> tuple[NamedTester, InsulationVoltage] | None:
    """Return the tester named, or the only one of that voltage; None where nobody can tell."""
    named_testers = [named for named in testers if tester in ("", named.id)]
    found = [
        (named, test) for named in named_testers for test in named.voltages if test.volts == volts
    ]
    if tester and named_testers and not found:
        figures = {
            "instrument": named_testers[0].name,
            "own_volts": [test.volts for test in named_testers[0].voltages],
            "test_volts": volts,
        }
        raise Refusal(Statement(id="insulation.lacks-voltage", figures=figures), field="volts")
    return found[0] if len(found) == 1 else None
