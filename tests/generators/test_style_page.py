"""The page Style names every token there is, and no style goes its own way past them."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from generators.pages.style import COLOURS, SIZES, make_style

ASSETS = Path(__file__).parents[2] / "site_config" / "assets"
SHEETS = ("frame", "find", "job-bar", "kinds", "status", "forms")


def sheet(name: str) -> str:
    text = (ASSETS / f"{name}.css").read_text(encoding="utf-8")
    return re.sub(r"/\*.*?\*/", "", text, flags=re.DOTALL)


def test_every_colour_of_the_tokens_is_on_the_page_and_no_other() -> None:
    assert set(re.findall(r"--([\w-]+): #", sheet("tokens"))) == set(COLOURS)


def test_dark_gives_other_colours_to_names_that_there_are() -> None:
    dark = set(re.findall(r"--([\w-]+): #", sheet("dark")))
    assert set(COLOURS) - dark == {"stripe", "on-photo"}
    assert dark <= set(COLOURS)


def test_every_size_that_a_style_takes_is_on_the_page() -> None:
    taken = {
        size for name in SHEETS for size in re.findall(r"font-size: var\(--([\w-]+)\)", sheet(name))
    }
    assert taken - {"unit"} == set(SIZES)


@pytest.mark.parametrize("name", SHEETS)
def test_no_style_has_a_colour_or_a_size_of_its_own(name: str) -> None:
    text = sheet(name)
    assert re.findall(r"#[0-9a-fA-F]{3,8}\b|rgb\(", text) == []
    # Letters in a drawing are measured in the drawing; the root's size is what all others are of.
    sizes = re.findall(r"font-size: ([^;]+);", text)
    assert {
        size for size in sizes if not re.fullmatch(r"var\(--[\w-]+\)|1[2-4]px|0\.95em", size)
    } <= {"106.25%"}


def test_every_piece_is_shown_as_pages_have_it() -> None:
    body = make_style().body
    for piece in ("shown", "plug", "verdict", "go", "lines", "steps", "facts", "sign"):
        assert f'class="ohm-{piece}' in body, piece
        assert f".ohm-{piece}" in sheet("kinds") + sheet("forms"), piece
