"""Build the site: check, plan, make, write, dress, seal, swap. This function is the whole story."""

from __future__ import annotations

import contextlib
import datetime
import hashlib
import time
from collections.abc import Callable, Mapping
from contextlib import AbstractContextManager
from dataclasses import dataclass, replace
from functools import partial
from pathlib import Path
from typing import Protocol

from kb.catalog import Catalog
from kb.check.private_files import PRIVATE
from kb.check.publishing import refused_by_pack, unknown_number
from kb.kept_check import check_kept
from kb.model import Team
from kb.notes.folder import dress_folder
from kb.notes.load import Notes
from kb.notes.problem import Problem
from kb.program_key import file_sum, folder_key, program_key
from kb.release_format.kept import read_history
from kb.release_format.record import Record
from kb.site_folder import WORK, FolderNotOurs, refuse_foreign, refuse_place
from kb.whole_folders import recover_swap, swap_folders
from kb.words.catalogue import language, speaking
from kb.writer import (
    SomebodyElseWrites,
    fresh_folder,
    make_folder,
    only_writer,
    remove_folder,
    sweep,
    write_folder,
    write_if_changed,
)

from .answers import Answers, states_of
from .browser_catalog import page_words, rules_modules
from .browser_data import CurveScript
from .chart_cache import charts_for
from .curve_files import chart_data, chart_names, curve_scripts
from .dress import Frame, PagesNotDressed
from .kept_pages import kept_file, kept_text, read_kept
from .make import Makers, make_scripts, page_makers
from .photo_cache import PhotoNotDrawn, photos_for
from .plan import Plan, TwoPagesOneName, plan_site
from .release.coming_release import Coming, coming_release
from .release.finished_release import FinishedRelease, finish_release
from .release.kept_pack import kept_pack_file, kept_pack_raw, read_kept_pack
from .seal import SiteNotWhole, seal
from .site_context import SiteContext
from .summary import Summary
from .unchanged_site import inputs_key, remember_site
from .worked_out import KeepingCatalog, Piece, WorkedOut
from .workers import meanwhile
from .write_pages import FEW, PagesWritten, write_assets, write_pages

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
class Built(Summary):
    """What a build did, and what to remember of the release when it is published."""

    record: Record


def no_progress(step: str, done: int, of: int) -> None:
    """Show nothing of how far a build is."""


class Onlooker(Protocol):
    """Whoever shows a site before it is finished as a release."""

    def sealed(self, folder: Path) -> None:
        """Learn that every page stands in a folder, and stays there for now."""

    def swapping(self) -> AbstractContextManager[None]:
        """Keep the folder from being read while it takes the place of the old site."""


class Nobody:
    """Looks at no site before it is finished."""

    def sealed(self, folder: Path) -> None:
        """Let it be."""

    def swapping(self) -> AbstractContextManager[None]:
        """Let it be."""
        return contextlib.nullcontext()


def build(
    notes_folder: Path,
    *,
    out: Path,
    progress: Progress = no_progress,
    after: int = 0,
    onlooker: Onlooker | None = None,
) -> Built:
    """Turn the notes into a finished site at `out`, or leave `out` as it was.

    Parameters
    ----------
    notes_folder, out : Path
    progress : callable
    after : int
        The last number that was published elsewhere, where no record of it is here.
    onlooker : Onlooker, optional

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
        sweep(work)
        recover_swap(out)
        refuse_foreign(out)
        inputs = inputs_key(notes_folder, out=out, after=after)
        site = _Site(work, out, progress, onlooker or Nobody())
        built = _build(notes_folder, site=site, after=after)
        built = replace(built, seconds=time.monotonic() - started)
        # What was changed meanwhile may be in the site or not: the next build looks again.
        if inputs and inputs == inputs_key(notes_folder, out=out, after=after):
            sums = built.record.release_list.files
            with contextlib.suppress(OSError):
                remember_site(built, work=work, out=out, inputs=inputs, sums=sums)
    return built


@dataclass(frozen=True)
class _Site:
    """Where a site is made, where it goes, and who watches."""

    work: Path
    out: Path
    progress: Progress
    onlooker: Onlooker


def _build(notes_folder: Path, *, site: _Site, after: int) -> Built:
    # Gather everything.
    site.progress("check", 0, 1)
    notes = _sound_notes(notes_folder)
    with speaking(Catalog(notes).team.language):
        return _build_sound(notes, site=site, after=after)


def _build_sound(notes: Notes, *, site: _Site, after: int) -> Built:
    work, out, progress = site.work, site.out, site.progress
    pages = _begun(notes, work=work, out=out)
    context = pages.context
    plan = plan_site(notes)
    progress("make", 0, plan.pages)
    coming = coming_release(context, history=read_history(work), pages=plan.pages, after=after)
    curves = curve_scripts(context)
    charts, drawn, photos = _pictures(context, plan, work=work, progress=progress)
    makers = page_makers(context, plan, charts=charts, curves=curves, coming=coming)

    # Write everything, beside the old site.
    many = plan.pages >= FEW
    scripting = partial(_scripts, context, curves, plan=plan, coming=coming)
    with (
        meanwhile(scripting, worth=many) as scripts,
        meanwhile(partial(_unpublished, notes), worth=many) as unpublished,
    ):
        _write_pages(pages, makers, work=work, progress=progress)
        fresh = pages.fresh
        made, pieces = scripts()
        context.worked.now.update(pieces)
        write_folder(fresh, {**made, **photos}, keep_others=True)
        progress("seal", 0, 1)
        paths = seal(fresh, known=pages.leads).paths
        site.onlooker.sealed(fresh)
        waiting = unpublished()
    checksums = {path: pages.checksums.get(path) or file_sum(fresh / path) for path in paths}
    memory = read_kept_pack(kept_pack_file(work, out=out))
    finished = finish_release(
        fresh,
        checksums=checksums,
        coming=coming,
        dressing=dress_folder(notes.folder),
        memory=memory,
    )
    with site.onlooker.swapping():
        swap_folders(fresh, out=out)
    # The new site stands: the next build clears away what cannot be removed now.
    with contextlib.suppress(OSError):
        remove_folder(fresh)
        kept = kept_text(pages.to_remember(), key=pages.key)
        write_if_changed(kept_file(work, out=out), kept)
        write_if_changed(kept_pack_file(work, out=out), kept_pack_raw(memory))
    progress("done", 1, 1)
    return _built(
        context, plan, finished, curves=curves, waiting=waiting, charts=(len(charts), drawn)
    )


def _begun(notes: Notes, *, work: Path, out: Path) -> PagesWritten:
    """Return a site in the making: what is remembered of the old one, held against the notes."""
    team = Catalog(notes).team
    key = _key(team, dressing=dress_folder(notes.folder))
    kept = read_kept(kept_file(work, out=out), key=key)
    worked = WorkedOut(states_of(notes), kept=kept.pieces)
    catalog = KeepingCatalog(notes, worked=worked)
    worked.answers = Answers(catalog, before=kept.answers, then=kept.states)
    return PagesWritten(
        context=SiteContext(catalog, worked=worked),
        answers=worked.answers,
        fresh=fresh_folder(work / "site"),
        old=out,
        key=key,
        kept=kept,
    )


def _scripts(
    context: SiteContext, curves: Mapping[str, CurveScript], *, plan: Plan, coming: Coming
) -> tuple[dict[str, str | bytes], dict[str, Piece]]:
    """Return what the pages' scripts read, and all that was worked out for it."""
    made = make_scripts(context, curves, plan=plan, coming=coming)
    return made, context.worked.now


