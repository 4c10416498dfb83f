"""The zip that a phone sends: what is no case is refused, and said why, before it is unpacked."""

from __future__ import annotations

import io
import struct
import warnings
import zipfile

import pytest

from kb import case_zip
from kb.case_zip import ZippedCase, ZipRefused, read_zip

YAML = b"name: 'a case'\n"
PHOTO = b"\xff\xd8 a photo"


def zipped(
    *files: tuple[str, bytes], packing: int = zipfile.ZIP_STORED, flags: int = 0, size: int = 0
) -> bytes:
    """Return a zip of these files; `flags` and `size` are then written over in its list."""
    raw = io.BytesIO()
    with warnings.catch_warnings(), zipfile.ZipFile(raw, "w", packing) as pack:
        warnings.simplefilter("ignore", UserWarning)  # a name twice is what a test wants
        for name, content in files:
            pack.writestr(zipfile.ZipInfo(name), content, compress_type=packing)
    packed = bytearray(raw.getvalue())
    at = packed.find(b"PK\x01\x02")
    if flags:
        struct.pack_into("<H", packed, at + 8, flags)
    if size:
        struct.pack_into("<I", packed, at + 24, size)
    return bytes(packed)


@pytest.mark.parametrize("packing", [zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED])
def test_a_case_and_its_photos_come_out_as_they_went_in(packing: int) -> None:
    raw = zipped(("a.yaml", YAML), ("a-1.jpg", PHOTO), ("a-2.png", b"p"), packing=packing)
    assert read_zip(raw) == ZippedCase(yaml=YAML, photos={"a-1.jpg": PHOTO, "a-2.png": b"p"})


LETTERS = (
    "a case is one .yaml file and photos that end in .jpg or .png, named in small letters, digits "
    "and hyphens, in no folder"
)


@pytest.mark.parametrize(
    "name",
    ["../a.yaml", "/a.jpg", "b/a.jpg", "A.jpg", "a.svg", "a.jpg.exe", "..jpg", "a b.jpg", "b/"],
)
def test_a_name_that_leads_elsewhere_or_is_no_photo_is_refused(name: str) -> None:
    with pytest.raises(ZipRefused) as refused:
        read_zip(zipped(("a.yaml", YAML), (name, b"")))
    assert str(refused.value) == f"it holds {name!r}; {LETTERS}"


@pytest.mark.parametrize(
    ("files", "message"),
    [
        ([("a-1.jpg", PHOTO)], "it holds 0 .yaml files, and a case is one"),
        ([("a.yaml", YAML), ("b.yml", YAML)], "it holds 2 .yaml files, and a case is one"),
        ([("a.yaml", YAML), ("b.jpg", b"1"), ("b.jpg", b"2")], "it holds 'b.jpg' twice"),
        (
            [("a.yaml", YAML), *((f"b-{i}.jpg", b"") for i in range(25))],
            "it holds 25 photos, and a case has 24 at most",
        ),
    ],
)
def test_more_or_less_than_one_case_is_refused(
    files: list[tuple[str, bytes]], message: str
) -> None:
    with pytest.raises(ZipRefused) as refused:
        read_zip(zipped(*files))
    assert str(refused.value) == message


def test_what_unpacks_to_more_than_a_photo_is_refused_whatever_the_zip_says_of_it(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(case_zip, "PHOTO_BYTES", 1000)
    bomb = ("b.jpg", b"\0" * 100_000)
    raw = zipped(bomb, ("a.yaml", YAML), packing=zipfile.ZIP_DEFLATED)
    with pytest.raises(ZipRefused) as refused:
        read_zip(raw)
    assert str(refused.value) == "'b.jpg' unpacks to more than 1000 bytes"
    lying = zipped(bomb, ("a.yaml", YAML), packing=zipfile.ZIP_DEFLATED, size=10)
    with pytest.raises(ZipRefused):
        read_zip(lying)


def test_a_zip_of_more_bytes_than_a_case_is_not_even_opened(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(case_zip, "ZIP_BYTES", 10)
    with pytest.raises(ZipRefused) as refused:
        read_zip(b"PK and more")
    assert str(refused.value) == "it has 11 bytes, and a case has 10 at most"


def test_a_password_and_a_rare_packing_are_refused() -> None:
    with pytest.raises(ZipRefused) as refused:
        read_zip(zipped(("a.yaml", YAML), flags=1))
    assert str(refused.value) == "'a.yaml' is locked with a password; send it without one"
    with pytest.raises(ZipRefused) as refused:
        read_zip(zipped(("a.yaml", YAML), packing=zipfile.ZIP_LZMA))
    assert str(refused.value) == "'a.yaml' is packed in a way that is not read here"


def test_half_a_zip_and_a_changed_byte_are_refused() -> None:
    whole = zipped(("a.yaml", YAML), ("a-1.jpg", PHOTO))
    with pytest.raises(ZipRefused, match="no whole zip"):
        read_zip(whole[: len(whole) // 2])
    with pytest.raises(ZipRefused, match="no whole zip"):
        read_zip(whole.replace(PHOTO, b"\xff\xd8 a ph0to"))
