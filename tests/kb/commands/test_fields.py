"""`ohmfolio fields`, and the page: every field, with an example that the model takes."""

from __future__ import annotations

import json
from collections.abc import Iterator

import pytest
from pydantic import BaseModel

from generators.pages.fields import make_fields
from kb.manual import OF_ONE_FILE, SECTIONS, manual
from kb.model import CURVE_LAWS, KINDS
from kb.model.shape import inner_block

SPLIT = ("points", "fitted_to", "source")
"""Fields that the keeper writes as rows or ids, not as the blocks that they become."""


def fields_of(model: type[BaseModel], above: str = "") -> Iterator[str]:
    for name, info in model.model_fields.items():
        if name == "id" or info.annotation is type(None):
            continue
        yield f"{above}{name}"
        inner = inner_block(info.annotation)
        if inner is not None and f"{above}{name}" not in SPLIT:
            yield from fields_of(inner, f"{above}{name}.")


def every_field(section: str) -> set[str]:
    if section == "curves":
        return {field for model in CURVE_LAWS.values() for field in fields_of(model)}
    return set(fields_of({**KINDS, **OF_ONE_FILE}[section]))


@pytest.mark.parametrize("section", SECTIONS)
def test_every_field_stands_in_the_manual_with_what_it_is_and_an_example(section):
    rows = manual(section)
    assert {row.field for row in rows} == every_field(section)
    for row in rows:
        assert row.doc, row.field
        has_parts = any(other.field.startswith(f"{row.field}.") for other in rows)
        assert row.example or has_parts, row.field


@pytest.mark.parametrize("section", SECTIONS)
def test_the_command_shows_each_of_them_in_80_signs(run, section):
    result = run("fields", section)
    assert result.exit_code == 0
    shown = {line[2:].split()[0] for line in result.output.splitlines() if line[:2] in ("* ", "  ")
             and line[2:3].strip()}  # fmt: skip
    assert every_field(section) <= shown
    wide = [line for line in result.output.splitlines() if len(line) > 80 and " " in line.strip()]
    assert wide == []


def test_the_page_shows_each_of_them(run):
    page = str(make_fields().body).replace("\u200b", "")
    for section in SECTIONS:
        assert f'id="{section}"' in page
        part = page.partition(f'id="{section}"')[2].partition("</section>")[0]
        for field in every_field(section):
            assert f"<code>{field}</code>" in part, (section, field)


def test_a_noun_does_as_well_as_a_folder_and_a_slip_is_answered(run):
    assert run("fields", "sensor").output == run("fields", "sensors").output
    wrong = run("fields", "sensr")
    assert (wrong.exit_code, "there is no kind 'sensr'" in wrong.output) == (2, True)


def test_without_a_kind_it_says_what_there_is(run):
    lines = run("fields").output.splitlines()
    assert [line.split()[0] for line in lines if line and line[0] != " "][: len(SECTIONS)] == [
        *SECTIONS
    ]


def test_machines_get_the_same(run):
    rows = json.loads(run("fields", "sensors", "--json").output)
    mark = next(row for row in rows if row["field"] == "plug.mark")
    assert (mark["called"], mark["needed"], mark["example"]) == ("plug", True, "CN1")
    assert json.loads(run("fields", "--json").output)["codes"].startswith("One fault indication")
