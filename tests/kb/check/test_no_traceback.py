"""Whatever stands in a file, `check` names it at its place, and never ends in a traceback."""

from __future__ import annotations

import http.client
import json
import os
import random
import re

import pytest

from generators.publish.published import HostCopy, NoCopyThere
from kb.catalog import reading_order
from kb.model import KINDS, Part
from kb.model.shape import references
from kb.notes.field_faults import read_block
from kb.notes.file_text import decoded
from kb.notes.load import load_notes
from kb.notes.yaml_text import read_yaml
from kb.release_format.record import can_be_kept, read_record
from kb.release_format.release_list import NotAList, read_list


def test_an_empty_id_in_quotes_is_named_in_every_field_that_names_an_entry(good):
    notes, seen = load_notes(good), 0
    for (kind, entry_id), read in notes.texts.items():
        entry = notes.of_kind(kind)[entry_id]
        for path, _, _ in references(entry):
            place = read.place(path)
            line = read.lines[place.line - 1]
            ways = (read.at(path[:i]) for i in range(1, len(path) + 1))
            value = next((found for found in ways if isinstance(found, str)), None)
            if not isinstance(value, str):
                continue
            begun = line.index(value, place.column - 1)
            lines = read.lines.copy()
            lines[place.line - 1] = f'{line[:begun]}""{line[begun + len(value) :]}'
            emptied = read_yaml("\n".join(lines), file=read.file)
            _, found = read_block(type(entry), emptied, given={"id": entry_id})
            assert [problem.line for problem in found][:1] == [place.line], (read.file, lines)
            seen += 1
    assert seen > 60


def test_an_empty_id_gets_its_words(run, notes):
    sensor = notes / "docs_data/sensors/unit-a/suction-a.yaml"
    text = re.sub("(?m)^curve: .*$", 'curve: ""', sensor.read_text())
    sensor.write_text(text)
    assert "empty: 'curve' says nothing\n" in run("check", "--notes", notes).output


@pytest.mark.parametrize(
    ("raw", "column", "meant"), [(b"\xe9\n", 1, "é"), (b"name: caf\xe9\n", 10, "é")]
)
def test_a_byte_order_mark_before_a_byte_of_windows_moves_no_place(raw, column, meant):
    for mark in (b"", b"\xef\xbb\xbf"):
        text, (problem,) = decoded(mark + raw, file="a.yaml")
        assert (text, problem.line, problem.column) == ("", 1, column)
        assert f"this byte is '{meant}'" in problem.message


def test_half_a_letter_is_named_and_two_halves_are_a_letter():
    read = read_yaml('name: "a\\ud83d\\ude00"\n', file="a.yaml")
    assert (read.value, read.problems) == ({"name": "a😀"}, [])
    for text in ('b: 1\nname: "a\\ud800"\n', 'b: 1\n"\\ud800": a\n'):
        (problem,) = read_yaml(text, file="a.yaml").problems
        assert problem.headline().startswith("a.yaml:2:")
        assert problem.message == "'\\ud800' is half a letter, and stands for nothing"


@pytest.mark.parametrize("value", ["1e300", "1e9", "1e16", "9" * 400])
def test_a_b_value_of_another_world_is_refused(run, notes, value):
    curve = notes / "docs_data/curves/beta-ten.yaml"
    curve.write_text(re.sub("(?m)^b_k: .*$", f"b_k: {value}", curve.read_text()))
    output = run("check", "--notes", notes).output
    assert re.search(rf"{curve.name}:\d+:6: (out-of-bounds|value): ", output)


@pytest.mark.parametrize("mark", ["²", "9" * 5000, "٣", "1²3", "x" + "0" * 19 + "7"])
def test_odd_figures_in_a_name_sort_like_letters(good, mark):
    part = next(iter(load_notes(good).of(Part).values()))
    odd = part.model_copy(update={"name": f"Fan {mark}"})
    assert sorted([part, odd], key=reading_order)


def test_lists_400_deep_are_named_at_the_first_that_is_too_deep():
    for text in ("- " * 400 + "x", "[" * 400, "a: " + "{a: " * 400):
        (problem,) = read_yaml(text, file="a.yaml").problems
        assert problem.rule == "too-deep"


def test_names_that_are_no_text_are_named(run, notes):
    for folder in ("content", "docs_data", "docs_data/sources", "docs_data/cases"):
        for ending in (b".md", b".yaml", b".jpg"):
            (notes / folder / os.fsdecode(b"caf\xe9" + ending)).write_bytes(b"# A\n")
    result = run("check", "--notes", notes)
    assert "content/caf\\xe9.md:1:1: file-name: this name is no UTF-8 text\n" in result.output
    assert "docs_data/sources/caf\\xe9.yaml:1:1: warning: stranger: this name" in result.output
    assert result.exit_code == 1


RECORD = {
    "list": None,
    "notes": {
        "entries": {"parts": {"a": {"name": "A"}}},
        "numbers": {"c": [[1.0, 2, 3]]},
        "team": {},
        "own": {"a.md": "0" * 16},
    },
}


