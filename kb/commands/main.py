"""`ohmfolio`: the one word that every command begins with."""

from __future__ import annotations

import click

from kb import __version__

from .add import add
from .bring import bring
from .case import case
from .check import check
from .code import code
from .due import due
from .examples import examples
from .expect import expect
from .fields import fields
from .fit import fit
from .insulation import insulation
from .judge import judge
from .rename import remove, rename
from .round_of_readings import round_of_readings
from .schema import schema
from .sheet import sheet
from .stand_in import stand_in
from .start import start
from .which import which
from .winding import winding

COMMANDS: tuple[click.Command, ...] = (
    start,
    examples,
    check,
    due,
    schema,
    expect,
    judge,
    round_of_readings,
    which,
    fit,
    stand_in,
    winding,
    insulation,
    code,
    case,
    add,
    bring,
    sheet,
    fields,
    rename,
    remove,
)


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