def _built(
    context: SiteContext,
    plan: Plan,
    finished: FinishedRelease,
    *,
    curves: Mapping[str, CurveScript],
    waiting: list[Problem],
    charts: tuple[int, int],
) -> Built:
    """Return what a build did; `charts` are all of them, and those drawn anew."""
    there, drawn = charts
    head = finished.record.release_list.release
    return Built(
        entries=head.entries,
        pages=plan.pages,
        charts_drawn=drawn,
        charts_reused=there - drawn,
        release=finished.name,
        number=head.number,
        files=finished.files,
        bytes=finished.bytes,
        seconds=0.0,
        worst_grid_error_k=max((curve.worst_error_k for curve in curves.values()), default=0.0),
        warnings=len(context.notes.problems),
        due=len(context.waiting) + len(waiting),
        unfit=sum(problem.rule == PRIVATE for problem in waiting),
        record=finished.record,
    )


def _pictures(
    context: SiteContext, plan: Plan, *, work: Path, progress: Progress
) -> tuple[dict[str, str], int, dict[str, bytes]]:
    """Return the charts by curve, how many were drawn, and the photos by path in the site."""
    charts, drawn = charts_for(
        chart_names(context),
        data_of=partial(chart_data, context),
        folder=work / "charts",
        progress=lambda done, of: progress("charts", done, of),
    )
    photos = photos_for(
        plan.photos, folder=work / "photos", progress=lambda done, of: progress("photos", done, of)
    )
    return charts, drawn, photos


def _unpublished(notes: Notes) -> list[Problem]:
    """Return what `due` says of publishing, but for dates to come: a build asks no clock."""
    return [*refused_by_pack(notes, today=datetime.date.max), *unknown_number(notes)]


def _sound_notes(notes_folder: Path) -> Notes:
    notes = check_kept(notes_folder)
    if any(not problem.warning for problem in notes.problems):
        raise NotesHaveFaults(notes)
    notes.read_all()
    return notes


def _write_pages(pages: PagesWritten, makers: Makers, *, work: Path, progress: Progress) -> None:
    """Write the pages and what dresses them into their folder."""
    progress("write", 0, 1)
    frame = _frame(pages, folder=make_folder(work / "pages"))
    progress("dress", 0, 1)
    write_pages(
        pages, makers, frame=frame, work=work, progress=lambda done, of: progress("dress", done, of)
    )
    write_assets(pages, frame=frame, modules=rules_modules(), folder=work / "frame")


_LAST_FRAME: dict[tuple[str, Path, Path], Frame] = {}
"""The frame of the last build: `serve` builds again and again, and opening one takes long."""


def _frame(site: PagesWritten, *, folder: Path) -> Frame:
    notes = site.context.notes
    name = (site.key, folder, site.fresh)
    if name not in _LAST_FRAME:
        _LAST_FRAME.clear()
        _LAST_FRAME[name] = Frame(
            folder,
            site.fresh,
            dressing=dress_folder(notes.folder),
            team=site.context.catalog.team,
            words=page_words(),
        )
    return _LAST_FRAME[name]


def _key(team: Team, *, dressing: Path) -> str:
    """Return what every page depends on: the program, its frame, the language and the team."""
    parts = (program_key(), folder_key([dressing]), language(), team.model_dump_json())
    return hashlib.sha256("\0".join(parts).encode("utf-8", "surrogatepass")).hexdigest()
