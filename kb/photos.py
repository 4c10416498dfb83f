"""Make a photo fit to be shown: upright, small, and without anything that it says of itself."""

from __future__ import annotations

import functools
import io
import warnings
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, TypeVar

if TYPE_CHECKING:
    from PIL import Image

T = TypeVar("T")

EDGE_PX = 1600
"""The longer edge of what is kept. Looked at on a board taken with twelve million pixels: the
smallest print beside a part reads at 1600, and is soft at 1280; 2048 shows no more of it, and
weighs half as much again (183 kB, 131 kB and 266 kB of that board)."""
QUALITY = 75
"""Of the JPEG: no print and no colour of a wire looks different beside 85, which weighs two fifths
more."""
MOST_BYTES = 25_000_000
"""The largest file that is read. Twelve million pixels come as 3 to 6 MB of JPEG or up to 24 MB of
PNG; the notes are copied to every keeper, and more helps nobody (common practice, no source)."""
MOST_PX = 60_000_000
"""Pixels of the largest picture that is unpacked: a phone's finest has some fifty million (from
memory), and each pixel takes four bytes of memory. A small file can claim any number of them."""
MOST_PX_WHOLE = 30_000_000
"""The same of PNG and WebP, which are unpacked in one piece; a JPEG is shrunk while it is read."""
_KINDS = ("JPEG", "PNG", "WEBP")
_BEGINNINGS = (b"\xff\xd8\xff", b"\x89PNG", b"RIFF")
"""How a JPEG, PNG or WebP begins: what begins so and cannot be read has not come whole."""
_HEIC_BRANDS = (b"heic", b"heix", b"heim", b"heis", b"hevc", b"hevx", b"mif1", b"msf1")
"""What a file of this kind may call itself after `ftyp` (ISO/IEC 23008-12)."""
_AGAIN = "copy the photo from the camera again"
_SMALLER = f"save it smaller: {EDGE_PX} pixels on its longer side are all that is shown"
_TURNS = {
    2: "FLIP_LEFT_RIGHT",
    3: "ROTATE_180",
    4: "FLIP_TOP_BOTTOM",
    5: "TRANSPOSE",
    6: "ROTATE_270",
    7: "TRANSVERSE",
    8: "ROTATE_90",
}
"""Exif's orientation → what stands it upright (JEITA CP-3451, tag 0x0112)."""
_ORIENTATION = 0x0112
_LYING = range(5, 9)
"""Orientations in which width and height change places."""


class PhotoRefused(ValueError):
    """A file that is no photo, no whole one, or one that is too large; its words follow its name.

    `hint` says what would work.
    """

    def __init__(self, message: str, *, hint: str) -> None:
        super().__init__(message)
        self.hint = hint


def upright_size(file: Path) -> tuple[int, int]:
    """Return width and height of a photo as it stands upright, in pixels; it is read to its end.

    Raises
    ------
    PhotoRefused
        When no whole picture can be read from it, or it is larger than is read here.
    OSError
        When the file cannot be read.
    """
    state = file.stat()
    _refuse_heavy(state.st_size)
    return _upright_size(file, state.st_size, state.st_mtime_ns)


@functools.lru_cache(maxsize=1024)
def _upright_size(file: Path, size: int, changed_ns: int) -> tuple[int, int]:
    """Return it once for each state of a file: check, makers and `serve` ask again and again."""

    def measured(image: Image.Image) -> tuple[int, int]:
        wide, high = image.size
        # Of a JPEG every eighth pixel is drawn; still every byte is read, in a third of the time.
        image.draft(None, (1, 1))
        image.load()
        return (high, wide) if _orientation(image) in _LYING else (wide, high)

    return _of_picture(file.read_bytes(), measured)


def tidy_photo(raw: bytes, *, edge_px: int = EDGE_PX, quality: int = QUALITY) -> bytes:
    """Return a photo as a JPEG that is upright, no longer than `edge_px`, and says nothing else.

    Place, time, camera, words and comments stay behind, whatever they are kept in: a new picture
    is drawn from the pixels alone. Its colours are brought to sRGB, which is what a picture
    without a profile is taken for. What is see-through becomes white. The same photo gives the
    same bytes.

    Raises
    ------
    PhotoRefused
        When no whole picture can be read from it, or it is larger than is read here.
    """
    _refuse_heavy(len(raw))

    def drawn(image: Image.Image) -> bytes:
        from PIL import Image

        upright = _in_srgb(_shrunk(image, edge_px=edge_px), profile=image.info.get("icc_profile"))
        turn = _TURNS.get(_orientation(image))
        if turn is not None:
            upright = upright.transpose(Image.Transpose[turn])
        # A picture of its own: what an opened one carries along would be written out with it.
        alone = Image.new("RGB", upright.size)
        alone.paste(upright)
        written = io.BytesIO()
        alone.save(written, "JPEG", quality=quality, optimize=True, progressive=True)
        return written.getvalue()

    return _of_picture(raw, drawn)


