"""What README and DEVELOPERS say of the program is what it says of itself."""

from __future__ import annotations

import re
import shutil
from pathlib import Path

import pytest
from click.testing import CliRunner

from generators.all_commands import ohmfolio
from kb import __version__
from tests.command_reference import parts, reference

ROOT = Path(__file__).resolve().parents[1]
README = (ROOT / "README.md").read_text(encoding="utf-8")
DEVELOPERS = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
SHOWN = re.findall(r"```console\n\$ ohmfolio (.*?)\n(.*?)```", README, re.DOTALL)


@pytest.mark.parametrize(("words", "output"), SHOWN, ids=[words for words, _ in SHOWN])
def test_a_command_shown_prints_what_is_shown(words: str, output: str, tmp_path: Path) -> None:
    for name in ("docs_data", "content"):
        shutil.copytree(ROOT / name, tmp_path / name)
    if words == "check":
        sensor = tmp_path / "docs_data/sensors/quellmark-rooftop/quellmark-coil-out.yaml"
        misspelt = sensor.read_text(encoding="utf-8").replace("ntc-10k-3435", "ntc-10k-3453")
        sensor.write_text(misspelt, encoding="utf-8")
    result = CliRunner().invoke(ohmfolio, [*words.split(), "--notes", str(tmp_path)])
    begun = output.partition("…")[0].rstrip()
    # The README is typed with plain spaces; the terminal gets ones that do not break a line.
    assert result.output.replace("\u00a0", " ").startswith(begun), result.output


def test_the_list_of_commands_says_what_they_say_of_themselves() -> None:
    _, listed, _ = parts(README)
    assert listed == reference(), "README.md lags behind --help: python -m tests.command_reference"


def test_this_version_has_an_entry_and_it_stands_first() -> None:
    entries = re.findall(r"^### (\S+)$", DEVELOPERS.partition("## Versions")[2], re.MULTILINE)
    assert entries[0] == __version__
    assert entries == sorted(entries, key=lambda entry: [*map(int, entry.split("."))], reverse=True)


def test_the_names_and_units_of_the_house_are_those_of_the_code() -> None:
    table = DEVELOPERS.partition("## Names and units")[2].partition("\n## ")[0]
    rows = re.findall(r"^\| (`.*?) \|", table, re.MULTILINE)
    names = {name for row in rows for name in re.findall(r"`(\w+)`", row)}
    code = "\n".join(path.read_text(encoding="utf-8") for path in (ROOT / "kb").rglob("*.py"))
    used = {name for name in names if re.search(_as_written(name), code)}
    assert names
    assert names - used == set()


def _as_written(name: str) -> str:
    return rf"{name}\b" if name.startswith("_") else rf"\b{name}\b"


def test_the_files_it_names_are_there() -> None:
    for path in re.findall(r"`((?:docs_data|tests|kb|content)/[\w./-]+)`", README):
        assert (ROOT / path).exists(), path
