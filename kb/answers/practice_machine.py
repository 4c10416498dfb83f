"""A machine to practise on, as the notes know it: what decides, without the entries' words."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from .insulation_tested import InsulationFacts
from .sensor_facts import SensorFacts
from .winding_reading import WindingFacts

KINDS = (
    "drifted",
    "open",
    "short",
    "wet-plug",
    "wrong-part",
    "exchanged",
    "unplugged",
    "board-input",
    "winding",
    "damp",
)
"""What may be hidden in a machine."""
BY_EYE = ("wet-plug", "exchanged", "unplugged")
"""Those that somebody sees who looks at plug and wiring."""
CHECKS = ("sensor", "look", "board", "motor", "other")
"""How a suspect is checked; "other" has no figures: it is looked at as its entry says."""


@dataclass(frozen=True, kw_only=True)
class PracticeSensor:
    """A sensor of the machine that a meter can judge.

    Parameters
    ----------
    place : str
        Where it rests, in the notes' words; "" for a place of its own.
    """

    id: str
    place: str
    facts: SensorFacts


@dataclass(frozen=True, kw_only=True)
class PracticePart:
    """A part of the machine: its windings and its insulation, where the entry knows them."""

    id: str
    windings: WindingFacts | None = None
    insulation: InsulationFacts | None = None


@dataclass(frozen=True, kw_only=True)
class PracticeSuspect:
    """One suspect of a code.

    Parameters
    ----------
    sensor, part : str
        An id of the machine's, or "".
    share, minutes : float
        How likely it is, of one, and how long its check takes.
    check : str
        One of CHECKS.
    kinds : tuple of str
        Which of KINDS may be hidden there; none where the notes do not say what would be measured.
    """

    sensor: str = ""
    part: str = ""
    share: float
    minutes: float
    check: str
    kinds: tuple[str, ...] = ()


@dataclass(frozen=True, kw_only=True)
class PracticeCode:
    """A code of the machine: what it accuses, and what it takes to raise it.

    Parameters
    ----------
    suspects : sequence of PracticeSuspect
        First the one to check first (`kb.suspects`).
    sensor, partner : str
        The sensors that its wiring belongs to; "" for none.
    needs_k : tuple of float
        How far off the sensor must seem, colder (below zero) and hotter; empty where nobody knows.
    """

    id: str
    suspects: Sequence[PracticeSuspect]
    sensor: str = ""
    partner: str = ""
    needs_k: tuple[float, ...] = ()


@dataclass(frozen=True, kw_only=True)
class PracticeMachine:
    """A family to practise on.

    Parameters
    ----------
    wait_min, drained_v : float
        Minutes for stored charge, and below how many volts it counts as drained.
    charge_v : float
        Direct volts that stand there at first; 0 where nothing is stored.
    """

    id: str
    wait_min: float
    drained_v: float
    charge_v: float
    sensors: Mapping[str, PracticeSensor]
    parts: Mapping[str, PracticePart]
    codes: Sequence[PracticeCode]
