"""Draw the icons for a phone's home screen: our mark, as PNG, the same bytes each time."""

from __future__ import annotations

import io
import itertools
from collections.abc import Mapping
from functools import cache

import numpy as np

GROUND = (10, 85, 96)
LINE = (255, 217, 168)
BOX = 32.0
"""The mark is drawn in a box of this size, as in site_config/assets/mark.svg."""
MARK = ((3, 20), (7, 20), (10, 11), (16, 24), (22, 11), (25, 20), (29, 20))
STROKE = 2.8
CORNER = 6.0
ICONS: Mapping[str, tuple[int, float, float]] = {
    "assets/icon-192.png": (192, CORNER, 1.0),
    "assets/icon-512.png": (512, CORNER, 1.0),
    # The system cuts its own shape out of this one: ground to the edge, the mark well inside.
    "assets/icon-cut-512.png": (512, 0.0, 0.72),
    "assets/icon-180.png": (180, 0.0, 0.86),
}
"""Path → (pixels, how much of the corners is cut, size of the mark within the box)."""


def make_icons() -> dict[str, bytes]:
    """Return every icon as PNG, by path in the site."""
    return dict(_icons())


@cache
def _icons() -> dict[str, bytes]:
    return {
        path: png(draw(pixels, corner=corner, scale=scale))
        for path, (pixels, corner, scale) in ICONS.items()
    }


def draw(pixels: int, *, corner: float, scale: float) -> np.ndarray:
    """Return the mark as pixels, (height, width, 4), 8 bit each: red, green, blue, cover.

    Each pixel is covered by as much as its middle lies inside the shape, over one pixel's width.
    """
    middle = (np.arange(pixels) + 0.5) * BOX / pixels
    x, y = np.meshgrid(middle, middle)
    width = BOX / pixels
    ground = _cover(_outside_box(x, y, corner), width)
    within = (np.stack([x, y]) - BOX / 2) / scale + BOX / 2
    line = _cover((_from_line(*within) - STROKE / 2) * scale, width)
    colour = np.array(GROUND) + (np.array(LINE) - np.array(GROUND)) * line[..., None]
    return np.concatenate([colour.round(), (ground * 255).round()[..., None]], axis=-1).astype(
        np.uint8
    )


def png(pixels: np.ndarray) -> bytes:
    """Return pixels as a PNG file: no time and no words in it."""
    # Imported here: only a build needs it.
    from PIL import Image

    raw = io.BytesIO()
    Image.fromarray(pixels).save(raw, "PNG", optimize=True)
    return raw.getvalue()


def _cover(outside: np.ndarray, width: float) -> np.ndarray:
    return np.clip(0.5 - outside / width, 0.0, 1.0)


def _outside_box(x: np.ndarray, y: np.ndarray, corner: float) -> np.ndarray:
    """Return how far a place lies outside the plate with cut corners; negative inside."""
    dx, dy = np.abs(x - BOX / 2), np.abs(y - BOX / 2)
    cut = (dx + dy - (BOX - corner)) / np.sqrt(2)
    return np.maximum(np.maximum(dx, dy) - BOX / 2, cut)


def _from_line(x: np.ndarray, y: np.ndarray) -> np.ndarray:
    """Return how far a place is from the mark's line."""
    nearest = np.full(x.shape, np.inf)
    for (x1, y1), (x2, y2) in itertools.pairwise(MARK):
        dx, dy = x2 - x1, y2 - y1
        along = np.clip(((x - x1) * dx + (y - y1) * dy) / (dx * dx + dy * dy), 0, 1)
        nearest = np.minimum(nearest, np.hypot(x - x1 - along * dx, y - y1 - along * dy))
    return nearest
