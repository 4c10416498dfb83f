"""Every field has a column with a name of its own, and a cell says what the file says."""

from __future__ import annotations

import pytest

from kb.bring.headings import BROUGHT
from kb.columns.cell import CellFault, cell_of, same, value_of
from kb.columns.column import (
    NO_COLUMN,
    OTHERWISE_READ,
    columns_of,
    find_column,
    plain_header,
    sheet_columns,
)
from kb.columns.values import at, in_cells, in_file, without_gaps
from kb.manual import manual
from kb.model import CURVE_LAWS, KINDS
from kb.notes.load import load_notes

LAWS = [("curves", law) for law in CURVE_LAWS]
ALL = [*((kind, "") for kind in KINDS), *LAWS]


@pytest.mark.parametrize(("kind", "law"), ALL)
def test_no_two_columns_of_a_kind_answer_to_one_name(kind, law):
    seen: dict[str, str] = {}
    for column in columns_of(kind, law=law):
        for name in column.names:
            assert seen.setdefault(plain_header(name), column.field) == column.field, name
            assert find_column(columns_of(kind, law=law), header=name) == (column, 1)


@pytest.mark.parametrize("kind", BROUGHT)
def test_every_field_of_a_kind_that_is_brought_has_a_column(kind):
    covered = {column.field.replace(".#", "").removesuffix(".0") for column in sheet_columns(kind)}
    covered |= {field.replace(".#", "") for field in OTHERWISE_READ.get(kind, ())}
    # A block has none itself; each of its fields has.
    fields = [row.field for row in manual(kind)]
    leaves = [f for f in fields if not any(other.startswith(f"{f}.") for other in fields)]
    assert set(leaves) - covered - {*NO_COLUMN} == set()


@pytest.mark.parametrize("kind", BROUGHT)
def test_a_cell_gives_back_what_stands_in_the_file(kind, good):
    notes = load_notes(good)
    for entry_id in notes.of_kind(kind):
        value = in_cells(notes.texts[(kind, entry_id)].value)
        for column in columns_of(kind):
            for number in (1, 2, 3):
                there = at(value, way=column.way(number))
                if there is None:
                    continue
                cell = cell_of(there, column=column)
                again = value_of(cell, column=column)
                assert same(again, other=there, column=column), (entry_id, column.field)


@pytest.mark.parametrize(
    ("header", "field", "number"),
    [
        ("Label", "label", 1),
        ("  LABEL: ", "label", 1),
        ("plug.mark", "plug.mark", 1),
        ("Socket", "plug.mark", 1),
        ("min °C", "meets_c.0", 1),
        ("Coldest [°C]", "meets_c.0", 1),
        ("healthy reads 2", "healthy.#.reads", 2),
        ("Pull-up (Ω)", "board_input.pull_up_ohm", 1),
    ],
)
def test_a_column_is_known_however_it_is_written(header, field, number):
    found = find_column(columns_of("sensors"), header=header)
    assert found is not None
    assert (found[0].field, found[1]) == (field, number)


@pytest.mark.parametrize("header", ["Remarks", "label 2", "", "9"])
def test_a_column_that_is_no_field_is_none(header):
    assert find_column(columns_of("sensors"), header=header) is None


def column(kind, field):
    return next(column for column in columns_of(kind) if column.field == field)


@pytest.mark.parametrize(
    ("kind", "field", "cell", "value"),
    [
        ("sensors", "aka", "first | second", ["first", "second"]),
        ("sensors", "aka", "first\nsecond", ["first", "second"]),
        ("sensors", "plug.pins", "1, 2", ["1", "2"]),
        ("sensors", "plug.pins", "1/2", ["1", "2"]),
        ("sensors", "source", "sheet, page 4", {"id": "sheet", "at": "page 4"}),
        ("sensors", "source", "sheet | other, page 2", ["sheet", {"id": "other", "at": "page 2"}]),
        ("sensors", "reach", "Behind a Panel", "behind a panel"),
        ("sensors", "reach", "built_in", "built in"),
        ("sensors", "meets_c.0", "−10,5", "-10.5"),
        ("sensors", "place", " two  words ", "two words"),
        ("codes", "suspects.#.live", "x", "yes"),
        ("parts", "windings.pairs", "U-V=3,2; V-W: 3.2", {"U-V": "3.2", "V-W": "3.2"}),
    ],
)
def test_a_cell_is_read_as_it_was_meant(kind, field, cell, value):
    assert value_of(cell, column=column(kind, field)) == value


def test_a_source_that_is_no_id_says_what_would_work():
    with pytest.raises(CellFault, match="is no source's id") as fault:
        value_of("The yellow sheet", column=column("sensors", "source"))
    assert "maker-sheet, page 4" in fault.value.hint


def test_a_row_with_text_and_blinks_makes_two_ways_of_showing():
    value = {"shown": [{"text": "E1", "where": "door", "blinks": {"short": "3", "lamp": "red"}}]}
    assert in_file(value, meant=lambda thing: ("what", thing))["shown"] == [
        {"where": "door", "text": "E1"},
        {"blinks": {"short": "3", "lamp": "red"}},
    ]


def test_gaps_are_taken_out_and_nothing_else():
    value = {"a": [None, {"b": None}, {"c": "1"}], "d": {}, "e": "0"}
    assert without_gaps(value) == {"a": [{"c": "1"}], "e": "0"}
