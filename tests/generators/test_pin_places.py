"""A pin's name stands at its place, and steps aside only where it is crowded."""

from __future__ import annotations

import itertools

import pytest

from generators.pin_places import Box, pin_size, place_names, word_box
from generators.sketch import draw_sketch
from kb.model import Drawing

SIZE = (400.0, 300.0)


def boxes(places: dict[str, tuple[float, float]]) -> list[Box]:
    return [Box(x, y, *pin_size(name)) for name, (x, y) in places.items()]


def test_where_there_is_room_every_name_stands_at_its_place() -> None:
    pins = {"R1": (50.0, 50.0), "R2": (200.0, 50.0), "U V W": (200.0, 200.0)}
    assert place_names(pins, words=[], size=SIZE) == pins


@pytest.mark.parametrize("apart", [0.0, 6.0, 15.0])
def test_names_that_would_lie_on_each_other_step_aside_and_stay_near(apart: float) -> None:
    pins = {name: (200 + apart * i, 150.0) for i, name in enumerate(("X1", "X2", "L1 L2", "PE"))}
    placed = place_names(pins, words=[], size=SIZE)
    assert not any(a.meets(b) for a, b in itertools.combinations(boxes(placed), 2))
    assert (
        max(abs(placed[name][0] - x) + abs(placed[name][1] - y) for name, (x, y) in pins.items())
        < 110
    )


def test_a_name_keeps_off_words_and_within_the_sketch() -> None:
    coil = word_box("coil", x=100, y=104)
    (beside, corner) = boxes(
        place_names({"R1": (100.0, 100.0), "R2": (2.0, 299.0)}, words=[coil], size=SIZE)
    )
    assert not beside.meets(coil)
    assert corner.x - corner.wide / 2 > 0 and corner.y + corner.high / 2 < SIZE[1]


def test_what_stepped_aside_is_led_back_to_its_place_by_a_line() -> None:
    pins = {name: {"x": "50", "y": "50", "where": "here"} for name in ("X1", "X2")}
    drawn = draw_sketch(
        Drawing(
            id="board",
            name="Board",
            source="practice",
            family="unit",
            described="Two pins in one place.",
            shapes=[{"box": {"x": "10", "y": "10", "w": "80", "h": "80"}}],
            pins=pins,
        )
    )
    assert drawn.count('class="ohm-pin-leader"') == drawn.count('class="ohm-pin-at"') == 1
    assert 'cx="200" cy="150" r="3" class="ohm-pin-at"' in drawn
