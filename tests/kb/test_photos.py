"""A photo for the notes is upright, small, and says nothing of where and when it was taken."""

from __future__ import annotations

import io

import pytest
from PIL import ExifTags, Image, PngImagePlugin

from kb import photos
from kb.photos import PhotoRefused, tidy_photo

ORIENTATION = 0x0112
TURN_RIGHT = 6
"""Exif: the picture must be turned by 90° clockwise to stand upright."""


def pixels(*, wide: int = 40, high: int = 20) -> Image.Image:
    """Return a white picture whose upper left quarter is red."""
    image = Image.new("RGB", (wide, high), "white")
    image.paste((255, 0, 0), (0, 0, wide // 2, high // 2))
    return image


def saved(image: Image.Image, kind: str = "JPEG", **options: object) -> bytes:
    raw = io.BytesIO()
    image.save(raw, kind, **options)
    return raw.getvalue()


def opened(raw: bytes) -> Image.Image:
    image = Image.open(io.BytesIO(raw))
    image.load()
    return image


def is_red(pixel: object) -> bool:
    red, green, blue = pixel  # type: ignore[misc]
    return red > 180 and green < 90 and blue < 90


def test_a_photo_held_sideways_is_turned_upright() -> None:
    exif = Image.Exif()
    exif[ORIENTATION] = TURN_RIGHT
    turned = opened(tidy_photo(saved(pixels(), exif=exif)))
    assert turned.size == (20, 40)
    assert is_red(turned.getpixel((15, 5)))
    assert not is_red(turned.getpixel((5, 5)))


def test_nothing_that_a_photo_says_of_itself_stays() -> None:
    exif = Image.Exif()
    exif[ExifTags.Base.Make] = "a camera"
    exif[ExifTags.IFD.GPSInfo] = {ExifTags.GPS.GPSLatitude: (51.0, 30.0, 0.0)}
    raw = saved(pixels(), exif=exif, comment=b"the house of somebody", icc_profile=b"a profile")
    assert b"the house of somebody" in raw
    tidy = tidy_photo(raw)
    assert dict(opened(tidy).getexif()) == {}
    for words in (b"a camera", b"the house of somebody", b"a profile", b"Exif", b"GPS"):
        assert words not in tidy


def test_the_words_in_a_png_stay_behind_and_what_is_see_through_becomes_white() -> None:
    words = PngImagePlugin.PngInfo()
    words.add_text("Where", "the house of somebody")
    clear = Image.new("RGBA", (10, 10), (0, 0, 0, 0))
    raw = saved(clear, "PNG", pnginfo=words)
    tidy = opened(tidy_photo(raw))
    assert tidy.format == "JPEG"
    assert tidy.getpixel((5, 5)) == (255, 255, 255)
    assert set(tidy.info) <= {"jfif", "jfif_version", "jfif_unit", "jfif_density"}


@pytest.mark.parametrize(
    ("size", "kept"), [((4000, 3000), (1280, 960)), ((900, 2560), (450, 1280)), ((9, 7), (9, 7))]
)
def test_a_large_photo_is_shrunk_and_a_small_one_is_not_stretched(
    size: tuple[int, int], kept: tuple[int, int]
) -> None:
    assert opened(tidy_photo(saved(pixels(wide=size[0], high=size[1])))).size == kept


@pytest.mark.parametrize(
    "raw", [b"", b"no picture", saved(pixels(), "GIF"), saved(pixels(wide=400, high=400))[:600]]
)
def test_what_is_no_whole_jpeg_or_png_is_refused(raw: bytes) -> None:
    with pytest.raises(PhotoRefused) as refused:
        tidy_photo(raw)
    assert str(refused.value) == "no JPEG or PNG picture can be read from it"


def test_a_picture_of_more_pixels_than_a_camera_has_is_not_unpacked(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    raw = saved(pixels())
    monkeypatch.setattr(photos, "MOST_PX", 100)
    monkeypatch.setattr(Image.Image, "load", lambda *_: pytest.fail("it was unpacked"))
    with pytest.raises(PhotoRefused) as refused:
        tidy_photo(raw)
    assert str(refused.value) == "it has 40 by 20 pixels, more than is read here"
