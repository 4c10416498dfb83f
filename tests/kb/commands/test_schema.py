"""`ohmfolio schema`: what editors take for right is what the loader takes for right."""

from __future__ import annotations

import json
import re
from pathlib import Path

import jsonschema
import pytest
import yaml

from kb.model import KINDS, Sensor
from kb.notes.folder import entry_files
from kb.notes.load import load_notes
from kb.schema import NAMES, schema_of


class Editor(yaml.SafeLoader):
    """Takes plain words for what YAML 1.2 takes them for, as editors do: `on` is text."""

    yaml_implicit_resolvers = {
        first: [
            (tag, pattern)
            for tag, pattern in resolvers
            if tag.rpartition(":")[2] in ("int", "float", "null")
        ]
        for first, resolvers in yaml.SafeLoader.yaml_implicit_resolvers.items()
    }


Editor.add_implicit_resolver("tag:yaml.org,2002:bool", re.compile("true|false"), list("tf"))


def as_an_editor_reads(path: Path) -> object:
    """Return a file's value with every key as text, as JSON has it."""
    return json.loads(json.dumps(yaml.load(path.read_text(encoding="utf-8"), Loader=Editor)))


@pytest.mark.parametrize("kind", KINDS)
def test_every_good_entry_passes_its_schema(good, kind):
    schema = schema_of(kind, notes=load_notes(good))
    jsonschema.Draft7Validator.check_schema(schema)
    for path in entry_files(good, kind):
        jsonschema.validate(as_an_editor_reads(path), schema)


def test_the_team_passes_its_schema(good):
    jsonschema.validate(
        as_an_editor_reads(good / "docs_data" / "team.yaml"),
        schema_of("team", notes=load_notes(good)),
    )


def test_a_slip_passes_its_schema_until_a_word_of_it_is_another(tmp_path):
    file = tmp_path / "slip.yaml"
    text = "entry: sensors/air-a\nwrong: 12\nby: AA\non: 2026-03-01\nsettled: {by: AA, on: 2026-03-02}\n"
    file.write_text(text, encoding="utf-8")
    jsonschema.validate(as_an_editor_reads(file), schema_of("slips"))
    file.write_text(text.replace("wrong", "wrnog"), encoding="utf-8")
    with pytest.raises(jsonschema.ValidationError, match="wrnog"):
        jsonschema.validate(as_an_editor_reads(file), schema_of("slips"))


@pytest.mark.parametrize(
    ("kind", "file", "change"),
    [
        ("sensors", "unit-a/air-a", {"reach": "opn"}),
        ("sensors", "unit-a/air-a", {"curve": "platinum-hundert"}),
        ("sensors", "unit-a/air-a", {"lable": "T6"}),
        ("sensors", "unit-a/air-a", {"id": "air-a"}),
        ("curves", "beta-ten", {"law": "bete"}),
        ("curves", "beta-ten", {"law": "nickel"}),
        ("cases", "2026-02-03-motor", {"source": "bench-sheet"}),
        ("parts", "board-a", {"dear": "very"}),
    ],
)
def test_a_slip_is_seen_while_it_is_typed(good, kind, file, change):
    schema = schema_of(kind, notes=load_notes(good))
    told = as_an_editor_reads(good / "docs_data" / kind / f"{file}.yaml")
    jsonschema.validate(told, schema)
    with pytest.raises(jsonschema.ValidationError):
        jsonschema.validate(told | change, schema)


@pytest.mark.parametrize("shown", [12, 90, False, 1000.0])
def test_a_code_that_yaml_takes_for_something_else_needs_no_quotes(good, shown):
    told = as_an_editor_reads(good / "docs_data" / "codes" / "unit-a" / "a-no.yaml")
    told["shown"][0]["text"] = shown
    jsonschema.validate(told, schema_of("codes", notes=load_notes(good)))


def test_fields_offer_the_ids_that_there_are_and_say_what_they_are_for(good):
    told = schema_of("sensors", notes=load_notes(good))["definitions"]["Sensor"]["properties"]
    assert told["family"]["enum"] == ["unit-a", "unit-b"]
    assert told["reach"]["enum"] == ["open", "behind a panel", "built in"]
    assert told["meets_c"]["description"] == Sensor.model_fields["meets_c"].description


def test_without_entries_an_id_may_be_any_word():
    told = schema_of("sensors")["definitions"]["Sensor"]["properties"]["family"]
    assert told["type"] == ["string", "number"]
    assert "enum" not in told


def test_they_are_written_and_the_editor_s_line_names_each(run, notes):
    result = run("schema", "--notes", notes)
    assert result.exit_code == 0
    written = sorted((notes / ".build" / "schema").iterdir())
    assert [path.stem for path in written] == sorted(NAMES)
    line = result.output.splitlines()[1]
    setting = json.loads("{" + line + "}")["yaml.schemas"]
    assert {notes / path for path in setting} == set(written)
    assert setting[".build/schema/curves.json"] == "docs_data/curves/**/*.yaml"
    assert setting[".build/schema/team.json"] == "docs_data/team.yaml"


def test_one_is_printed_and_nothing_written(run, notes):
    result = run("schema", "--print", "sensors", "--notes", notes)
    assert json.loads(result.output) == schema_of("sensors", notes=load_notes(notes))
    assert not (notes / ".build").exists()
