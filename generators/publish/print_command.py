"""The command that prints sheets."""

from __future__ import annotations

import contextlib
import sys
from collections.abc import Iterator
from pathlib import Path

import click

from kb.commands.check import show_problems
from kb.commands.disk_words import disk_refused
from kb.commands.options import NotUnderstood, WholePath, json_option, notes_option, say_json
from kb.words.phrase import counted

from ..build import BUILD_REFUSALS, NotesHaveFaults
from ..interruption import Interrupted
from .chromium import NoBrowser, NotPrinted, find_browser
from .pockets import NoSuchFamily
from .sheets import SORTS, Printing, Sheet, ready_to_print

PRINT_REFUSALS = (*BUILD_REFUSALS, NotPrinted, NoBrowser)


@contextlib.contextmanager
def print_refusals(*, to: Path, as_json: bool) -> Iterator[None]:
    """Turn what stops a block that prints into words and an exit code."""
    try:
        yield
    except NotesHaveFaults as faults:
        show_problems(faults.notes, as_json=as_json)
        if not as_json:
            click.echo("Nothing was printed.", err=True)
        sys.exit(1)
    except NoSuchFamily as fault:
        raise NotUnderstood(str(fault)) from None
    except PRINT_REFUSALS as refusal:
        raise click.ClickException(str(refusal)) from None
    except OSError as error:
        raise disk_refused(error, at=to, stands="the files named above are whole") from None


browser_option = click.option(
    "--browser",
    type=click.Path(path_type=Path),
    default=None,
    metavar="FILE",
    help="The Chromium to print with; by default the one on the PATH.",
)


@click.command("print")
@click.argument("families", metavar="[FAMILY]...", nargs=-1)
@notes_option
@click.option(
    "--to",
    type=WholePath(path_type=Path, file_okay=False),
    default=None,
    help="The folder for the sheets; printed/ in the notes by default.",
)
@click.option(
    "--sort",
    "sorts",
    type=click.Choice(SORTS),
    multiple=True,
    help="Only sheets of this sort. Repeats.",
)
@browser_option
@json_option
def print_command(
    families: tuple[str, ...],
    notes: Path,
    to: Path | None,
    sorts: tuple[str, ...],
    browser: Path | None,
    as_json: bool,
) -> None:
    """Print sheets for the van and the machine's door, as PDF files.

    A family's codes, sensors, plugs and drawings; what goes back on each part, with boxes to tick;
    the curves and methods that it uses. Without FAMILY, everything. The paper (A4 or Letter) stands
    in team.yaml. A Chromium that is installed here does it, without a network; any browser prints
    the same from the pages themselves.

    Example: ohmfolio print quellmark-rooftop --sort family --to ~/sheets
    """
    to = to or notes / "printed"
    with print_refusals(to=to, as_json=as_json):
        found = find_browser(browser)
        printing = ready_to_print(notes, families=families, sorts=sorts, to=to, browser=found)
        sheets = []
        try:
            for sheet in _shown(printing):
                sheets.append(sheet)
                if not as_json:
                    click.echo(sheet_words(sheet))
        except KeyboardInterrupt:
            stands = f"{counted(len(sheets), noun='sheet')} of {len(printing.paths)} in {to}"
            raise Interrupted(f"Stopped; {stands}, each of them whole.") from None
    if as_json:
        say_json([sheet.as_dict() for sheet in sheets])


def sheet_words(sheet: Sheet) -> str:
    """Return a printed sheet in a line."""
    return f"{sheet.file}: {counted(sheet.pages, noun='page')}, {sheet.bytes // 1000} kB"


def _shown(printing: Printing) -> Iterator[Sheet]:
    """Print, and say on the side how far it is while a terminal watches."""
    watched = sys.stderr.isatty()
    for done, sheet in enumerate(printing.sheets(), 1):
        if watched:
            click.echo(f"\r{done} of {len(printing.paths)} \r", err=True, nl=False)
        yield sheet
