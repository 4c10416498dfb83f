"""Print the sheets of some families, or of all: which pages they are, and each as a PDF."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from kb.catalog import Catalog
from kb.check import check_notes
from kb.made_pages import REFITS, SHEETS
from kb.model import Curve, Family, Method, Part
from kb.site_folder import WORK, refuse_foreign_print, refuse_place
from kb.writer import remove_folder, sweep, write_if_changed

from ..build import PUBLISHED, build
from ..site_context import SiteContext
from .chromium import pages_of, printed
from .pocket import pocket_pages
from .pockets import known_families

SORTS = ("family", "refit", "curve", "method")
"""What there are sheets of, in the order in which they are printed."""
_FOLDERS = {"family": SHEETS, "refit": REFITS, "curve": Curve.kind, "method": Method.kind}


@dataclass(frozen=True)
class Sheet:
    """One printed sheet."""

    file: Path
    pages: int
    bytes: int

    def as_dict(self) -> dict[str, object]:
        """Return it as plain values."""
        return {"file": str(self.file), "pages": self.pages, "bytes": self.bytes}


@dataclass(frozen=True)
class Printing:
    """What is about to be printed, and how."""

    site: Path
    browser: Path
    paths: tuple[str, ...]
    """The pages, from the root of the site and without their ending."""
    to: Path
    work: Path
    day: str

    def sheets(self) -> Iterator[Sheet]:
        """Print and write one sheet after the other; each file stands whole or not at all.

        Raises
        ------
        NotPrinted
        OSError
        """
        remove_folder(self.work)
        sweep(self.to)
        try:
            for path in self.paths:
                page, file = self.site / f"{path}.html", self.to / f"{path}.pdf"
                pdf = printed(page, browser=self.browser, work=self.work, day=self.day)
                write_if_changed(file, pdf)
                yield Sheet(file, pages_of(pdf), len(pdf))
        finally:
            remove_folder(self.work)


def ready_to_print(
    notes_folder: Path,
    *,
    families: Sequence[str],
    sorts: Sequence[str] = (),
    to: Path,
    browser: Path,
) -> Printing:
    """Build the site, and return what is to be printed of it.

    Parameters
    ----------
    notes_folder : Path
    families : sequence of ids
        Whose sheets, with the curves and methods that they use; none stands for everything.
    sorts : sequence of str
        Of `SORTS`; none stands for all.
    to : Path
    browser : Path

    Raises
    ------
    NoSuchFamily
    FolderNotOurs
        When a file of somebody else's would be replaced, or the next build would lose the sheets.
    NotesHaveFaults, and whatever else stops a build
    """
    notes = check_notes(notes_folder)
    known_families(notes, named=families)
    paths = sheet_paths(Catalog(notes), families=families, sorts=sorts or SORTS)
    refuse_place(to, notes=notes_folder)
    for path in paths:
        refuse_foreign_print(to / f"{path}.pdf")
    site = notes_folder / WORK / PUBLISHED
    summary = build(notes_folder, out=site)
    return Printing(
        site=site,
        browser=browser,
        paths=paths,
        to=to,
        work=notes_folder / WORK / "printing",
        day=summary.record.release_list.release.date,
    )


def sheet_paths(
    catalog: Catalog, *, families: Sequence[str], sorts: Sequence[str]
) -> tuple[str, ...]:
    """Return the pages that are made for paper, of these families and sorts."""
    chosen = [catalog.get(Family, family_id) for family_id in families]
    parts = [part for part in catalog.all(Part).values() if part.refit]
    found = {
        "family": [family.id for family in chosen or catalog.all(Family).values()],
        "refit": [part.id for part in parts if not chosen or {*part.families} & {*families}],
        "curve": list(catalog.all(Curve)),
        "method": list(catalog.all(Method)),
    }
    if chosen:
        context = SiteContext(catalog)
        used = {path for family in chosen for path in pocket_pages(context, family=family)}
        for sort in ("curve", "method"):
            found[sort] = [
                entry_id for entry_id in found[sort] if f"{_FOLDERS[sort]}/{entry_id}.html" in used
            ]
    return tuple(
        f"{_FOLDERS[sort]}/{entry_id}"
        for sort in SORTS
        if sort in sorts
        for entry_id in found[sort]
    )
