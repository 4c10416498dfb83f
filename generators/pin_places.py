"""Where the name of each pin stands in a sketch: at its place, or beside it where it is crowded."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache

PIN_TEXT, WORD_TEXT = 14.0, 13.0
"""Size of a pin's name and of a shape's words, in the sketch's units."""
PIN_HIGH = 21.0
ROOM = 1.5
"""Between two names, and from a name to the edge."""
RINGS = 24
"""So many steps aside are tried, of five units each: a third of a sketch."""
_WIDE = {" ": 0.35, "-": 0.42, ",": 0.38, ".": 0.38, "I": 0.38, "1": 0.7, "M": 1.0, "W": 1.1}
"""How wide a letter is, of its size, in the widest of the fonts that a page may have, bold."""
_WIDEST = 0.78
_WORD_LETTER = 0.62
"""The same of small letters that are not bold, on average."""


@dataclass(frozen=True)
class Box:
    """A box in the sketch's units: its middle, and how wide and high it is."""

    x: float
    y: float
    wide: float
    high: float

    def meets(self, other: Box) -> bool:
        """Whether two boxes lie on each other, or closer than the room between names."""
        return (
            abs(self.x - other.x) < (self.wide + other.wide) / 2 + ROOM
            and abs(self.y - other.y) < (self.high + other.high) / 2 + ROOM
        )


def pin_size(name: str) -> tuple[float, float]:
    """Return how wide and high a pin is drawn, in the sketch's units."""
    letters = sum(_WIDE.get(letter, _WIDEST) for letter in name)
    return max(PIN_HIGH, PIN_TEXT * letters + 9), PIN_HIGH


def word_box(words: str, *, x: float, y: float) -> Box:
    """Return the box of a shape's words, whose line of writing has its middle at x, y."""
    return Box(x, y - WORD_TEXT * 0.34, WORD_TEXT * _WORD_LETTER * len(words), WORD_TEXT)


def place_names(
    pins: Mapping[str, tuple[float, float]], *, words: Sequence[Box], size: tuple[float, float]
) -> dict[str, tuple[float, float]]:
    """Return where each pin's name has its middle.

    A name that meets no other stands at its pin's place. Where it is crowded, those stay that leave
    the most others where they are; the rest step aside, as little as there is room for. Where there
    is none at all, a name stays at its place.

    Parameters
    ----------
    pins : mapping of name → (x, y)
        Their places, in the sketch's units.
    words : sequence of Box
        What is written in the sketch already.
    size : (float, float)
        Of the sketch.
    """
    return dict(_placed(tuple(pins.items()), tuple(words), size))


@lru_cache(maxsize=1024)
def _placed(
    pins_at: tuple[tuple[str, tuple[float, float]], ...],
    words: tuple[Box, ...],
    size: tuple[float, float],
) -> tuple[tuple[str, tuple[float, float]], ...]:
    """Return the same for what can be remembered: each drawing stands on many pages."""
    pins = dict(pins_at)
    at_place = {name: Box(x, y, *pin_size(name)) for name, (x, y) in pins.items()}
    stands: dict[str, Box] = {}
    taken = list(words)
    for name in sorted(pins, key=lambda pin: _crowd(pin, at_place)):
        own = at_place[name]
        # A place that no other name can leave is not covered by one that can.
        places = [_dot(at_place[other]) for other in pins if other != name]
        free: Box | None = None
        for box in _around(own, size=size):
            if _meets_any(box, taken) or (box != own and _meets_any(box, places)):
                continue
            # A line that crosses no name is followed best; one that does runs under it.
            if not any(_meets_any(at, taken) for at in _way(own, to=box)):
                free = box
                break
            free = free or box
        stands[name] = free or own
        taken += [stands[name], *_way(own, to=stands[name])]
    return tuple((name, (stands[name].x, stands[name].y)) for name in pins)


def _crowd(name: str, boxes: Mapping[str, Box]) -> int:
    """Return how many other names one meets where its pin is."""
    return sum(boxes[name].meets(box) for other, box in boxes.items() if other != name)


def _dot(box: Box) -> Box:
    return Box(box.x, box.y, 6, 6)


def _way(own: Box, *, to: Box) -> list[Box]:
    """Return the way from a pin's place to its name, in steps, where the name does not cover it."""
    steps = int(math.hypot(to.x - own.x, to.y - own.y) // 4)
    way = [
        Box(own.x + (to.x - own.x) * i / steps, own.y + (to.y - own.y) * i / steps, 1, 1)
        for i in range(1, steps)
    ]
    return [step for step in way if not step.meets(to)]


def _meets_any(box: Box, others: Iterable[Box]) -> bool:
    return any(box.meets(other) for other in others)


def _around(own: Box, *, size: tuple[float, float]) -> Iterator[Box]:
    """Yield where a name may stand, within the sketch, the nearest first."""
    wide, high = size
    least_x, least_y = own.wide / 2 + ROOM, own.high / 2 + ROOM
    inside = Box(
        min(max(own.x, least_x), wide - least_x),
        min(max(own.y, least_y), high - least_y),
        own.wide,
        own.high,
    )
    yield inside
    for ring, turn in itertools.product(range(1, RINGS), range(16)):
        angle = math.pi / 8 * turn
        away = 5.0 * ring
        x = inside.x + math.cos(angle) * (away + own.wide / 2 * min(ring, 2) / 2)
        y = inside.y + math.sin(angle) * (away + own.high / 2 * min(ring, 2) / 2)
        if least_x <= x <= wide - least_x and least_y <= y <= high - least_y:
            yield Box(x, y, own.wide, own.high)