@pytest.mark.parametrize(
    "wrong",
    [
        {"entries": []},
        {"entries": {"parts": []}},
        {"entries": {"parts": {"a": 5}}},
        {"numbers": {"c": 5}},
        {"numbers": {"c": [[1]]}},
        {"numbers": {"c": [["1", 2, 3]]}},
        {"numbers": 3},
        {"team": []},
        {"own": {"a": 5}},
        {"own": "a"},
        {"photos": {"a": None}},
        {"own": {"../a.md": "0" * 16}},
        {"own": {"/etc/a": "0" * 16}},
        {"own": {"a.md": "no checksum"}},
        {"photos": {"drawings/../../a.jpg": "0" * 16}},
        {"entries": {"parts": {"../a": {"name": "A"}}}},
        {"entries": {"parts": {"a": {"name": 5}}}},
    ],
)
def test_a_record_of_another_shape_is_none(wrong):
    text = json.dumps(
        {"files": {}, "release": {"number": 1, "date": "2026-01-01", "title": "A", "team": "B"}}
    )
    whole = {**RECORD, "list": text}
    assert read_record(json.dumps(whole).encode()) is not None
    notes = {**RECORD["notes"], **wrong}
    assert read_record(json.dumps({**whole, "notes": notes}).encode()) is None
    assert read_record(b'{"list":' + b"[" * 100_000) is None


@pytest.mark.parametrize(
    "wrong",
    [
        {"files": {"../a.html": "0" * 64}},
        {"files": {"/etc/passwd": "0" * 64}},
        {"files": {"a\0.html": "0" * 64}},
        {"files": {"a.html": "short"}},
        {"number": -1},
        {"number": 10**400},
        {"number": "1"},
        {"date": "2026-02-30"},
        {"entries": -3},
        {"since": {"../../a": {"changes": 1}}},
        {"since": {"0" * 12: {"changes": -1}}},
    ],
)
def test_a_list_of_what_no_release_has_is_none(wrong):
    head = {"number": 1, "date": "2026-01-01", "title": "A", "team": "B"}
    files = wrong.get("files", {"a.html": "0" * 64})
    changed = {"files": files, "release": {**head, **(wrong if "files" not in wrong else {})}}
    read_list(json.dumps({"files": {"a.html": "0" * 64}, "release": head}))
    with pytest.raises(NotAList):
        read_list(json.dumps(changed))


@pytest.mark.parametrize("value", ["\ud800", float("nan"), 1e300, [[[]]] * 3, {"a" * 3: "\udfff"}])
def test_a_record_that_could_not_be_written_again_is_not_learned(value):
    deep = value
    for _ in range(30 if isinstance(value, list) else 0):
        deep = [deep]
    text = json.dumps(
        {"files": {}, "release": {"number": 1, "date": "", "title": "A", "team": "B"}}
    )
    notes = {**RECORD["notes"], "entries": {"parts": {"a": {"name": "A", "does": deep}}}}
    record = read_record(json.dumps({"list": text, "notes": notes}).encode())
    assert record is not None
    assert not can_be_kept(record)


def test_a_dropped_connection_is_told_in_a_sentence(monkeypatch):
    def dropped(*_, **__):
        raise http.client.IncompleteRead(b"half")

    monkeypatch.setattr("urllib.request.urlopen", dropped)
    with pytest.raises(NoCopyThere, match="cannot be reached"):
        HostCopy("https://example.org").read("a")


SEED, MUTANTS = 16, 1_500
PIECES = [
    '""', '"\\ud800"', "1e300", "-1e300", "1e-300", "²", "٣", "9" * 400, "[", "]", "{", "}", ": ",
    "- ", "\n", "\n  ", "#", "'", '"', "|", ">", "&a", "*a", "!t", "---\n", "\t", "\u00a0", "\u2028",
    "\u202e", "é", "\ufeff", "0", "-1", "NaN", "9999-12-31", "0001-01-01", "~", "null", "[[[]]]", "{a: b}", "<b>",
]  # fmt: skip


def test_seeded_mutants_of_every_entry_are_read_or_named_at_a_line_of_theirs(good):
    """Whole notes are too slow for this many: each mutant is read as the entry that it was."""
    notes, chance = load_notes(good), random.Random(SEED)
    keys = sorted(notes.texts)
    for _ in range(MUTANTS):
        kind, entry_id = chance.choice(keys)
        text = "\n".join(notes.texts[(kind, entry_id)].lines)
        for _ in range(chance.randint(1, 3)):
            begin = chance.randrange(len(text) + 1)
            end = min(len(text), begin + chance.choice([0, 0, 1, 3, 12]))
            text = text[:begin] + chance.choice(PIECES) + text[end:]
        read = read_yaml(text, file="a.yaml")
        found = read.problems
        if not found:
            model = type(notes.of_kind(kind)[entry_id]) if kind == "curves" else KINDS[kind]
            _, found = read_block(model, read, given={"id": entry_id})
        for problem in found:
            assert 1 <= problem.line <= len(read.lines) + 1, (text, problem)
            problem.picture().encode("utf-8")
