"""Thirty photos as keepers bring them: sizes, orientations, formats, each with words hidden in it."""

from __future__ import annotations

import io
import random
import struct
import zlib
from dataclasses import dataclass
from pathlib import Path

from PIL import ExifTags, Image, ImageCms, ImageDraw, ImageOps, PngImagePlugin
from pillow_heif import register_heif_opener

SEED = 1309
HIDDEN = b"HIDDEN-WORDS"
"""Stands in everything that a photo says of itself."""
DISC = (230, 0, 200)
"""Colour of the disc that a pin belongs on; nothing else in a photo is like it."""
LYING = {
    1: None,
    2: "FLIP_LEFT_RIGHT",
    3: "ROTATE_180",
    4: "FLIP_TOP_BOTTOM",
    5: "TRANSPOSE",
    6: "ROTATE_90",
    7: "TRANSVERSE",
    8: "ROTATE_270",
}
"""Orientation (JEITA CP-3451) → how a camera held so lays an upright picture down."""
MOST_BYTES = 25_000_000


@dataclass(frozen=True)
class Photograph:
    """A sound photo: how it is kept, how large it stands upright, and where its disc is."""

    name: str
    file: str
    wide: int
    high: int
    x_percent: float
    y_percent: float
    raw: bytes


# format, orientation, upright width and height, what is special
_SOUND: tuple[tuple[str, int, int, int, str], ...] = (
    *(("JPEG", held, 480, 320, "") for held in range(1, 5)),
    *(("JPEG", held, 300, 500, "") for held in range(5, 9)),
    ("JPEG", 6, 3024, 4032, "large"),
    ("JPEG", 1, 1200, 300, "panorama"),
    ("JPEG", 1, 240, 720, "tall"),
    ("JPEG", 1, 400, 400, "square"),
    ("JPEG", 8, 300, 400, "print"),
    ("JPEG", 3, 320, 240, "two in one"),
    ("PNG", 1, 500, 300, ""),
    ("PNG", 6, 300, 420, ""),
    ("PNG", 1, 360, 480, "palette"),
    ("PNG", 1, 2000, 1100, "see-through"),
    ("WEBP", 1, 320, 480, ""),
    ("WEBP", 8, 300, 480, ""),
    ("WEBP", 1, 640, 480, "see-through"),
    ("HEIF", 1, 640, 480, ""),
    ("HEIF", 6, 480, 640, ""),
    ("HEIF", 3, 400, 300, ""),
)
_ENDINGS = {"JPEG": "jpg", "PNG": "png", "WEBP": "webp", "HEIF": "heic"}


def sound_photographs() -> list[Photograph]:
    """Return the two dozen that can be shown."""
    register_heif_opener()
    chance = random.Random(SEED)
    return [_photograph(i, chance=chance) for i in range(len(_SOUND))]


