"""Make the stickers of some families, or of all, as a page and as a PDF."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from kb.catalog import Catalog
from kb.check import check_notes
from kb.label_sheets import SHEETS, USUAL, LabelSheet, NotASheet, measured_sheet
from kb.model import Family, Team
from kb.model.team import web_address
from kb.notes.load import Notes
from kb.notes.problem import nearest
from kb.site_folder import WORK, refuse_foreign_print, refuse_place
from kb.words.catalogue import speaking
from kb.writer import remove_folder, sweep, write_if_changed

from ..build import NotesHaveFaults
from ..labels.label_page import label_page, sheets_needed
from ..labels.qr_code import qr_code
from ..labels.sticker import Sticker
from .chromium import printed
from .pockets import known_families

BETWEEN_LINES = ";"
"""Parts the lines of one sticker's own words."""


class NoAddress(Exception):
    """Nobody said where a browser opens the notes."""


class WhichMachine(Exception):
    """Words of one machine were given, and no family or several."""


@dataclass(frozen=True)
class Labels:
    """Stickers on their sheets, ready to be written."""

    page: str
    addresses: tuple[str, ...]
    """Each family's, once."""
    stickers: int
    sheets: int


def make_labels(
    notes: Notes,
    *,
    families: Sequence[str],
    texts: Sequence[str],
    copies: int,
    sheet: LabelSheet,
    first: int,
    address: str | None,
) -> Labels:
    """Return the stickers of some families, or of all.

    Parameters
    ----------
    notes : Notes
    families : sequence of ids
    texts : sequence of str
        What stands below the family's name, a sticker for each; none gives one without.
    copies : int
    sheet : LabelSheet
    first : int
        The place of the first sticker on its sheet.
    address : str, optional
        Where the site is opened; by default what team.yaml says.

    Raises
    ------
    NoSuchFamily, WhichMachine, NoAddress, NotASheet, TooLong, TooManyWords
    """
    catalog = Catalog(notes)
    known = known_families(notes, named=families)
    root = _root(catalog.team, address=address)
    if texts and len(families) != 1:
        raise WhichMachine(
            "--text is of one machine: name the one family it belongs to, and ask again for others"
        )
    with speaking(catalog.team.language):
        stickers = [
            _sticker(catalog, family_id=family_id, text=text, root=root)
            for family_id in known
            for text in (texts or ("",))
            for _ in range(copies)
        ]
        page = label_page(stickers, sheet=sheet, first=first)
    return Labels(
        page=page,
        addresses=tuple(dict.fromkeys(sticker.code.address for sticker in stickers)),
        stickers=len(stickers),
        sheets=sheets_needed(len(stickers), sheet=sheet, first=first),
    )


def sound_notes(notes_folder: Path) -> Notes:
    """Return the notes when nothing is wrong with them.

    Raises
    ------
    NotesHaveFaults
    """
    notes = check_notes(notes_folder)
    if any(not problem.warning for problem in notes.problems):
        raise NotesHaveFaults(notes)
    return notes


def sheet_named(name: str | None, *, measured: str | None, team: Team) -> LabelSheet:
    """Return the sheet that is meant: measured, named, or the usual one of the team's paper.

    Raises
    ------
    NotASheet
    """
    if measured is not None:
        return measured_sheet(measured, paper=team.paper)
    name = name or USUAL[team.paper]
    if name not in SHEETS:
        raise NotASheet(f"there is no sheet '{name}'; {nearest(name, SHEETS)}")
    return SHEETS[name]


def write_labels(
    labels: Labels, *, to: Path, notes_folder: Path, browser: Path | None
) -> list[Path]:
    """Write the page, and a PDF of it where there is a browser; return the files.

    Raises
    ------
    FolderNotOurs, NotPrinted, OSError
    """
    page, pdf = to / "labels.html", to / "labels.pdf"
    refuse_place(to, notes=notes_folder)
    for file in (page, pdf):
        refuse_foreign_print(file)
    sweep(to)
    write_if_changed(page, labels.page)
    if browser is None:
        return [page]
    work = notes_folder / WORK / "printing"
    try:
        write_if_changed(pdf, printed(page, browser=browser, work=work))
    finally:
        remove_folder(work)
    return [page, pdf]


def _sticker(catalog: Catalog, *, family_id: str, text: str, root: str) -> Sticker:
    family = catalog.get(Family, family_id)
    return Sticker(
        code=qr_code(root + family.href),
        name=family.name,
        lines=_lines(text),
        team=catalog.team.name,
    )


def _root(team: Team, *, address: str | None) -> str:
    if address is not None:
        return web_address(address)
    if team.at_address is None:
        raise NoAddress(
            "a sticker leads to where a browser opens the notes, and nobody said where: write it "
            "into docs_data/team.yaml, such as 'address: https://notes.example/team/', or name it "
            "with --address"
        )
    return team.at_address


def _lines(text: str) -> tuple[str, ...]:
    return tuple(part.strip() for part in text.split(BETWEEN_LINES) if part.strip())
