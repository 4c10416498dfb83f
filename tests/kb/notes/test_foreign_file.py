"""A file that is no text is called what it is, with how to save it."""

from __future__ import annotations

import io
import zipfile

import pytest

from kb.notes.file_text import decoded


def _zip(name: str) -> bytes:
    raw = io.BytesIO()
    with zipfile.ZipFile(raw, "w") as packed:
        # Without the time of day: two workers must collect one and the same test.
        packed.writestr(zipfile.ZipInfo(name), "")
    return raw.getvalue()


@pytest.mark.parametrize(
    ("raw", "what"),
    [
        (_zip("xl/workbook.xml"), "a sheet (.xlsx)"),
        (_zip("word/document.xml"), "a text of an office program (.docx)"),
        (_zip("content.xml"), "a sheet or text of an office program (.ods or .odt)"),
        (_zip("a.yaml"), "a zip file"),
        (_zip("a.yaml")[:40], "a zip file"),
        (b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1", "a file of an old office program (.xls or .doc)"),
        (b"%PDF-1.7\n", "a PDF"),
        (b"{\\rtf1 name: x}", "a text with its formats (.rtf)"),
        (b"\xff\xd8\xff\xe0", "a photo (JPEG)"),
        (b"\x89PNG\r\n\x1a\n", "a picture (PNG)"),
    ],
)
def test_what_is_no_text_is_named(raw: bytes, what: str) -> None:
    text, (problem,) = decoded(raw, file="f.yaml")
    assert (text, problem.rule) == ("", "no-text")
    assert problem.message == f"this is {what}, and no plain text"
    assert problem.hint == "copy its words into a plain text file: an editor's 'Save as', UTF-8"


@pytest.mark.parametrize("codec", ["utf-16", "utf-16-le", "utf-16-be"])
def test_utf_16_is_named_as_editors_name_it(codec: str) -> None:
    _, (problem,) = decoded("name: Suction\n".encode(codec), file="f.yaml")
    assert problem.headline() == (
        "f.yaml:1:1: encoding: the file is UTF-16, which some editors call 'Unicode', not UTF-8 text"
    )


@pytest.mark.parametrize("raw", [b"name: x\n", b"\xef\xbb\xbfname: x\n", b"", b"PK: x\n"])
def test_plain_text_is_taken_for_nothing_else(raw: bytes) -> None:
    assert decoded(raw, file="f.yaml")[1] == []
