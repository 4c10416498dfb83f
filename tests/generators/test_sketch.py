"""A sketch shows every pin, and the one in question stands out without its colour."""

from generators.sketch import draw_sketch
from kb.model import Drawing


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
