"""A photo for the notes is upright, small, and says nothing of where and when it was taken."""

from __future__ import annotations

import io
import struct
import sys
import zlib
from pathlib import Path

import pytest
from PIL import ExifTags, Image, ImageCms, PngImagePlugin

from kb.photos import PhotoRefused, light_photo, tidy_photo, upright_size

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
    told = {"jfif", "jfif_version", "jfif_unit", "jfif_density", "progressive", "progression"}
    assert set(tidy.info) <= told


@pytest.mark.parametrize(
    ("size", "kept"), [((4000, 3000), (1600, 1200)), ((900, 3200), (450, 1600)), ((9, 7), (9, 7))]
)
def test_a_large_photo_is_shrunk_and_a_small_one_is_not_stretched(
    size: tuple[int, int], kept: tuple[int, int]
) -> None:
    assert opened(tidy_photo(saved(pixels(wide=size[0], high=size[1])))).size == kept


CUT_OFF = "holds a picture that is cut off or damaged"


@pytest.mark.parametrize(
    ("raw", "words"),
    [
        (b"", "is empty"),
        (b"no picture", "holds no picture that can be read here"),
        (saved(pixels(), "GIF"), "holds no picture that can be read here"),
        (b"\0\0\0\x20ftypisom a film", "holds no picture that can be read here"),
        (b"\0\0\0\x18ftypheic\0\0\0\0mif1heic", CUT_OFF),
        (saved(pixels(wide=400, high=400))[:600], CUT_OFF),
        (saved(pixels(wide=400, high=400), "PNG")[:300], CUT_OFF),
        (saved(pixels(wide=400, high=400), "WEBP")[:100], CUT_OFF),
        (saved(pixels())[:12], CUT_OFF),
    ],
)
def test_what_is_no_whole_picture_is_refused(raw: bytes, words: str, tmp_path: Path) -> None:
    with pytest.raises(PhotoRefused) as refused:
        tidy_photo(raw)
    assert str(refused.value) == words
    (tmp_path / "photo.jpg").write_bytes(raw)
    with pytest.raises(PhotoRefused) as refused:
        upright_size(tmp_path / "photo.jpg")
    assert str(refused.value) == words


def claiming(*, wide: int, high: int) -> bytes:
    """Return a whole PNG of a few bytes that says it is as large as this."""
    head = struct.pack(">IIBBBBB", wide, high, 1, 0, 0, 0, 0)
    lines = zlib.compress(b"\0" * 100, 9)
    pieces = ((b"IHDR", head), (b"IDAT", lines), (b"IEND", b""))
    return b"\x89PNG\r\n\x1a\n" + b"".join(
        struct.pack(">I", len(body)) + name + body + struct.pack(">I", zlib.crc32(name + body))
        for name, body in pieces
    )


@pytest.mark.parametrize(
    ("edge", "words"),
    [
        (5_500, "has 5500 by 5500 pixels, and 30 million at most are read"),
        (30_000, "claims more pixels than any camera takes; 60 million at most are read"),
    ],
)
def test_a_picture_of_more_pixels_than_a_camera_has_is_not_unpacked(
    monkeypatch: pytest.MonkeyPatch, edge: int, words: str
) -> None:
    monkeypatch.setattr(Image.Image, "load", lambda *_: pytest.fail("it was unpacked"))
    with pytest.raises(PhotoRefused) as refused:
        tidy_photo(claiming(wide=edge, high=edge))
    assert str(refused.value) == words
    assert refused.value.hint == (
        "save it smaller: 1600 pixels on its longer side are all that is shown"
    )


def test_a_file_that_is_too_heavy_is_not_even_read(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    heavy = tmp_path / "heavy.jpg"
    with heavy.open("wb") as file:
        file.truncate(30_000_000)
    monkeypatch.setattr(Path, "read_bytes", lambda *_: pytest.fail("it was read"))
    with pytest.raises(PhotoRefused) as refused:
        upright_size(heavy)
    assert str(refused.value) == "has 30.0 MB, and 25 MB at most are read"


def test_a_broken_note_of_how_the_camera_was_held_does_not_lose_the_picture() -> None:
    broken = saved(pixels(), exif=b"Exif\0\0MM\0*\xff\xff\xff\xffno directory here")
    assert opened(tidy_photo(broken)).size == (40, 20)


def test_sixteen_bits_of_grey_keep_their_shades() -> None:
    grey = Image.new("I;16", (2, 1))
    grey.putpixel((0, 0), 0x8000)
    grey.putpixel((1, 0), 0xFFFF)
    dark, bright = (opened(tidy_photo(saved(grey, "PNG"))).getpixel((x, 0))[0] for x in (0, 1))
    assert abs(dark - 128) < 8 and bright > 247


def profile(space: str = "sRGB") -> bytes:
    return ImageCms.ImageCmsProfile(ImageCms.createProfile(space)).tobytes()


def red_and_blue_exchanged() -> bytes:
    """Return sRGB with the places of its red and its blue exchanged."""
    return profile().replace(b"rXYZ", b"red?").replace(b"bXYZ", b"rXYZ").replace(b"red?", b"bXYZ")


def test_colours_are_brought_to_what_a_browser_takes_them_for_without_a_profile() -> None:
    exchanged = saved(pixels(), icc_profile=red_and_blue_exchanged())
    red, green, blue = opened(tidy_photo(exchanged)).getpixel((5, 5))
    assert blue > 180 and red < 90 and green < 90


@pytest.mark.parametrize("given", [profile(), profile("LAB"), b"no profile"])
def test_a_profile_that_says_nothing_of_use_changes_no_colour(given: bytes) -> None:
    assert is_red(opened(tidy_photo(saved(pixels(), icc_profile=given))).getpixel((5, 5)))


def test_the_four_inks_of_print_become_colours_of_a_screen() -> None:
    assert is_red(opened(tidy_photo(saved(pixels().convert("CMYK")))).getpixel((5, 5)))


def test_a_photo_is_drawn_smaller_until_it_is_light_enough() -> None:
    noise = Image.effect_noise((1600, 1200), 90)
    tidy = tidy_photo(saved(noise, "PNG"))
    light = light_photo(tidy, most_bytes=150_000)
    assert len(light) <= 150_000 < len(tidy)
    assert light_photo(light, most_bytes=150_000) == light


def test_without_the_library_heic_is_refused_and_says_what_to_do(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setitem(sys.modules, "pillow_heif", None)
    with pytest.raises(PhotoRefused) as refused:
        tidy_photo(b"\0\0\0\x18ftypheic\0\0\0\0")
    assert str(refused.value) == "is HEIC, and the library that reads HEIC is not installed"
    assert refused.value.hint == (
        "run 'pip install pillow-heif' where ohmfolio is installed, or save it as JPEG"
    )
