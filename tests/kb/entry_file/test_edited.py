"""A file is changed line by line: what is not changed keeps its place, its quotes and its comments."""

from __future__ import annotations

import copy
import random
from pathlib import Path

import pytest

from kb.bring.draft import Draft, Place, order_of
from kb.entry_file.edited import CannotEdit, edited
from kb.entry_file.entry_text import entry_text
from kb.notes.yaml_text import read_yaml

TOP = Path(__file__).resolve().parents[3]
ENTRIES = sorted([*(TOP / "docs_data").glob("*/**/*.yaml")])
SENSOR = """\
# Ours, measured in January.
name: T1 suction pipe   # as on the door
source: {id: bench-sheet, at: page 3}  # the yellow one
label: "T1"

# It is hard to see.
place: >-
  Behind the pipe,
  low.
plug:            # white
  board: board-a   # the big one
  mark: X1
  pins: ["1", '2']
meets_c: [-5, 30]  # never colder
healthy:
- {when: At rest, reads: The air}   # after an hour
# In the cold:
- when: Running
  reads: 4 K
"""


def order(way):
    return ["name", "source", "label", "place", "reach", "plug", "meets_c", "healthy"]


def changed(**new):
    value = read_yaml(SENSOR, file="").value
    return {**value, **new}


def lines_gone(after):
    return [line for line in SENSOR.splitlines() if line not in after.splitlines()]


def test_a_value_that_is_the_same_leaves_the_file_as_it_is():
    assert edited(SENSOR, value=changed(), order=order) == SENSOR


def test_a_word_is_changed_in_its_place_and_its_comment_stays():
    after = edited(SENSOR, value=changed(name="T1: suction"), order=order)
    assert after == SENSOR.replace(
        "name: T1 suction pipe   # as on the door", 'name: "T1: suction"   # as on the door'
    )


def test_a_word_in_a_block_or_in_brackets_is_changed_there():
    value = changed(meets_c=["-5", "40"])
    value["plug"] = {**value["plug"], "mark": "X2", "pins": ["1", "3"]}
    after = edited(SENSOR, value=value, order=order)
    assert lines_gone(after) == [
        "  mark: X1",
        "  pins: [\"1\", '2']",
        "meets_c: [-5, 30]  # never colder",
    ]
    assert "meets_c: [-5, 40]  # never colder" in after
    assert '  pins: ["1", 3]' in after


def test_a_new_field_goes_where_people_read_it():
    after = edited(SENSOR, value=changed(reach="open"), order=order)
    assert lines_gone(after) == []
    assert after.index("  low.\nreach: open\nplug:")


def test_a_field_that_is_taken_out_takes_its_line_and_no_other():
    value = changed()
    del value["label"], value["meets_c"]
    assert lines_gone(edited(SENSOR, value=value, order=order)) == [
        'label: "T1"',
        "meets_c: [-5, 30]  # never colder",
    ]


def test_a_folded_text_is_replaced_whole():
    after = edited(SENSOR, value=changed(place="In front."), order=order)
    assert "place: In front.\nplug:            # white" in after


def test_a_list_grows_and_shrinks_at_its_end():
    healthy = changed()["healthy"]
    longer = edited(
        SENSOR, value=changed(healthy=[*healthy, {"when": "Off", "reads": "0"}]), order=order
    )
    assert longer == SENSOR + "- {when: Off, reads: 0}\n"
    assert lines_gone(edited(SENSOR, value=changed(healthy=healthy[:1]), order=order)) == [
        "- when: Running",
        "  reads: 4 K",
    ]


def test_a_row_of_a_table_goes_where_its_temperature_is():
    text = "law: table\npoints:   # as printed\n  -20: 97k\n  0: 33k   # checked twice\n  40: 5k\n"
    value = {"law": "table", "points": {"-20": "97k", "0": "33k", "25": "10k", "40": "5.3k"}}
    after = edited(text, value=value, order=lambda way: ["law", "points"])
    assert after == (
        "law: table\npoints:   # as printed\n  -20: 97k\n  0: 33k   # checked twice\n  25: 10k\n"
        "  40: 5.3k\n"
    )