def broken_photographs() -> dict[str, tuple[bytes, str]]:
    """Return half a dozen that cannot, by name, each with what `check` says of it."""
    sound = _written(_upright(400, 300, x=50, y=50, chance=random.Random(SEED)), "JPEG", held=1)
    gif = io.BytesIO()
    Image.new("RGB", (40, 30)).save(gif, "GIF")
    return {
        "empty": (b"", "is empty"),
        "text": (b"A photo was meant to be here.\n", "holds no picture that can be read here"),
        "other": (gif.getvalue(), "holds no picture that can be read here"),
        "cut-off": (sound[: len(sound) * 2 // 3], "holds a picture that is cut off or damaged"),
        "heavy": (b"\xff\xd8\xff" + bytes(30_000_000), "has 30.0 MB, and 25 MB at most are read"),
        "bomb": (
            vast_png(wide=20_000, high=20_000),
            "claims more pixels than any camera takes; 60 million at most are read",
        ),
    }


def vast_png(*, wide: int, high: int) -> bytes:
    """Return a whole PNG of a few bytes that says it is as large as this."""
    head = struct.pack(">IIBBBBB", wide, high, 1, 0, 0, 0, 0)
    lines = zlib.compress(bytes(100), 9)
    pieces = ((b"IHDR", head), (b"IDAT", lines), (b"IEND", b""))
    return b"\x89PNG\r\n\x1a\n" + b"".join(_chunk(name, body) for name, body in pieces)


def _photograph(number: int, *, chance: random.Random) -> Photograph:
    kind, held, wide, high, special = _SOUND[number]
    x, y = round(chance.uniform(12, 88), 1), round(chance.uniform(12, 88), 1)
    image = _upright(wide, high, x=x, y=y, chance=chance)
    if LYING[held] is not None:
        image = image.transpose(Image.Transpose[LYING[held]])
    raw = _written(_special(image, special), kind, held=held, special=special)
    name = f"photo-{number + 1:02}"
    return Photograph(
        name=name,
        file=f"{name}.{_ENDINGS[kind]}",
        wide=wide,
        high=high,
        x_percent=x,
        y_percent=y,
        raw=raw,
    )


def _upright(wide: int, high: int, *, x: float, y: float, chance: random.Random) -> Image.Image:
    """Return a grey picture, uneven as a photo is, with one disc."""
    light = Image.linear_gradient("L").rotate(chance.choice((0, 90, 180, 270))).resize((wide, high))
    image = ImageOps.autocontrast(light).convert("RGB")
    r = min(wide, high) * 0.11
    cx, cy = wide * x / 100, high * y / 100
    ImageDraw.Draw(image).ellipse((cx - r, cy - r, cx + r, cy + r), fill=DISC)
    return image


def _special(image: Image.Image, special: str) -> Image.Image:
    if special == "print":
        return image.convert("CMYK")
    if special == "palette":
        return image.quantize(32)
    if special == "see-through":
        image.putalpha(255)
        image.paste((0, 0, 0, 0), (0, 0, 8, 8))
    return image


def _written(image: Image.Image, kind: str, *, held: int, special: str = "") -> bytes:
    """Return a picture as a file in which everything that can hold words holds some."""
    exif = Image.Exif()
    exif[ExifTags.Base.Orientation] = held
    exif[ExifTags.Base.Make] = HIDDEN.decode()
    exif.get_ifd(ExifTags.IFD.GPSInfo).update(
        {1: "N", 2: (51.0, 30.0, 0.0), ExifTags.GPS.GPSAreaInformation: HIDDEN}
    )
    xmp = b"<x:xmpmeta xmlns:x='adobe:ns:meta/' exif:GPSLatitude='51,30N'>%s</x:xmpmeta>" % HIDDEN
    raw = io.BytesIO()
    if kind == "PNG":
        words = PngImagePlugin.PngInfo()
        words.add_text("Comment", HIDDEN.decode())
        words.add_itxt("XML:com.adobe.xmp", xmp.decode())
        image.save(raw, "PNG", pnginfo=words, exif=exif, icc_profile=_profile())
        return raw.getvalue() + HIDDEN
    if kind == "HEIF":
        image.save(raw, "HEIF", exif=exif.tobytes(), xmp=xmp, quality=80)
        return raw.getvalue()
    if kind == "WEBP":
        image.save(raw, "WEBP", exif=exif, xmp=xmp, icc_profile=_profile(), lossless=True)
        return raw.getvalue()
    profile = None if special == "print" else _profile()
    if special == "two in one":
        second = image.copy()
        second.encoderinfo = {"exif": exif}
        image.save(raw, "MPO", save_all=True, append_images=[second], exif=exif)
    else:
        image.save(raw, "JPEG", exif=exif, xmp=xmp, comment=HIDDEN, icc_profile=profile)
    # IPTC stands in Photoshop's segment, and some phones hang a film behind the picture.
    return _with_iptc(raw.getvalue()) + HIDDEN


def _with_iptc(jpeg: bytes) -> bytes:
    """Return a JPEG with a caption as news agencies write it (IIM 4.2, 2:120, in segment 13)."""
    caption = b"\x1c\x02\x78" + struct.pack(">H", len(HIDDEN)) + HIDDEN
    caption += bytes(len(caption) % 2)
    block = b"Photoshop 3.0\x008BIM\x04\x04\0\0" + struct.pack(">I", len(caption)) + caption
    return jpeg[:2] + b"\xff\xed" + struct.pack(">H", len(block) + 2) + block + jpeg[2:]


def _profile() -> bytes:
    """Return the colours of sRGB, with words where whoever made the profile signs it."""
    plain = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    signed = "No copyright".encode("utf-16-be")
    assert signed in plain
    return plain.replace(signed, HIDDEN.ljust(len(signed), b"."))


def _chunk(name: bytes, body: bytes) -> bytes:
    return struct.pack(">I", len(body)) + name + body + struct.pack(">I", zlib.crc32(name + body))


DRAWING = """name: {name}
source: example-sheet
family: example-unit
described: One disc on grey.
photo: {file}
pins:
  D: {{x: {x}, y: {y}, where: On the disc.}}
"""


def put_photograph(photograph: Photograph, *, notes: Path) -> None:
    """Write a photo and the drawing that pins its disc into the beginner's notes."""
    folder = notes / "docs_data/drawings"
    (folder / photograph.file).write_bytes(photograph.raw)
    text = DRAWING.format(
        name=photograph.name, file=photograph.file, x=photograph.x_percent, y=photograph.y_percent
    )
    (folder / f"{photograph.name}.yaml").write_text(text, encoding="utf-8")
