"""What the README shows is what comes out."""

from __future__ import annotations

import re
import shutil
from pathlib import Path

import pytest
from click.testing import CliRunner

from generators.site_commands import ohmfolio

ROOT = Path(__file__).resolve().parents[1]
README = (ROOT / "README.md").read_text(encoding="utf-8")
SHOWN = re.findall(r"```console\n\$ ohmfolio (.*?)\n(.*?)```", README, re.DOTALL)


@pytest.mark.parametrize(("words", "output"), SHOWN, ids=[words for words, _ in SHOWN])
def test_a_command_shown_prints_what_is_shown(words: str, output: str, tmp_path: Path) -> None:
    for name in ("docs_data", "content"):
        shutil.copytree(ROOT / name, tmp_path / name)
    if words == "check":
        sensor = tmp_path / "docs_data/sensors/quellmark-rooftop/quellmark-coil-out.yaml"
        told_wrong = sensor.read_text(encoding="utf-8").replace("ntc-10k-3435", "ntc-10k-3453")
        sensor.write_text(told_wrong, encoding="utf-8")
    told = CliRunner().invoke(ohmfolio, [*words.split(), "--notes", str(tmp_path)])
    begun = output.partition("…")[0].rstrip()
    # The README is typed with plain spaces; the terminal gets ones that do not break a line.
    assert told.output.replace("\u00a0", " ").startswith(begun), told.output


def test_every_command_is_in_the_readme_or_in_its_help() -> None:
    named = set(re.findall(r"`ohmfolio ([a-z-]+)", README))
    assert set(ohmfolio.commands) - named == set()


def test_the_files_it_names_are_there() -> None:
    for path in re.findall(r"`((?:docs_data|tests|kb|content)/[\w./-]+)`", README):
        assert (ROOT / path).exists(), path
