"""What decides on a sensor's readings: facts without the entry's words."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from kb.numbers.characteristic import Characteristic
from kb.numbers.grid import Grid

Curve = Characteristic | Grid


@dataclass(frozen=True, kw_only=True)
class SensorFacts:
    """What an entry says of a sensor, or of a bare curve: no words, only what decides.

    Parameters
    ----------
    curve : Characteristic or Grid
    curve_id : str
    allow_k : float
        What the machine tolerates in K; 0 for no word on it.
    meets_c : (lowest, highest) or None
        What it meets in service in °C; None where nobody says.
    pull_up_ohm, supply_v : float or None
        The board's pull-up in Ω and what it feeds through it, where the entry knows them.
    instructions : tuple of str
        Which of when_good, when_bad, when_open, when_short the entry has.
    family_curves : mapping of curve id to curve
        Those of the family's other sensors.
    labels : mapping of curve id to labels
        Which sensors of the family have it.
    other_curves : mapping of curve id to curve
        Those of the notes beyond the family.
    twins : tuple of str
        Labels of the family's sensors on the same curve that rest at another place: where plugs are
        exchanged, this one's shows the temperature of theirs.
    live_v : float or None
        The most volts that stand anywhere in its machine; None where nobody says.
    sisters : tuple of str
        Labels of all the family's other sensors on the same curve, wherever they rest.
    """

    curve: Curve
    curve_id: str
    allow_k: float = 0.0
    meets_c: tuple[float, float] | None = None
    pull_up_ohm: float | None = None
    supply_v: float | None = None
    live_v: float | None = None
    instructions: tuple[str, ...] = ()
    family_curves: Mapping[str, Curve] = field(default_factory=dict)
    labels: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    other_curves: Mapping[str, Curve] = field(default_factory=dict)
    twins: tuple[str, ...] = ()
    sisters: tuple[str, ...] = ()
