"""The mark on a home screen: where it has colour, where ground, and where nothing."""

from __future__ import annotations

import io
import itertools
import re
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from generators.release.icons import (
    BOX,
    CORNER,
    GROUND,
    ICONS,
    LINE,
    MARK,
    STROKE,
    draw,
    make_icons,
)

PIXELS = 320


def at(pixels: np.ndarray, x: float, y: float) -> list[int]:
    """Return red, green, blue and cover at a place of the box."""
    return pixels[round(y / BOX * PIXELS), round(x / BOX * PIXELS)].tolist()


@pytest.mark.parametrize("scale", [1.0, 0.72])
def test_the_line_runs_through_every_corner_of_the_mark_and_every_middle_between(scale: float):
    pixels = draw(PIXELS, corner=0.0, scale=scale)
    middles = [((a + c) / 2, (b + d) / 2) for (a, b), (c, d) in itertools.pairwise(MARK)]
    for place in [*MARK, *middles]:
        x, y = (BOX / 2 + (axis - BOX / 2) * scale for axis in place)
        assert at(pixels, x, y) == [*LINE, 255]


@pytest.mark.parametrize("scale", [1.0, 0.5])
def test_the_line_is_as_wide_as_its_stroke_and_ground_lies_beside_it(scale: float):
    pixels = draw(PIXELS, corner=0.0, scale=scale)
    x, y = (BOX / 2 + (axis - BOX / 2) * scale for axis in (5.0, 20.0))
    half = STROKE / 2 * scale
    assert at(pixels, x, y - half + 0.2) == at(pixels, x, y + half - 0.2) == [*LINE, 255]
    assert at(pixels, x, y - half - 0.2) == at(pixels, x, y + half + 0.2) == [*GROUND, 255]


def test_cut_corners_let_the_screen_through_and_whole_ones_do_not():
    cut = draw(PIXELS, corner=CORNER, scale=1.0)
    inside, outside = CORNER / 2 + 0.2, CORNER / 2 - 0.2
    for x, y in ((inside, inside), (BOX - inside, inside), (CORNER, 0.2), (0.2, CORNER)):
        assert at(cut, x, y) == [*GROUND, 255]
    assert at(cut, outside, outside) == at(cut, BOX - outside, outside) == [*GROUND, 0]
    assert draw(PIXELS, corner=0.0, scale=1.0)[..., 3].min() == 255


def test_each_icon_is_a_png_of_its_size():
    for path, raw in make_icons().items():
        with Image.open(io.BytesIO(raw)) as image:
            assert (image.format, image.size) == ("PNG", (ICONS[path][0],) * 2)
            assert image.mode == "RGBA"


def test_the_icons_and_the_mark_in_a_page_are_one_drawing():
    mark = (Path(__file__).parents[2] / "site_config/assets/mark.svg").read_text(encoding="utf-8")
    course = re.search(r'd="M(3 20[ \d]*)"', mark)[1].split()
    assert tuple(zip(map(int, course[::2]), map(int, course[1::2]), strict=True)) == MARK
    for colour in (GROUND, LINE):
        assert "#{:02x}{:02x}{:02x}".format(*colour) in mark
    assert f'stroke-width="{STROKE}"' in mark
    assert f"M{CORNER:g} 0H" in mark
