"""A set of drills out of a seed, alike for a whole team, and one drill on one entry."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

from kb.numbers.seeded import Seeded

from .drill import KINDS, Drill
from .drill_choice import (
    code_of_blinks,
    on_drawings,
    on_lamps,
    place_of_sensor,
    plug_of_sensor,
    that_are_killed,
    what_would_kill,
    with_plugs,
)
from .drill_curve import expected_resistance, on_curve, temperature_of_reading, verdict_of_reading
from .drill_meter import display_of_meter, to_read
from .drill_notes import DrillNotes
from .drill_order import order_of_checks, to_make_safe, to_order, what_is_safe_first

SET = 10
"""Drills in a set: some minutes of a break."""


def _readable(notes: DrillNotes) -> Sequence[Any]:
    return on_curve(notes) if notes.meters else []


_MADE: dict[str, tuple[Callable[[DrillNotes], Sequence[Any]], Callable[..., Drill]]] = {
    "ohm": (on_curve, expected_resistance),
    "temperature": (on_curve, temperature_of_reading),
    "verdict": (_readable, verdict_of_reading),
    "blinks": (on_lamps, code_of_blinks),
    "place": (on_drawings, place_of_sensor),
    "plug": (with_plugs, plug_of_sensor),
    "order": (to_order, order_of_checks),
    "safe": (to_make_safe, what_is_safe_first),
    "meter": (to_read, display_of_meter),
    "kills": (that_are_killed, what_would_kill),
}
"""Kind → what can be asked about, and the drill on one of them."""


class DrillPool:
    """What drills can be made on, looked for once.

    Parameters
    ----------
    notes : DrillNotes
    """

    def __init__(self, notes: DrillNotes) -> None:
        self.notes = notes
        self._subjects = {kind: list(found(notes)) for kind, (found, _) in _MADE.items()}

    def about(self, kind: str, *, family: str = "") -> list[Any]:
        """Return what a kind can be made on: of one family, or of all where it is "".

        A meter belongs to no family, and is asked about in each.
        """
        return [
            subject
            for subject in self._subjects[kind]
            if not family or family in _families(subject, family=family)
        ]

    def kinds(self, *, family: str = "") -> list[str]:
        """Return the kinds that these notes have something for."""
        return [kind for kind in KINDS if self.about(kind, family=family)]

    def drill(self, subject: Any, *, kind: str, draw: Seeded) -> Drill:
        """Return a drill of a kind on what `about` found."""
        return _MADE[kind][1](subject, notes=self.notes, draw=draw)

    def drills(
        self, *, seed: int, kind: str = "", family: str = "", count: int = SET
    ) -> list[Drill]:
        """Return the drills of a seed.

        Parameters
        ----------
        seed : int
        kind, family : str
            Which alone; "" for all of them, each kind as often as any other.
        count : int

        Notes
        -----
        Each has a stream of its own, and no entry comes twice before every other has come.
        """
        kinds = Seeded(seed).shuffled([kind] if kind else self.kinds(family=family))
        left: dict[str, list[Any]] = {}
        drills = []
        for place in range(count if kinds else 0):
            draw = Seeded(seed, stream=place + 1)
            this = kinds[place % len(kinds)]
            if not left.get(this):
                left[this] = draw.shuffled(self.about(this, family=family))
            if left[this]:
                drills.append(self.drill(left[this].pop(0), kind=this, draw=draw))
        return drills


def _families(subject: Any, *, family: str) -> tuple[str, ...]:
    """Return the families of a subject; of a meter the one that is asked for."""
    if hasattr(subject, "isolate_at"):
        return (subject.id,)
    return tuple(getattr(subject, "families", (getattr(subject, "family", family),)))
