"""Name a file that is no plain text by its first bytes, and say how to save it as text."""

from __future__ import annotations

import codecs
import io
import zipfile

ZIP = "a zip file"
_ZIP = b"PK\x03\x04"
_OLD_OFFICE = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"
_BEGINNINGS = (
    (_OLD_OFFICE, "a file of an old office program (.xls or .doc)"),
    (b"%PDF-", "a PDF"),
    (b"{\\rtf", "a text with its formats (.rtf)"),
    (b"\xff\xd8\xff", "a photo (JPEG)"),
    (b"\x89PNG\r\n", "a picture (PNG)"),
    (b"\x1f\x8b", "a compressed file (.gz)"),
)
"""First bytes → what the file is. From memory; those of PNG and ZIP as their specifications print
them."""
_OFFICE = (
    ("xl/", "a sheet (.xlsx)"),
    ("word/", "a text of an office program (.docx)"),
    ("content.xml", "a sheet or text of an office program (.ods or .odt)"),
)
_UTF_16 = (codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)

AS_TEXT = "copy its words into a plain text file: an editor's 'Save as', UTF-8"
SAVE_UTF_8 = "save it as UTF-8: in the editor 'Save as', and there the encoding UTF-8"


def foreign(raw: bytes) -> str:
    """Return what a file is that is no text; empty for one that may be text."""
    if raw.startswith(_ZIP):
        return _zipped(raw)
    return next((what for start, what in _BEGINNINGS if raw.startswith(start)), "")


def _zipped(raw: bytes) -> str:
    try:
        with zipfile.ZipFile(io.BytesIO(raw)) as packed:
            names = packed.namelist()
    except (zipfile.BadZipFile, ValueError, OSError):
        return ZIP  # cut short: whoever unpacks it says so
    for start, what in _OFFICE:
        if any(name.startswith(start) for name in names):
            return what
    return ZIP


def is_utf_16(raw: bytes) -> bool:
    """Return whether a file is UTF-16, with or without the mark at its start."""
    return raw.startswith(_UTF_16) or _every_other_is_zero(raw)


def _every_other_is_zero(raw: bytes) -> bool:
    """True for UTF-16 without a mark: in plain English every other byte is zero."""
    start = raw[:64]
    return len(start) >= 4 and start.count(0) * 3 >= len(start)