def light_photo(tidy: bytes, *, most_bytes: int) -> bytes:
    """Return a tidy photo, drawn smaller until it weighs no more; in the end it is a thumbnail."""
    light = tidy
    for edge_px in (1280, 1024, 800, 640, 480, 320):
        if len(light) <= most_bytes:
            break
        light = tidy_photo(tidy, edge_px=edge_px)
    return light


def _refuse_heavy(size: int) -> None:
    if size > MOST_BYTES:
        raise PhotoRefused(
            f"has {size / 1e6:.1f} MB, and {MOST_BYTES / 1e6:.0f} MB at most are read",
            hint=_SMALLER,
        )


def _of_picture(raw: bytes, asked: Callable[[Image.Image], T]) -> T:
    """Return what is asked of the picture in a file; whatever goes wrong is said in words."""
    from PIL import Image

    kinds = _kinds(raw)
    try:
        with warnings.catch_warnings():
            # What the library warns of is refused below, or is of no consequence for the pixels.
            warnings.simplefilter("ignore")
            with Image.open(io.BytesIO(raw), formats=kinds) as image:
                _refuse_vast(image)
                return asked(image)
    except PhotoRefused:
        raise
    except Image.DecompressionBombError:
        raise PhotoRefused(
            f"claims more pixels than any camera takes; {_at_most(MOST_PX)}", hint=_SMALLER
        ) from None
    # A decoder raises whatever it trips over: a photo is bytes of somebody else's.
    except Exception as error:
        begun = kinds != _KINDS or raw.startswith(_BEGINNINGS)
        if isinstance(error, Image.UnidentifiedImageError) and not begun:
            raise PhotoRefused(
                "holds no picture that can be read here", hint="save it as JPEG, PNG or WebP"
            ) from None
        raise PhotoRefused("holds a picture that is cut off or damaged", hint=_AGAIN) from None


def _kinds(raw: bytes) -> tuple[str, ...]:
    """Return what a file may be read as.

    Raises
    ------
    PhotoRefused
        When it is empty, or HEIC where nothing reads that.
    """
    if not raw:
        raise PhotoRefused("is empty", hint=_AGAIN)
    if raw[4:8] != b"ftyp" or raw[8:12] not in _HEIC_BRANDS:
        return _KINDS
    try:
        from pillow_heif import register_heif_opener
    except ImportError:
        raise PhotoRefused(
            "is HEIC, and the library that reads HEIC is not installed",
            hint="run 'pip install pillow-heif' where ohmfolio is installed, or save it as JPEG",
        ) from None
    register_heif_opener()
    return ("HEIF",)


def _refuse_vast(image: Image.Image) -> None:
    wide, high = image.size
    most = MOST_PX_WHOLE if image.format in ("PNG", "WEBP") else MOST_PX
    if wide * high > most:
        raise PhotoRefused(f"has {wide} by {high} pixels, and {_at_most(most)}", hint=_SMALLER)


def _at_most(pixels: int) -> str:
    return f"{pixels // 1_000_000} million at most are read"


def _orientation(image: Image.Image) -> int:
    """Return how the camera was held; upright where what the file says of it cannot be read."""
    try:
        held = image.getexif().get(_ORIENTATION, 1)
    except Exception:
        return 1
    return held if held in _TURNS else 1


def _shrunk(image: Image.Image, *, edge_px: int) -> Image.Image:
    """Return the picture no longer than `edge_px`, without see-through places; grey stays grey."""
    from PIL import Image

    if image.mode.startswith("I"):
        # Sixteen bits of grey: the upper eight are what a screen shows.
        image = image.convert("I").point(lambda grey: grey * (1 / 256)).convert("L")
    see_through = image.has_transparency_data
    if see_through or image.mode in ("1", "P"):
        mode = "RGBA" if see_through else "RGB"
        image = image if image.mode == mode else image.convert(mode)
    image.thumbnail((edge_px, edge_px), Image.Resampling.LANCZOS)
    if not see_through:
        return image
    flat = Image.new("RGB", image.size, "white")
    flat.paste(image, mask=image.getchannel("A"))
    return flat


def _in_srgb(image: Image.Image, *, profile: bytes | None) -> Image.Image:
    """Return the picture in the colours that a browser takes it for once its profile is gone."""
    if profile:
        from PIL import ImageCms

        try:
            return ImageCms.profileToProfile(
                image,
                ImageCms.ImageCmsProfile(io.BytesIO(profile)),
                ImageCms.createProfile("sRGB"),
                outputMode="RGB",
            ) or image.convert("RGB")
        except (ImageCms.PyCMSError, OSError, ValueError, TypeError):
            pass  # A profile that says nothing of use, or of another sort of colours.
    return image.convert("RGB")
