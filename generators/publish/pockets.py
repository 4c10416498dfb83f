"""Write the pocket files of some families, or of all."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from pathlib import Path

from kb.catalog import Catalog
from kb.check import check_notes
from kb.model import Family
from kb.notes.folder import dress_folder
from kb.notes.load import Notes
from kb.notes.problem import nearest
from kb.release_format.kept import read_history
from kb.site_folder import WORK, refuse_foreign_pocket, refuse_place
from kb.words.catalogue import speaking
from kb.writer import sweep, write_if_changed

from ..build import PUBLISHED, build
from ..release.called import called
from ..site_context import SiteContext
from .pack import refuse_unfit
from .pocket import make_pocket


class NoSuchFamily(Exception):
    """A family was named that the notes do not hold."""


def write_pockets(
    notes_folder: Path, *, families: Sequence[str], to: Path
) -> Iterator[tuple[Path, int]]:
    """Build the site, write a file for each family, and yield each with its size in bytes.

    Parameters
    ----------
    notes_folder : Path
    families : sequence of ids; none stands for all of them
    to : Path

    Raises
    ------
    NoSuchFamily
    NotToPublish
        When the notes hold what must not leave the house.
    FolderNotOurs
        When a file of somebody else's would be replaced, or the next build would lose the file.
    NotesHaveFaults, and whatever else stops a build
    """
    notes = check_notes(notes_folder)
    files = {
        family_id: to / f"{family_id}.html" for family_id in known_families(notes, named=families)
    }
    refuse_unfit(notes)
    for file in files.values():
        refuse_place(file, notes=notes_folder)
        refuse_foreign_pocket(file)
    sweep(to)
    site = notes_folder / WORK / PUBLISHED
    summary = build(notes_folder, out=site)
    catalog = Catalog(notes)
    date = summary.record.release_list.release.date
    for family_id, path in files.items():
        with speaking(catalog.team.language):
            text = make_pocket(
                SiteContext(catalog),
                family=catalog.get(Family, family_id),
                site=site,
                dressing=dress_folder(notes_folder),
                release=called(
                    notes,
                    history=read_history(notes.folder / WORK),
                    number=summary.number,
                    date=date,
                ),
            )
        write_if_changed(path, text)
        yield path, len(text.encode("utf-8"))


def known_families(notes: Notes, *, named: Sequence[str]) -> Sequence[str]:
    """Return the families that are meant: all where none is named.

    Raises
    ------
    NoSuchFamily
    """
    known = list(notes.of(Family))
    if not known and not named:
        raise NoSuchFamily("there is no family yet; ohmfolio add family begins one")
    for family_id in named:
        if family_id not in known:
            raise NoSuchFamily(f"there is no family '{family_id}'; {nearest(family_id, known)}")
    return named or known
