"""`ohmfolio`: the one word that every command begins with."""

from __future__ import annotations

import click

from kb import __version__

from .case import case
from .check import check
from .code import code
from .expect import expect
from .schema import schema
from .start import start

COMMANDS: tuple[click.Command, ...] = (start, check, schema, expect, code, case)


@click.group(context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(__version__, prog_name="ohmfolio")
def ohmfolio() -> None:
    """Turn a contractor's own notes into an offline pocket reference.

    Notes are YAML files in docs_data/ and pages in content/. Each command finds the nearest ones
    upward of where you stand, or takes them from --notes DIR.

    Example: ohmfolio start our-notes
    """


for command in COMMANDS:
    ohmfolio.add_command(command)
