"""A value with something else at the end of a way: the one that was given stays as it is."""

from __future__ import annotations

import copy

import pytest

from kb.columns.values import with_value

STANDS = {"name": "a", "plug": {"mark": "X1"}, "shown": [{"text": "E1"}, {"text": "E2"}]}


@pytest.mark.parametrize(
    ("way", "there"),
    [
        (("name",), {**STANDS, "name": "new"}),
        (("plug", "pins"), {**STANDS, "plug": {"mark": "X1", "pins": "new"}}),
        (("plug", "mark"), {**STANDS, "plug": {"mark": "new"}}),
        (("shown", 1, "text"), {**STANDS, "shown": [{"text": "E1"}, {"text": "new"}]}),
        (("shown", 3, "text"), {**STANDS, "shown": [*STANDS["shown"], None, {"text": "new"}]}),
        (("name", 0), {**STANDS, "name": ["new"]}),
        (("fresh", 0, "of"), {**STANDS, "fresh": [{"of": "new"}]}),
    ],
)
def test_only_what_the_way_leads_to_is_another(way, there):
    before = copy.deepcopy(STANDS)
    assert with_value(STANDS, way=way, new="new") == there
    assert before == STANDS


def test_a_thousand_cells_of_a_row_are_not_copied_for_each_cell():
    value: dict[str, object] = {"long": [{"text": str(n)} for n in range(1_000)]}
    held = value["long"][0]
    assert with_value(value, way=("name",), new="a")["long"][0] is held
