"""The command that makes stickers for a machine's door."""

from __future__ import annotations

from pathlib import Path

import click

from kb.commands.options import NotUnderstood, WholePath, json_option, notes_option, say_json
from kb.label_sheets import MEASURED, SHEETS, USUAL, NotASheet
from kb.model.words import Fault
from kb.words.phrase import counted

from ..labels.qr_code import TooLong
from ..labels.sticker import TooManyWords
from .chromium import NoBrowser, find_browser
from .label_files import (
    Labels,
    NoAddress,
    WhichMachine,
    make_labels,
    sheet_named,
    sound_notes,
    write_labels,
)
from .print_command import browser_option, print_refusals

_USUAL = ", ".join(f"{name} on {paper}" for paper, name in USUAL.items())


@click.command("labels")
@click.argument("families", metavar="[FAMILY]...", nargs=-1)
@notes_option
@click.option(
    "--to",
    type=WholePath(path_type=Path, file_okay=False),
    default=None,
    help="The folder for labels.html and labels.pdf; printed/ in the notes by default.",
)
@click.option(
    "--text",
    "texts",
    multiple=True,
    metavar="WORDS",
    help="Room or serial of one machine; a semicolon begins a line. Repeats: a sticker each.",
)
@click.option(
    "--copies", type=click.IntRange(1, 500), default=1, show_default=True, help="Of each sticker."
)
@click.option(
    "--sheet",
    type=click.Choice(tuple(SHEETS)),
    default=None,
    help=f"Paper, columns × rows. By default {_USUAL}.",
)
@click.option(
    "--measured",
    metavar="LENGTHS",
    default=None,
    help=f"Another sheet, in millimetres: '{MEASURED}'.",
)
@click.option(
    "--first",
    type=click.IntRange(min=1),
    default=1,
    show_default=True,
    help="Place of the first sticker on a partly used sheet, row by row.",
)
@click.option(
    "--address",
    default=None,
    metavar="URL",
    help="Where a browser opens the notes; by default what team.yaml says.",
)
@browser_option
@json_option
def labels_command(
    families: tuple[str, ...],
    notes: Path,
    to: Path | None,
    texts: tuple[str, ...],
    copies: int,
    sheet: str | None,
    measured: str | None,
    first: int,
    address: str | None,
    browser: Path | None,
    as_json: bool,
) -> None:
    """Make stickers for machines' doors: a code that leads a phone to the family's page.

    They stand on bought sheets of stickers, at true size. Without FAMILY, one for each. Where no
    Chromium is installed, labels.html is printed from any browser at 100 %. The words of --text
    stand on the sticker and nowhere else.

    Example: ohmfolio labels quellmark-rooftop --text "Roof east; unit 2" --first 4 --to ~/stickers
    """
    to = to or notes / "printed"
    with print_refusals(to=to, as_json=as_json):
        found = _browser(browser)
        known = sound_notes(notes)
        assert known.team is not None
        try:
            labels = make_labels(
                known,
                families=families,
                texts=texts,
                copies=copies,
                sheet=sheet_named(sheet, measured=measured, team=known.team),
                first=first,
                address=address,
            )
        except NoAddress as refusal:
            raise click.ClickException(str(refusal)) from None
        except (NotASheet, TooLong, TooManyWords, WhichMachine, Fault) as refusal:
            raise NotUnderstood(str(refusal)) from None
        files = write_labels(labels, to=to, notes_folder=notes, browser=found)
    if as_json:
        say_json(_as_dict(labels, files=files))
    else:
        click.echo(_words(labels, files=files))


def _browser(named: Path | None) -> Path | None:
    """Return what prints; None where nothing does and nobody asked for one."""
    try:
        return find_browser(named)
    except NoBrowser:
        if named is not None:
            raise
        return None


def _as_dict(labels: Labels, *, files: list[Path]) -> dict[str, object]:
    return {
        "files": [str(file) for file in files],
        "stickers": labels.stickers,
        "sheets": labels.sheets,
        "addresses": list(labels.addresses),
    }


def _words(labels: Labels, *, files: list[Path]) -> str:
    how = "Print at 100 %, with no fitting to the page, first on plain paper."
    alone = "" if len(files) > 1 else "\nThere is no Chromium here: print it from a browser."
    made = f"{counted(labels.stickers, noun='sticker')} on {counted(labels.sheets, noun='sheet')}"
    return f"{made}: {', '.join(map(str, files))}\n{how}{alone}"
