"""Build the site: check, plan, make, write, dress, seal, swap. This function is the whole story."""

from __future__ import annotations

import contextlib
import datetime
import time
from collections.abc import Callable
from dataclasses import dataclass, replace
from pathlib import Path

from kb.catalog import Catalog
from kb.check import check_notes
from kb.check.publishing import refused_by_pack, unknown_number
from kb.notes.folder import dress_folder
from kb.notes.load import Notes
from kb.notes.problem import Problem
from kb.release_format.kept import read_history
from kb.release_format.record import Record
from kb.site_folder import WORK, FolderNotOurs, refuse_foreign, refuse_place
from kb.words.catalogue import speaking
from kb.writer import (
    SomebodyElseWrites,
    fresh_folder,
    only_writer,
    recover_swap,
    remove_folder,
    swap_folders,
    write_folder,
)

from .browser_catalog import page_words, rules_modules
from .chart_cache import charts_for
from .dress import PagesNotDressed, dress
from .make import Made, chart_data, compile_grids, make_site
from .photo_cache import PhotoNotDrawn, photos_for
from .plan import TwoPagesOneName, plan_site
from .release.coming_release import coming_release
from .release.finished_release import finish_release
from .seal import SiteNotWhole, seal
from .site_context import SiteContext

Progress = Callable[[str, int, int], None]
PUBLISHED = "published"
"""Where in its work folder a build keeps the site that is packed from."""
BUILD_REFUSALS = (
    TwoPagesOneName,
    PagesNotDressed,
    PhotoNotDrawn,
    SiteNotWhole,
    FolderNotOurs,
    SomebodyElseWrites,
)
"""What can end a build whose entries are sound; each says what to mend."""


class NotesHaveFaults(Exception):
    """The notes break a rule: nothing was built, the old site stands."""

    def __init__(self, notes: Notes) -> None:
        super().__init__("the notes have faults")
        self.notes = notes


@dataclass(frozen=True)
class Summary:
    """What a build did."""

    entries: int
    pages: int
    charts_drawn: int
    charts_reused: int
    release: str
    number: int
    files: int
    bytes: int
    seconds: float
    worst_grid_error_k: float
    warnings: int
    due: int
    """Things that wait for the keeper."""
    record: Record
    """What to remember of the release when it is published."""


def no_progress(step: str, done: int, of: int) -> None:
    """Show nothing of how far a build is."""


def build(
    notes_folder: Path, *, out: Path, progress: Progress = no_progress, after: int = 0
) -> Summary:
    """Turn the notes into a finished site at `out`, or leave `out` as it was.

    Parameters
    ----------
    notes_folder, out : Path
    progress : callable
    after : int
        The last number that was published elsewhere, where no record of it is here.

    Raises
    ------
    NotesHaveFaults
        When `check` finds a problem; carries the notes with all of them.
    TwoPagesOneName, PagesNotDressed, PhotoNotDrawn, SiteNotWhole
        When the pages do not fit together; each says what to mend.
    FolderNotOurs, SomebodyElseWrites
        When `out` is not ours to replace, or another build is at work.
    OSError
        When the disk refuses: the old site stands.
    """
    started = time.monotonic()
    # mkdocs would look for a relative folder beside its own settings.
    notes_folder, out = notes_folder.resolve(), out.absolute()
    work = notes_folder / WORK
    if out.resolve() != (work / PUBLISHED).resolve():
        refuse_place(out, notes=notes_folder)
    with only_writer(work):
        recover_swap(out)
        refuse_foreign(out)
        summary = _build(notes_folder, work=work, out=out, progress=progress, after=after)
    return replace(summary, seconds=time.monotonic() - started)


def _build(notes_folder: Path, *, work: Path, out: Path, progress: Progress, after: int) -> Summary:
    # Gather everything.
    progress("check", 0, 1)
    context = SiteContext(Catalog(_sound_notes(notes_folder)))
    with speaking(context.catalog.team.language):
        return _build_sound(
            context, notes_folder, work=work, out=out, progress=progress, after=after
        )


def _build_sound(
    context: SiteContext,
    notes_folder: Path,
    *,
    work: Path,
    out: Path,
    progress: Progress,
    after: int,
) -> Summary:
    plan = plan_site(context.notes)
    progress("make", 0, plan.pages)
    coming = coming_release(context, history=read_history(work), pages=plan.pages, after=after)
    grids = compile_grids(context)
    charts, drawn = charts_for(
        chart_data(context),
        folder=work / "charts",
        progress=lambda done, of: progress("charts", done, of),
    )
    photos = photos_for(
        plan.photos, folder=work / "photos", progress=lambda done, of: progress("photos", done, of)
    )
    made = make_site(context, plan, charts=charts, grids=grids, coming=coming)

    # Write everything, beside the old site.
    dressing = dress_folder(notes_folder)
    fresh = _write_pages(context, made, work=work, dressing=dressing, progress=progress)
    write_folder(fresh, photos, keep_others=True)
    progress("seal", 0, 1)
    finished = finish_release(fresh, paths=seal(fresh).paths, coming=coming, dressing=dressing)
    swap_folders(fresh, out=out)
    # The new site stands: the next build clears away what cannot be removed now.
    with contextlib.suppress(OSError):
        remove_folder(fresh)
    progress("done", 1, 1)
    return Summary(
        entries=coming.head.entries,
        pages=plan.pages,
        charts_drawn=drawn,
        charts_reused=len(charts) - drawn,
        release=finished.name,
        number=coming.head.number,
        files=finished.files,
        bytes=finished.bytes,
        seconds=0.0,
        worst_grid_error_k=max((grid.worst_error_k for grid in grids.values()), default=0.0),
        warnings=len(context.notes.problems),
        due=len(context.waiting) + len(_unpublished(context.notes)),
        record=finished.record,
    )


def _unpublished(notes: Notes) -> list[Problem]:
    """Return what `due` says of publishing, but for dates to come: a build asks no clock."""
    return [*refused_by_pack(notes, today=datetime.date.max), *unknown_number(notes)]


def _sound_notes(notes_folder: Path) -> Notes:
    notes = check_notes(notes_folder)
    if any(not problem.warning for problem in notes.problems):
        raise NotesHaveFaults(notes)
    return notes


def _write_pages(
    context: SiteContext, made: Made, *, work: Path, dressing: Path, progress: Progress
) -> Path:
    """Write and dress the pages, and put their scripts to them; return the folder."""
    progress("write", 0, 1)
    write_folder(work / "pages", made.pages)
    progress("dress", 0, 1)
    fresh = fresh_folder(work / "site")
    modules = rules_modules()
    team = context.catalog.team
    dress(work / "pages", fresh, dressing, team=team, words=page_words(), modules=modules)
    write_folder(fresh, made.scripts, keep_others=True)
    return fresh
