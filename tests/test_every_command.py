"""Every command: an example in its help, an answer for machines, and an exit code that is true."""

from __future__ import annotations

import json
import shutil
from collections.abc import Iterator
from pathlib import Path

import click
import pytest
from click.testing import CliRunner, Result

from generators.all_commands import ohmfolio
from generators.publish.pack import pack
from kb.writer import write_if_changed
from tests.command_reference import every_command

TOP = Path(__file__).resolve().parents[1]
NO_JSON = {"serve": "it runs until it is stopped, and shows the notes in a browser"}
"""Commands that answer no machine, and why."""
SOURCE = ("--title", "Sheet", "--publisher", "Maker", "--year", "2024", "--where", "on paper")
SENSOR = "example-suction"
MOTOR = """\
name: Fan motor
families: [example-unit]
source: example-sheet
is_a: motor
does: Moves the air.
windings: {pairs: {U-V: 3.2, V-W: 3.2, W-U: 3.2}, connection: star, at_c: 20}
insulation: {min_ohm: 2M, test_v: 500, rated_v: 400, disconnect: Its three leads at the board.}
"""
QUESTIONS: dict[str, tuple[tuple[str, ...], tuple[str, ...]]] = {
    "start": (("new", "--bare"), (".",)),
    "examples": ((), ("--changed-too",)),
    "check": ((), ("--notes", "nowhere")),
    "due": ((), ("--kind", "sensor")),
    "schema": ((), ("--print", "sensor")),
    "expect": ((SENSOR, "--at", "7"), ("no-such-curve", "--at", "7")),
    "judge": ((SENSOR, "--at", "20", "--reading", "12.5k"), (SENSOR, "--reading", "much")),
    "round": (("example-unit", "--reading", "T1=12.5k"), ("example-unit", "--reading", "T9=1k")),
    "which": (("--pair", "25=10k"), ("--pair", "warm=10k")),
    "fit": (("points.csv",), ("gone.csv",)),
    "stand-in": ((SENSOR, "--at", "7"), (SENSOR, "--at", "9000")),
    "winding": (("a-fan", "--reading", "U-V=3.2"), ("no-part", "--reading", "U-V=3.2")),
    "insulation": (("a-fan", "--reading", "45M", "--volts", "500"), ("no-part",)),
    "code": (("E1",), ("example-unit", "Z99")),
    "case add": (("job.yaml",), ("gone.yaml",)),
    "add": (("source", *SOURCE), ("source", "--year", "soon")),
    "bring": (("sensors.csv",), ("gone.csv",)),
    "sheet": (("sensors",), ("methods",)),
    "fields": (("sensor",), ("sensr",)),
    "rename": ((SENSOR, "other-suction"), ("gone", "other")),
    "remove": (("a-spare-source",), ("example-unit",)),
    "key make": ((), ("--to", "docs_data/key.pem")),
    "key change": ((), ("--key", "nowhere.pem")),
    "key lost": ((), ("--to", "docs_data/key.pem")),
    "key stop": ((), ("--key", "nowhere.pem")),
    "key show": ((), ("--notes", "nowhere")),
    "pack": (("--after", "0"), ("--published", "nowhere.zip")),
    "verify": (("copy.zip",), ("nowhere.zip",)),
    "changes": (("now",), ("99",)),
    "pocket": ((), ("no-family",)),
    "print": (("--sort", "curve"), ("--browser", "nowhere")),
    "labels": (("--address", "https://notes.example/"), ("--address", "nowhere")),
    "build": ((), ("--out", "docs_data")),
}
"""Command → words that it answers, and words that it refuses, in the notes of `start --bare`."""
SIGNED = {"key change", "key lost", "key stop", "verify"}
"""Asked in notes whose releases are signed."""
BUILDS = {"build", "labels", "pack", "pocket", "print", "verify"}
COMMANDS = dict(every_command(ohmfolio))


