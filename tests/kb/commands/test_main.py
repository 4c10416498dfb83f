"""The one word that every command begins with."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

import click
import pytest

from kb import __version__
from kb.commands.main import PLACES, ohmfolio

COMMANDS = [ohmfolio.commands[name] for name in PLACES]


def test_it_says_its_version(run):
    assert run("--version").output == f"ohmfolio, version {__version__}\n"


def words(
    commands: Iterable[click.Command], before: str = ""
) -> Iterator[tuple[str, click.Command]]:
    """Yield every command with the words that call it, those of a group too."""
    for command in commands:
        called = f"{before}{command.name}"
        if isinstance(command, click.Group):
            yield from words(command.commands.values(), f"{called} ")
        else:
            yield called, command


@pytest.mark.parametrize("called", [called for called, _ in words(COMMANDS)])
def test_every_command_helps_with_an_example(run, called):
    result = run(*called.split(), "--help")
    assert result.exit_code == 0
    assert f"Example: ohmfolio {called}" in " ".join(result.output.split())


@pytest.mark.parametrize(("called", "command"), list(words(COMMANDS)))
def test_every_command_takes_the_notes_but_those_that_need_none(called, command):
    names = {name for parameter in command.params for name in parameter.opts}
    assert ("--notes" in names) == (called not in ("start", "fields"))
