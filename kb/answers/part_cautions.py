"""What can hurt while a part is tested, by id: isolating first, the maker's word last."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from .statement import Statement

WINDING_CAUTIONS = ("leads-off", "winding-cooled")
INSULATION_CAUTIONS = ("insulation-electronics", "insulation-charge", "insulation-far-end")
"""What either test always asks for, after the machine's own and the part's own."""
HERMETIC_CAUTIONS = ("insulation-vacuum", "insulation-crankcase")
"""What a winding in refrigerant asks for beside that."""


@dataclass(frozen=True, kw_only=True)
class MachineFacts:
    """How a machine is made safe, in its entry's own words and figures.

    Parameters
    ----------
    name, isolate_at, drain_at : str
    drain_min, drained_below_volts : float
        How long stored charge takes to drain, and below which voltage it counts as drained.
    no_charge : str
        Why nothing is stored; "" where something is.
    """

    name: str
    isolate_at: str
    drain_at: str
    drain_min: float
    drained_below_volts: float
    no_charge: str = ""


@dataclass(frozen=True, kw_only=True)
class CautionFacts:
    """What the entries know of the danger in testing a part.

    Parameters
    ----------
    machines : sequence of MachineFacts
        Those that the part is on.
    methods : sequence of str
        Cautions of the part's own methods for this test, as written.
    disconnect : str
        What must come off before an insulation test; "" for another test.
    test_volts : float
        The most that the part is tested with; 0 for another test.
    hermetic : bool
        Whether its winding stands in refrigerant.
    """

    machines: Sequence[MachineFacts] = field(default=())
    methods: Sequence[str] = field(default=())
    disconnect: str = ""
    test_volts: float = 0.0
    hermetic: bool = False


def winding_essentials(facts: CautionFacts) -> tuple[Statement, ...]:
    """Return what must stand open before windings are read, whatever the methods add."""
    return (*_isolating(facts), *_named(WINDING_CAUTIONS))


def insulation_essentials(facts: CautionFacts) -> tuple[Statement, ...]:
    """Return what must stand open before an insulation test, whatever the methods add."""
    own = (
        _caution("disconnect-first", disconnect=facts.disconnect),
        _caution("test-voltage", test_volts=facts.test_volts),
    )
    hermetic = _named(HERMETIC_CAUTIONS if facts.hermetic else ())
    return (*_isolating(facts), *own, *hermetic, *_named(INSULATION_CAUTIONS))


def with_methods(
    essentials: tuple[Statement, ...], *, facts: CautionFacts
) -> tuple[Statement, ...]:
    """Return the essentials with what the part's methods add, and the maker's word last."""
    methods = [_caution("of-method", caution=words) for words in dict.fromkeys(facts.methods)]
    return (*essentials, *methods, _caution("maker-first"))


def _isolating(facts: CautionFacts) -> list[Statement]:
    return [_isolated(machine) for machine in facts.machines]


def _isolated(machine: MachineFacts) -> Statement:
    figures: dict[str, object] = {
        "machine": machine.name,
        "isolate_at": machine.isolate_at,
        "drained_below_volts": machine.drained_below_volts,
        "drain_at": machine.drain_at,
    }
    if machine.no_charge:
        return _caution("machine-no-charge", no_charge=machine.no_charge, **figures)
    return _caution("machine-drained", drain_minutes=machine.drain_min, **figures)


def _named(caution_ids: Sequence[str]) -> list[Statement]:
    return [_caution(caution_id) for caution_id in caution_ids]


def _caution(caution_id: str, **figures: object) -> Statement:
    return Statement(id=f"caution.{caution_id}", figures=figures)
