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
from kb.schema import NAMES, ids_in, schema_of


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
    schema = schema_of(kind, ids=ids_in(good))
    jsonschema.Draft7Validator.check_schema(schema)
    for path in entry_files(good, kind):
        jsonschema.validate(as_an_editor_reads(path), schema)


def test_the_team_passes_its_schema(good):
    jsonschema.validate(
        as_an_editor_reads(good / "docs_data" / "team.yaml"), schema_of("team", ids=ids_in(good))
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
    schema = schema_of(kind, ids=ids_in(good))
    told = as_an_editor_reads(good / "docs_data" / kind / f"{file}.yaml")
    jsonschema.validate(told, schema)
    with pytest.raises(jsonschema.ValidationError):
        jsonschema.validate(told | change, schema)


@pytest.mark.parametrize("shown", [12, 90, False, 1000.0])
def test_a_code_that_yaml_takes_for_something_else_needs_no_quotes(good, shown):
    told = as_an_editor_reads(good / "docs_data" / "codes" / "unit-a" / "a-no.yaml")
    told["shown"][0]["text"] = shown
    jsonschema.validate(told, schema_of("codes", ids=ids_in(good)))


def test_fields_offer_the_ids_that_there_are_and_say_what_they_are_for(good):
    told = schema_of("sensors", ids=ids_in(good))["definitions"]["Sensor"]["properties"]
    assert told["family"]["enum"] == ["unit-a", "unit-b"]
    assert told["reach"]["enum"] == ["open", "behind a panel", "built in"]
    assert told["meets_c"]["description"] == Sensor.model_fields["meets_c"].description


def test_without_entries_an_id_may_be_any_word():
    told = schema_of("sensors")["definitions"]["Sensor"]["properties"]["family"]
    assert told["type"] == ["string", "number"]
    assert "enum" not in told


def test_they_are_written_and_the_settings_name_each_once(run, notes):
    result = run("schema", "--notes", notes)
    assert (result.exit_code, result.output) == (
        0,
        f"{len(NAMES)} schemas in {notes}/.build/schema/.\n"
        ".vscode/settings.json leads your editor to them.\n",
    )
    written = sorted((notes / ".build" / "schema").iterdir())
    assert [path.stem for path in written] == sorted(NAMES)
    settings = json.loads((notes / ".vscode/settings.json").read_text())["yaml.schemas"]
    assert {notes / path for path in settings} == set(written)
    assert settings[".build/schema/curves.json"] == [
        "docs_data/curves/**/*.yaml",
        "docs_data/curves/**/*.yml",
    ]
    assert settings[".build/schema/team.json"] == ["docs_data/team.yaml"]


def test_settings_of_the_keeper_are_left_and_the_line_to_add_is_said(run, notes):
    settings = notes / ".vscode/settings.json"
    settings.parent.mkdir()
    settings.write_text('{"editor.tabSize": 2} // mine\n')
    lines = run("schema", "--notes", notes).output.splitlines()
    assert lines[1] == (
        ".vscode/settings.json is yours and was left as it is. Add this line to it:"
    )
    assert settings.read_text() == '{"editor.tabSize": 2} // mine\n'
    settings.write_text("{" + lines[2] + "} // mine\n")
    again = run("schema", "--notes", notes).output.splitlines()
    assert again[1:] == [".vscode/settings.json leads your editor to them."]
    assert settings.read_text().endswith("// mine\n")


def test_one_is_printed_and_nothing_written(run, notes):
    result = run("schema", "--print", "sensors", "--notes", notes)
    assert json.loads(result.output) == schema_of("sensors", ids=ids_in(notes))
    assert not (notes / ".build").exists()
