"""Make a photo fit for the notes: upright, small, and without anything that it says of itself."""

from __future__ import annotations

import io
import warnings

EDGE_PX = 1280
"""The longer edge of what is kept: a page on a phone shows no more."""
MOST_PX = 60_000_000
"""Pixels of the largest picture that is unpacked: more than a phone's camera takes."""
QUALITY = 80
_KINDS = ("JPEG", "PNG")


class PhotoRefused(ValueError):
    """A file that is no photo, or one that is larger than any camera's."""


def tidy_photo(raw: bytes) -> bytes:
    """Return a photo as a JPEG that is upright, no longer than 1280 px, and says nothing else.

    Place, time, camera, comment and colour profile stay behind: a new picture is drawn from the
    pixels alone. What is see-through becomes white.

    Raises
    ------
    PhotoRefused
        When it is no JPEG or PNG, is cut off, or holds more than sixty million pixels.
    """
    # Imported here: most commands touch no photo.
    from PIL import Image, ImageOps

    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore", Image.DecompressionBombWarning)
            with Image.open(io.BytesIO(raw), formats=_KINDS) as image:
                wide, high = image.size
                if wide * high > MOST_PX:
                    raise PhotoRefused(f"it has {wide} by {high} pixels, more than is read here")
                image.load()
                upright = ImageOps.exif_transpose(image).convert("RGBA")
    except (OSError, ValueError, SyntaxError, Image.DecompressionBombError) as error:
        if isinstance(error, PhotoRefused):
            raise
        raise PhotoRefused("no JPEG or PNG picture can be read from it") from None
    upright.thumbnail((EDGE_PX, EDGE_PX))
    drawn = Image.new("RGB", upright.size, "white")
    drawn.paste(upright, mask=upright)
    written = io.BytesIO()
    drawn.save(written, "JPEG", quality=QUALITY, optimize=True)
    return written.getvalue()
