"""A sketch shows every pin, and the one in question stands out without its colour."""

import re

from generators.sketch import THUMB, draw_sketch, pin_links
from kb.model import Drawing
from kb.model.drawing import Pin


def _drawing() -> Drawing:
    return Drawing(
        id="unit",
        name="Unit",
        source="practice",
        family="unit-family",
        described="A box with two pins.",
        shapes=[{"box": {"x": "10", "y": "10", "w": "80", "h": "60", "words": "Coil"}}],
        pins={
            "S1": {"x": "20", "y": "20", "where": "left end of the coil"},
            "S2": {"x": "70", "y": "50", "where": "right end of the coil"},
        },
    )


def test_the_pin_in_question_has_a_ring_and_its_place_in_words() -> None:
    drawn = draw_sketch(_drawing(), here="S2")
    assert drawn.count("ohm-pin-ring") == 1
    assert "<figcaption><strong>S2</strong>: right end of the coil</figcaption>" in drawn


def test_the_pin_in_question_is_drawn_last_so_that_nothing_covers_it() -> None:
    drawn = draw_sketch(_drawing(), here="S1")
    assert drawn.index(">S2</text>") < drawn.index(">S1</text>")


def test_a_tap_on_another_pin_leads_to_its_page_and_says_where() -> None:
    drawn = draw_sketch(_drawing(), here="S1", goes_to={"S2": ("../sensors/s2.html", "Outlet")})
    assert '<a href="../sensors/s2.html" aria-label="S2: Outlet">' in drawn


def test_without_a_pin_in_question_the_whole_is_described() -> None:
    assert "<figcaption>A box with two pins.</figcaption>" in draw_sketch(_drawing())


def test_only_the_pins_that_are_asked_for_are_drawn() -> None:
    drawn = draw_sketch(_drawing(), only=["S2"])
    assert ">S2</text>" in drawn and ">S1</text>" not in drawn


def test_a_tap_beside_a_pin_still_means_it_up_to_half_way_to_the_next() -> None:
    near = _drawing().model_copy(
        update={
            "pins": {
                "S1": Pin(x="20", y="20", where="left"),
                "S2": Pin(x="30", y="20", where="right"),
                "S3": Pin(x="90", y="90", where="far"),
            }
        }
    )
    drawn = draw_sketch(near, goes_to=dict.fromkeys(near.pins, ("../s.html", "It")))
    radii = [float(r) for r in re.findall(r' r="([\d.]+)" class="ohm-pin-reach"', drawn)]
    assert radii == [20.0, 20.0, THUMB]


def test_the_pins_stand_once_more_as_links_each_with_its_name_once() -> None:
    ways = {"S2": ("../sensors/s2.html", "S2 outlet"), "S1": ("../sensors/s1.html", "S1")}
    assert pin_links(_drawing(), ways) == (
        '<ul class="ohm-pins"><li><a href="../sensors/s1.html"><strong>S1</strong> S1</a></li>'
        '<li><a href="../sensors/s2.html"><strong>S2</strong> outlet</a></li></ul>'
    )