def test_windows_ends_of_lines_are_no_fault():
    after = edited("name: a\r\nlabel: b\r\n", value={"name": "a", "label": "c"}, order=order)
    assert after == "name: a\r\nlabel: c\r\n"


@pytest.mark.parametrize("text", ["name: [a\n", "- a\n", ""])
def test_a_broken_file_is_left_alone(text):
    with pytest.raises(CannotEdit):
        edited(text, value={"name": "a"}, order=order)


def mutated(value, rng):
    """Change one thing somewhere in a value, take it out, or add to it."""
    if isinstance(value, dict):
        key, chance = rng.choice(list(value)), rng.random()
        if chance < 0.2 and len(value) > 1:
            del value[key]
        elif chance < 0.3:
            value["new"] = "a: 'word' # and \"more\""
        elif isinstance(value[key], dict | list) and value[key]:
            mutated(value[key], rng)
        else:
            value[key] = "- changed, it's {so}"
        return
    at, chance = rng.randrange(len(value)), rng.random()
    if chance < 0.2 and len(value) > 1:
        del value[at]
    elif chance < 0.4:
        value.append(copy.deepcopy(value[0]))
    elif isinstance(value[at], dict | list) and value[at]:
        mutated(value[at], rng)
    else:
        value[at] = "Another one: yes."


@pytest.mark.parametrize("path", ENTRIES[::7], ids=lambda path: path.stem)
def test_any_change_of_a_real_entry_is_read_back_as_it_was_meant(path):
    text = path.read_text(encoding="utf-8")
    kind = path.relative_to(TOP / "docs_data").parts[0]
    value = read_yaml(text, file="").value
    draft = Draft(kind=kind, entry_id=path.stem, value=value, whole=Place(words=""))
    rng = random.Random(path.stem)
    meant = copy.deepcopy(value)
    for _ in range(3):
        mutated(meant, rng)
    # It refuses what it cannot do; nothing of the demo is such.
    after = edited(text, value=meant, order=order_of(draft))
    assert read_yaml(after, file="").value == meant
    assert edited(after, value=meant, order=order_of(draft)) == after


@pytest.mark.parametrize("path", ENTRIES[::5], ids=lambda path: path.stem)
def test_a_written_entry_is_read_back_as_it_was_given(path):
    value = read_yaml(path.read_text(encoding="utf-8"), file="").value
    read = read_yaml(entry_text(path.relative_to(TOP / "docs_data").parts[0], value=value), file="")
    assert (read.value, read.problems, read.warnings) == (value, [], [])


@pytest.mark.parametrize(
    "text",
    [
        "012",
        "1E3",
        "NO",
        "yes",
        "~",
        "null",
        "-",
        "- a",
        "a: b",
        "a #b",
        "#a",
        "'a",
        '"a"',
        "a:",
        ": a",
        "{a}",
        "[a",
        "a, b",
        "*a",
        "&a",
        "!a",
        "%a",
        "@a",
        "`a",
        "| a",
        "> a",
        "?",
        "? a",
        "a\\b",
        "a\tb",
        "“a”",
        "it's",
        'say "it\'s"',
        "-5",
        "2026-01-02",
        "12:30",
        "...",
        "---",
        "= a",
        "<<",
        "é — ±2 K",
        "a\u00a0b",
    ],
)
def test_every_text_is_kept_in_a_line_in_a_list_and_in_braces(text):
    value = {
        "name": text,
        "aka": [text, "b c"],
        "healthy": [{"when": text}],
        "plug": {"mark": text},
    }
    read = read_yaml(entry_text("sensors", value=value), file="")
    assert (read.value, read.problems) == (value, [])
