"""The list that a release is: what it holds, how it is named, and what is no list."""

from __future__ import annotations

import hashlib
import json

import pytest

from generators.release.list import NotAList, list_of, read_list, script_text

HEAD = {"number": 3, "date": "2026-03-14"}
FILES = {"index.html": b"home", "codes/012.html": b"code"}


def test_every_file_stands_with_its_checksum_and_the_hash_of_the_text_is_the_name():
    told = list_of(FILES, head=HEAD)
    assert told.files == {p: hashlib.sha256(c).hexdigest() for p, c in FILES.items()}
    assert told.name == hashlib.sha256(told.text.encode()).hexdigest()[:12]


def test_the_order_in_which_files_are_found_does_not_matter():
    backwards = dict(reversed(FILES.items()))
    assert list_of(backwards, head=HEAD).text == list_of(FILES, head=HEAD).text


@pytest.mark.parametrize(
    "other",
    [
        list_of({**FILES, "index.html": b"Home"}, head=HEAD),
        list_of(FILES, head={**HEAD, "number": 4}),
        list_of({"index.html": b"home"}, head=HEAD),
    ],
)
def test_another_byte_number_or_file_is_another_release(other):
    assert other.name != list_of(FILES, head=HEAD).name


def test_a_list_reads_back_as_it_was():
    told = list_of(FILES, head=HEAD)
    assert read_list(told.text.encode()) == told


@pytest.mark.parametrize(
    "raw",
    [
        b"",
        b"<html>",
        b"[]",
        b'{"files": {}}',
        b'{"files": {"a": 1}, "release": {"number": 1}}',
        b'{"files": {}, "release": {"number": "1"}}',
        b"\xff",
    ],
)
def test_anything_else_is_no_list(raw):
    with pytest.raises(NotAList) as told:
        read_list(raw)
    assert str(told.value) == "release.json is no list of a release"


def test_the_page_learns_the_release_from_a_script_outside_the_list():
    told = list_of(FILES, head=HEAD)
    script = script_text(told)
    assert script.startswith("(window.Ohm=window.Ohm||{}).release={")
    assert json.loads(script.partition("release=")[2].rstrip(";\n")) == {
        **HEAD,
        "name": told.name,
        "files": 2,
    }
