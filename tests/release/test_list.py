"""The list that a release is: what it holds, how it is named, and what is no list."""

from __future__ import annotations

import hashlib
import json

import pytest

from kb.release_format.head import Head
from kb.release_format.release_list import NotAList, list_of, read_list

HEAD = Head(number=3, date="2026-03-14", title="", team="Fenwick Cooling")
FILES = {"index.html": b"home", "codes/012.html": b"code"}


def test_every_file_stands_with_its_checksum_and_the_hash_of_the_text_is_the_name():
    made = list_of(FILES, head=HEAD)
    assert made.files == {p: hashlib.sha256(c).hexdigest() for p, c in FILES.items()}
    assert made.name == hashlib.sha256(made.text.encode()).hexdigest()[:12]


def test_the_order_in_which_files_are_found_does_not_matter():
    backwards = dict(reversed(FILES.items()))
    assert list_of(backwards, head=HEAD).text == list_of(FILES, head=HEAD).text


@pytest.mark.parametrize(
    "other",
    [
        list_of({**FILES, "index.html": b"Home"}, head=HEAD),
        list_of(FILES, head=HEAD.model_copy(update={"number": 4})),
        list_of({"index.html": b"home"}, head=HEAD),
    ],
)
def test_another_byte_number_or_file_is_another_release(other):
    assert other.name != list_of(FILES, head=HEAD).name


def test_a_list_reads_back_as_it_was():
    made = list_of(FILES, head=HEAD)
    assert read_list(made.text.encode()) == made


def listed(*, release: dict | None = None, **more: object) -> bytes:
    """Return the text of a list in which something is changed."""
    fields = json.loads(list_of(FILES, head=HEAD).text)
    return json.dumps(
        {**fields, "release": {**fields["release"], **(release or {})}, **more}
    ).encode()


def test_what_a_later_version_adds_to_a_head_keeps_the_name():
    raw = (
        json.dumps(
            {"files": {}, "release": {**HEAD.as_dict(), "colour": "blue"}}, indent=0, sort_keys=True
        ).encode()
        + b"\n"
    )
    assert read_list(raw).text.encode() == raw


@pytest.mark.parametrize(
    "raw",
    [
        b"",
        b"<html>",
        b"[]",
        b'{"files": {}}',
        b"\xff",
        listed(files={"a": 1}),
        listed(files={"a": "0" * 63}),
        listed(files={"a": "0" * 65}),
        listed(files={"a": "X" * 64}),
        listed(release={"number": "1"}),
        listed(release={"number": True}),
        listed(release={"date": 20260314}),
        listed(release={"title": None}),
        listed(release={"team": ["Fenwick"]}),
        listed(artist="ours"),
    ],
)
def test_anything_else_is_no_list(raw):
    with pytest.raises(NotAList) as refusal:
        read_list(raw)
    assert str(refusal.value) == "release.json is no list of a release"


def test_the_page_learns_the_release_from_a_script_outside_the_list():
    made = list_of(FILES, head=HEAD)
    script = made.script_text
    assert script.startswith("(window.Ohm=window.Ohm||{}).release={")
    assert json.loads(script.partition("release=")[2].rstrip(";\n")) == {
        **HEAD.as_dict(),
        "name": made.name,
        "files": 2,
    }


def test_the_script_is_the_same_bytes_whatever_order_the_facts_come_in():
    made = list_of(FILES, head=Head(team="Kälte", title="", date="2026-03-14", number=3))
    assert made.script_text == (
        '(window.Ohm=window.Ohm||{}).release={"date":"2026-03-14","files":2,'
        f'"name":"{made.name}","number":3,"team":"Kälte","title":""}};\n'
    )
