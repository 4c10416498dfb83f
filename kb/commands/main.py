"""`ohmfolio`: the one word that every command begins with; each is imported when it is called."""

from __future__ import annotations

from collections import UserDict
from collections.abc import Iterator
from importlib import import_module

import click

from kb import __version__

PLACES = {
    "start": "kb.commands.start:start",
    "examples": "kb.commands.examples:examples",
    "check": "kb.commands.check:check",
    "due": "kb.commands.due:due",
    "schema": "kb.commands.schema:schema",
    "expect": "kb.commands.expect:expect",
    "judge": "kb.commands.judge:judge",
    "round": "kb.commands.round_of_readings:round_of_readings",
    "which": "kb.commands.which:which",
    "fit": "kb.commands.fit:fit",
    "stand-in": "kb.commands.stand_in:stand_in",
    "winding": "kb.commands.winding:winding",
    "insulation": "kb.commands.insulation:insulation",
    "code": "kb.commands.code:code",
    "case": "kb.commands.case:case",
    "add": "kb.commands.add:add",
    "bring": "kb.commands.bring:bring",
    "sheet": "kb.commands.sheet:sheet",
    "fields": "kb.commands.fields:fields",
    "rename": "kb.commands.rename:rename",
    "remove": "kb.commands.rename:remove",
    "key": "kb.commands.key:key",
}
"""Command → its module and its name there."""
ASKED = "ohmfolio.json"
"""Whether the answer is for a machine, in what a context keeps."""


class LateCommands(UserDict[str, click.Command]):
    """Commands by name, each imported when somebody wants it: most need little of the house.

    Parameters
    ----------
    places : dict of str
        Name → module and name there, `kb.commands.expect:expect`.
    """

    def __init__(self, places: dict[str, str]) -> None:
        super().__init__()
        self.places = dict(places)

    def __getitem__(self, name: str) -> click.Command:
        if name not in self.data and name in self.places:
            module, _, there = self.places[name].partition(":")
            self.data[name] = getattr(import_module(module), there)
        return self.data[name]

    def __iter__(self) -> Iterator[str]:
        return iter(dict.fromkeys([*self.places, *self.data]))

    def __len__(self) -> int:
        return len({*self.data, *self.places})

    def __contains__(self, name: object) -> bool:
        return name in self.data or name in self.places


class Answering(click.Group):
    """The group: what refuses a machine's question answers it in JSON too."""

    def parse_args(self, ctx: click.Context, args: list[str]) -> list[str]:
        """Take the arguments in, and note whether a machine asks."""
        ctx.meta[ASKED] = "--json" in args
        return super().parse_args(ctx, args)

    def invoke(self, ctx: click.Context) -> object:
        """Run the command; a refusal of `--json` is JSON on standard output, with its exit code."""
        try:
            return super().invoke(ctx)
        except click.ClickException as fault:
            if not ctx.meta[ASKED]:
                raise
            from .options import say_json

            say_json({"refused": fault.format_message(), "exit_code": fault.exit_code})
            ctx.exit(fault.exit_code)


@click.group(cls=Answering, context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(__version__, prog_name="ohmfolio")
def ohmfolio() -> None:
    """Turn a contractor's own notes into an offline pocket reference.

    Notes are YAML files in docs_data/ and pages in content/. Each command finds the nearest ones
    upward of where you stand, or takes them from --notes DIR.

    Example: ohmfolio start our-notes
    """


ohmfolio.commands = LateCommands(PLACES)
