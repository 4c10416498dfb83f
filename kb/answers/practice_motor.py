"""What instruments show on a practice machine's motors: windings, and insulation to earth."""

from __future__ import annotations

import math

from kb.numbers.insulation import HIGH_C, LOW_C, brought_to_c
from kb.numbers.rounding import all_digits, significant
from kb.numbers.winding_metal import corrected_to
from kb.numbers.winding_triangle import is_triangle

from .insulation_tested import InsulationFacts, InsulationVoltage
from .practice_draw import Hidden, luck
from .practice_machine import PracticeMachine, PracticePart
from .practice_reading import Shown
from .winding_reading import WindingFacts

MOTORS, EARTHS, TESTERS = 6000, 7000, 8000
"""Where the draws of a job's windings, insulations and testers begin, by stream."""
LEVEL = 0.3
"""How much of its tolerance all windings of a sound part are off together. No source."""
EVEN = 0.15
"""How much of the balance that it may have a sound winding uses up. No source."""
SOUND_TIMES = 40.0
"""Sound insulation has so many times its own limit. Common practice, no source."""
SHOWN_DIGITS = 3


def part_number(machine: PracticeMachine, *, part: str) -> int:
    """Return the place of a part among the machine's: its draws hang on it."""
    return list(machine.parts).index(part)


def pairs_ohm(
    hidden: Hidden, *, machine: PracticeMachine, part: str, windings: WindingFacts
) -> dict[str, float]:
    """Return Ω between each pair of a part's leads, taken off, at today's temperature.

    Notes
    -----
    A star's pair is two windings in a row, a delta's its own beside the two others; any other pair
    is a winding by itself.
    """
    first = MOTORS + 10 * part_number(machine, part=part)
    level = 1 + LEVEL * (windings.tolerance_share or 0.0) * luck(hidden.seed, stream=first)
    own_ohm = []
    for i, pair_ohm in enumerate(windings.pairs.values()):
        even = 1 + EVEN * (windings.balance_share or 0.0) * luck(hidden.seed, stream=first + 1 + i)
        at_ohm = corrected_to(
            pair_ohm * level * even,
            from_c=windings.at_c,
            to_c=hidden.air_c,
            constant=windings.constant,
        )
        own_ohm.append(float(at_ohm) * _left(hidden, part=part, winding=i))
    return _joined(windings, own_ohm=own_ohm)


def _left(hidden: Hidden, *, part: str, winding: int) -> float:
    """Return what the fault leaves of a winding: infinity for a break."""
    if hidden.kind != "winding" or hidden.part != part or hidden.winding != winding:
        return 1.0
    return math.inf if hidden.by == 1.0 else 1 - hidden.by


def _joined(windings: WindingFacts, *, own_ohm: list[float]) -> dict[str, float]:
    pairs = list(windings.pairs)
    if windings.connection not in ("star", "delta") or not is_triangle(pairs):
        return dict(zip(pairs, own_ohm, strict=True))
    if windings.connection == "star":
        # Winding i belongs to the lead that pair i and the one before it share.
        leads = [_shared(pairs[i], other=pairs[i - 1]) for i in range(3)]
        halves = {lead: ohm / 2 for lead, ohm in zip(leads, own_ohm, strict=True)}
        return {pair: sum(halves[lead] for lead in pair.split("-")) for pair in pairs}
    wound = [ohm * 1.5 for ohm in own_ohm]
    return {
        pair: _beside(wound[i], other_ohm=wound[i - 1] + wound[i - 2])
        for i, pair in enumerate(pairs)
    }


def _shared(pair: str, *, other: str) -> str:
    return next(lead for lead in pair.split("-") if lead in other.split("-"))


def _beside(first_ohm: float, *, other_ohm: float) -> float:
    return 1 / (1 / first_ohm + 1 / other_ohm)


def to_earth_ohm(hidden: Hidden, *, machine: PracticeMachine, part: PracticePart) -> float:
    """Return Ω of a part's insulation to earth, its leads off, at today's temperature."""
    limit = part.insulation
    if limit is None:
        raise ValueError(f"{part.id} has no insulation to test")
    damp = hidden.kind == "damp" and hidden.part == part.id
    stream = EARTHS + part_number(machine, part=part.id)
    times = hidden.by if damp else SOUND_TIMES * 2 ** luck(hidden.seed, stream=stream)
    return float(
        brought_to_c(
            limit.min_ohm * times,
            from_c=_correctable_c(limit.limit_c),
            to_c=_correctable_c(hidden.air_c),
            material=limit.material,
        )
    )


def _correctable_c(t_c: float) -> float:
    return min(max(t_c, LOW_C), HIGH_C)


def shown_insulation(voltage: InsulationVoltage, *, r_ohm: float, stray: float) -> Shown:
    """Return what an insulation tester shows after a minute, to three digits."""
    seen_ohm = significant(r_ohm * (1 + stray * 0.9 * voltage.percent / 100), digits=SHOWN_DIGITS)
    if seen_ohm > voltage.max_ohm:
        return Shown(value=math.inf, typed="OL", digit=math.inf)
    return Shown(value=seen_ohm, typed=f"{all_digits(seen_ohm)}Ω", digit=0.0)


def trend_shown(hidden: Hidden, *, part: str, limit: InsulationFacts) -> str:
    """Return how the figure moved through the minute: damp stays flat, sound insulation rises."""
    damp = hidden.kind == "damp" and hidden.part == part
    return "flat" if damp else "rising" if limit.wound else ""
