"""Read the zip that a phone makes of a case: one YAML file and its photos, and nothing else.

It comes from outside: names, counts and sizes are held to limits before anything is unpacked, and
while it is.
"""

from __future__ import annotations

import io
import re
import zipfile
from collections.abc import Mapping
from dataclasses import dataclass

YAML_NAME = re.compile(r"[a-z0-9-]{1,100}\.ya?ml")
PHOTO_NAME = re.compile(r"[a-z0-9-]{1,100}\.(?:jpe?g|png)")
MOST_PHOTOS = 24
ZIP_BYTES = 40_000_000
YAML_BYTES = 200_000
PHOTO_BYTES = 12_000_000
"""More than any phone's camera writes of one picture."""
_PACKED = (zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED)
_ENCRYPTED = 0x1


class ZipRefused(ValueError):
    """A zip that is no case: says which rule it breaks, and what would work."""


@dataclass(frozen=True)
class ZippedCase:
    """What a zip holds: the case as text, and its photos by name, both as they came."""

    yaml: bytes
    photos: Mapping[str, bytes]


def read_zip(raw: bytes) -> ZippedCase:
    """Return the case and the photos in a zip.

    Raises
    ------
    ZipRefused
        When it is no zip, is cut off, holds anything but one YAML file and photos, names a file
        twice or outside its own folder, or is larger than a case can be.
    """
    if len(raw) > ZIP_BYTES:
        raise ZipRefused(f"it has {len(raw)} bytes, and a case has {ZIP_BYTES} at most")
    try:
        with zipfile.ZipFile(io.BytesIO(raw)) as pack:
            members = pack.infolist()
            _refuse_strangers(members)
            files = {member.filename: _unpacked(pack, member=member) for member in members}
    except ZipRefused:
        raise
    # It is somebody else's, and its reader raises whatever it trips over.
    except Exception as error:
        raise ZipRefused(f"it is no whole zip ({error}); send it again") from None
    (yaml,) = (files.pop(name) for name in list(files) if YAML_NAME.fullmatch(name))
    return ZippedCase(yaml=yaml, photos=files)


def _refuse_strangers(members: list[zipfile.ZipInfo]) -> None:
    """Refuse a zip by its list alone: nothing has been unpacked yet."""
    names = [member.filename for member in members]
    yamls = [name for name in names if YAML_NAME.fullmatch(name)]
    for name in names:
        if name not in yamls and not PHOTO_NAME.fullmatch(name):
            raise ZipRefused(
                f"it holds {name!r}; a case is one .yaml file and photos that end in .jpg or .png, "
                "named in small letters, digits and hyphens, in no folder"
            )
        if names.count(name) > 1:
            raise ZipRefused(f"it holds {name!r} twice")
    if len(yamls) != 1:
        raise ZipRefused(f"it holds {len(yamls)} .yaml files, and a case is one")
    if len(names) - 1 > MOST_PHOTOS:
        raise ZipRefused(f"it holds {len(names) - 1} photos, and a case has {MOST_PHOTOS} at most")
    for member in members:
        if member.flag_bits & _ENCRYPTED:
            raise ZipRefused(f"{member.filename!r} is locked with a password; send it without one")
        if member.compress_type not in _PACKED:
            raise ZipRefused(f"{member.filename!r} is packed in a way that is not read here")


def _unpacked(pack: zipfile.ZipFile, *, member: zipfile.ZipInfo) -> bytes:
    """Return a file of the zip; what its list says of its size is not believed."""
    most = YAML_BYTES if YAML_NAME.fullmatch(member.filename) else PHOTO_BYTES
    with pack.open(name=member, mode="r") as file:
        content = file.read(most + 1)
    if len(content) > most:
        raise ZipRefused(f"{member.filename!r} unpacks to more than {most} bytes")
    return content
