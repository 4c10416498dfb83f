"""The README's list of commands, made from what each says of itself: `python -m tests.command_reference`."""

from __future__ import annotations

import shlex
from collections.abc import Iterator
from pathlib import Path

import click

from generators.all_commands import ohmfolio

README = Path(__file__).resolve().parents[1] / "README.md"
BEGIN = "<!-- From --help, by .venv/bin/python -m tests.command_reference; change the commands, not this. -->\n"
END = "<!-- To here. -->\n"
ALIKE = {"--notes", "--json", "--help"}
"""Options that nearly every command has; the README names them once."""


def every_command(group: click.Group = ohmfolio) -> Iterator[tuple[str, click.Command]]:
    """Yield each command with the words that call it, those of a group too."""
    for command in group.commands.values():
        if isinstance(command, click.Group):
            yield from (
                (f"{command.name} {words}", inner) for words, inner in every_command(command)
            )
        else:
            yield str(command.name), command


def example(command: click.Command) -> list[str]:
    """Return the words of the example in a command's help, without `ohmfolio`."""
    _, _, text = (command.help or "").partition("Example: ohmfolio ")
    return shlex.split(text)


def usage(words: str, *, command: click.Command) -> str:
    """Return the command with its arguments, as one types it."""
    context = click.Context(command, info_name=words)
    arguments = [
        parameter.make_metavar(context)
        for parameter in command.params
        if isinstance(parameter, click.Argument)
    ]
    return " ".join(["ohmfolio", words, *arguments])


def options(command: click.Command) -> Iterator[str]:
    """Yield each option of a command's own, with what it takes and what it is for."""
    context = click.Context(command)
    for parameter in command.params:
        record = parameter.get_help_record(context)
        if isinstance(parameter, click.Option) and record and not ALIKE & set(parameter.opts):
            name, words = record
            yield f"`{name}` {words.partition('  [')[0].rstrip('.')}"


def reference() -> str:
    """Return the table of commands, and below it what each can be told."""
    commands = list(every_command())
    table = [
        f"| `{escaped(usage(words, command=command))}` | {command.get_short_help_str(limit=200)} |"
        for words, command in commands
    ]
    details = [
        f"- `{words}`: {'; '.join(of_command)}."
        for words, command in commands
        if (of_command := list(options(command)))
    ]
    return "\n".join(
        [
            "| command | what it does |",
            "|---|---|",
            *table,
            "",
            "<details><summary>What each can be told</summary>",
            "",
            *details,
            "",
            "</details>",
            "",
        ]
    )


def escaped(text: str) -> str:
    """Return text for a cell of a table."""
    return text.replace("|", "\\|")


def parts(readme: str) -> tuple[str, str, str]:
    """Return what stands before the list, the list, and what stands after it."""
    before, begin, rest = readme.partition(BEGIN)
    listed, end, after = rest.partition(END)
    if not (begin and end):
        raise ValueError(f"README.md has lost its two marks, {BEGIN.strip()} and {END.strip()}")
    return before + BEGIN, listed, END + after


if __name__ == "__main__":
    head, _, tail = parts(README.read_text(encoding="utf-8"))
    README.write_text(head + reference() + tail, encoding="utf-8")