@pytest.fixture
def notes(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Path]:
    """Stand in notes of one example of each kind, with a file for whoever takes one."""
    for name in ("docs_data", "content"):
        shutil.copytree(TOP / "kb/starter" / name, tmp_path / name)
    write_if_changed(tmp_path / "points.csv", "t_c,r_ohm\n0,33.9k\n25,10.0k\n40,5.28k\n50,3.56k\n")
    write_if_changed(tmp_path / "sensors.csv", f"id,place\n{SENSOR},Left of the fan\n")
    write_if_changed(
        tmp_path / "docs_data/sources/a-spare-source.yaml",
        "name: Spare\ntitle: Spare\npublisher: Maker\nyear: 2024\nwhere: on paper\n",
    )
    write_if_changed(tmp_path / "docs_data/parts/a-fan.yaml", MOTOR)
    job = next((tmp_path / "docs_data/cases").rglob("*.yaml")).read_text(encoding="utf-8")
    write_if_changed(tmp_path / "job.yaml", job.replace("on: 2026-01-15", "on: 2026-01-16"))
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path.parent / f"{tmp_path.name}-settings"))
    monkeypatch.chdir(tmp_path)
    return tmp_path


def asked(command: str, *words: str) -> Result:
    return CliRunner().invoke(ohmfolio, [*command.split(), *words])


def test_every_command_is_asked_here() -> None:
    assert {*QUESTIONS} | {*NO_JSON} == {*COMMANDS}


@pytest.mark.parametrize("name", COMMANDS)
def test_a_command_has_help_with_an_example_and_answers_machines(name: str) -> None:
    command = COMMANDS[name]
    assert "Example: ohmfolio " + name in (command.help or "")
    takes_json = any("--json" in option.opts for option in command.params)
    assert takes_json is (name not in NO_JSON)


@pytest.mark.parametrize(
    "name",
    [pytest.param(name, marks=[pytest.mark.builds] * (name in BUILDS)) for name in QUESTIONS],
)
def test_an_answer_and_a_refusal_are_json_and_the_exit_code_says_which(
    name: str, notes: Path
) -> None:
    answers, refuses = QUESTIONS[name]
    if name in SIGNED:
        assert asked("key", "make").exit_code == 0
    if name == "verify":
        pack(notes, to=notes / "copy.zip", after=0)
    refused = asked(name, *refuses, "--json")
    assert isinstance(json.loads(refused.stdout), dict | list), refused.output
    assert refused.exit_code in (1, 2), refused.output
    words = asked(name, *refuses)
    assert (words.exit_code, bool(words.stderr)) == (refused.exit_code, True)
    answered = asked(name, *answers, "--json")
    assert answered.exit_code == 0, answered.output
    answer = json.loads(answered.stdout)
    assert isinstance(answer, dict | list)
    if name == "verify":
        assert len(answer["signed_by"]) == len("1a2b-3c4d-5e6f-7081-92a3")
        assert asked("verify", "copy.zip", "--key", "1a2b").exit_code == 2
        assert asked("changes", "copy.zip").stderr == ""
        asked("key", "lost")
        assert "warning: newest.json: it is signed by" in asked("changes", "copy.zip").stderr


def test_a_command_that_is_none_is_refused_in_json_too() -> None:
    refused = asked("chekc", "--json")
    answer = json.loads(refused.stdout)
    assert answer["refused"].startswith("No such command 'chekc'.")
    assert answer["exit_code"] == refused.exit_code == 2


def test_pocket_files_of_no_family_are_no_success(notes: Path) -> None:
    shutil.rmtree(notes / "docs_data/families")
    refused = asked("pocket", "--notes", str(notes))
    assert (refused.exit_code, "there is no family yet" in refused.output) == (2, True)


def test_help_is_no_refusal() -> None:
    assert asked("check", "--help", "--json").exit_code == 0
    assert isinstance(ohmfolio, click.Group)
