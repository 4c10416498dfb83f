"""`ohmfolio case add`: put a past job, copied from a phone, into the notes."""

from __future__ import annotations

from pathlib import Path

import click

from kb.changing import change_notes, stamp_of
from kb.check import problems_of
from kb.check.past_jobs import jobs_are_told_once
from kb.model import Case, Code
from kb.notes.folder import DATA
from kb.notes.load import Notes, load_entry, load_notes
from kb.past_jobs import counted_once, same_jobs
from kb.site_folder import refuse_way_out
from kb.words.phrase import counted

from .case_arrived import ArrivedCase, read_arrived
from .check import refuse
from .disk_words import disk_refused
from .editor_files import refresh_schemas
from .options import NotUnderstood, json_option, notes_option, say_json
from .slip_arrived import add_slip, is_slip


@click.group("case")
def case() -> None:
    """Past jobs: what it was last time.

    Example: ohmfolio case add r4-open-in-frost.yaml
    """


@case.command()
@click.argument("file", metavar="FILE", type=click.Path(path_type=Path, dir_okay=False))
@click.option("--id", "case_id", metavar="ID", help="Its id; by default the file's name.")
@click.option(
    "--photos/--no-photos",
    "with_photos",
    default=None,
    help="Whether its photos go into the notes too; without either, you are asked.",
)
@notes_option
@json_option
def add(
    file: Path, case_id: str | None, with_photos: bool | None, notes: Path, as_json: bool
) -> None:
    """Check a case or a slip and put it into the notes; nothing is written when it has a fault.

    FILE holds one case as a phone saves it, alone or zipped with its photos, or - to read what is
    piped in (then --id is needed). Photos are turned upright, shrunk, and freed of place, time and
    everything else that they say of themselves. The next build counts the case in its code's
    shares. A slip ("Something here is wrong?" on an entry's page) goes into docs_data/slips/, and
    `ohmfolio due` shows it until it says by whom it is settled: {by, on}.

    Example: ohmfolio case add r4-open-in-frost.yaml
    """
    arrived = read_arrived(file, case_id=case_id)
    stamp = stamp_of(notes)
    loaded = load_notes(notes)
    if is_slip(arrived.yaml):
        add_slip(arrived, notes=loaded, stamp=stamp, as_json=as_json)
        return
    if loaded.knows("cases", arrived.case_id):
        raise NotUnderstood(
            f"there is a case '{arrived.case_id}' already, and nothing is written over; "
            "give this one another name with --id"
        )
    if arrived.photos and not _may_be_seen(arrived, with_photos, as_json=as_json):
        arrived = arrived.without_photos()
    added = _sound_case(arrived, notes=loaded, as_json=as_json)
    arrived.refuse_unnamed(added)
    folder = notes / DATA / "cases" / added.family
    target = folder / f"{added.id}.yaml"
    _refuse_taken(folder, arrived=arrived, notes=notes)
    in_notes = folder.relative_to(notes).as_posix()
    files: dict[str, bytes] = {f"{in_notes}/{name}": raw for name, raw in arrived.photos.items()}
    files[f"{in_notes}/{target.name}"] = arrived.yaml
    try:
        change_notes(notes, files, before=dict.fromkeys(files), stamp=stamp)
    except OSError as error:
        raise disk_refused(error, at=target, stands="nothing was changed") from None
    refresh_schemas(notes)
    written = target.relative_to(notes).as_posix()
    if as_json:
        photos = {"photos": sorted(arrived.photos)} if arrived.photos else {}
        say_json({"case": added.id, "file": written, "code": added.code, **photos})
        return
    photos_too = f", with {counted(len(arrived.photos), noun='photo')}" if arrived.photos else ""
    click.echo(f"{written} is in the notes{photos_too}.")
    click.echo(_past_jobs(loaded, added=added))


def _may_be_seen(arrived: ArrivedCase, with_photos: bool | None, *, as_json: bool) -> bool:
    """Return whether the photos may go to every phone of the team; asked where nobody said."""
    if with_photos is not None:
        return with_photos
    photos = counted(len(arrived.photos), noun="photo")
    if as_json:
        raise NotUnderstood(f"{arrived.file} holds {photos}; say --photos or --no-photos")
    return click.confirm(
        f"{photos.capitalize()} came with it and would go to every phone of "
        "the team. Have you looked at each, and shows none a person, an address or a customer's "
        "name?",
        default=False,
        err=True,
    )


def _sound_case(arrived: ArrivedCase, *, notes: Notes, as_json: bool) -> Case:
    """Return the case as the notes understand it, or end with what is wrong with it."""
    load_entry(arrived.yaml, kind="cases", entry_id=arrived.case_id, file=arrived.file, notes=notes)
    faults = [
        fault
        for fault in problems_of(notes)
        if fault.file == arrived.file
        and not fault.warning
        # Its photos are not beside it yet; that each came is asked below.
        and not (arrived.photos and fault.rule == "photo")
    ]
    if faults:
        refuse(faults, as_json=as_json, outcome="Nothing was written.")
    added = notes.of(Case)[arrived.case_id]
    _refuse_told(added, notes=notes)
    for asked in jobs_are_told_once(list(notes.of(Case).values()), notes=notes):
        if asked.file == arrived.file:
            click.echo(asked.picture(), err=True)
    missing = [photo.file for photo in added.photos if photo.file not in arrived.photos]
    if arrived.photos and missing:
        raise NotUnderstood(
            f"{arrived.file} names the photo {missing[0]} and does not hold it; nothing was written"
        )
    return added


def _refuse_told(added: Case, *, notes: Notes) -> None:
    """Refuse a job that another case tells already: it would be one fault counted twice."""
    others = [case for case in notes.of(Case).values() if case.id != added.id]
    first = same_jobs([*others, added]).get(added.id)
    if first is not None:
        file = notes.texts[("cases", first)].file
        raise NotUnderstood(
            f"this job is in the notes already, as '{first}': same family, day, code, cause and "
            f"readings; nothing was written. What this file says beside it, write into {file}; was "
            "it another machine, say in both which, such as 'machine: the left one'"
        )


def _refuse_taken(folder: Path, *, arrived: ArrivedCase, notes: Path) -> None:
    """Refuse to write a photo over another one of its name, or anything out of the notes."""
    try:
        refuse_way_out(folder / arrived.file, notes=notes)
    except OSError as error:
        raise disk_refused(error, at=folder, stands="nothing was changed") from None
    taken = [name for name in sorted(arrived.photos) if (folder / name).exists()]
    if taken:
        raise NotUnderstood(
            f"there is a file {taken[0]} already, and nothing is written over; give this case "
            "another name with --id"
        )


def _past_jobs(notes: Notes, *, added: Case) -> str:
    if added.code is None:
        return "It names no code, so no share changes."
    jobs = counted_once(job for job in notes.of(Case).values() if job.code == added.code)
    same = sum(job.cause.key == added.cause.key for job in jobs)
    code = notes.of(Code)[added.code]
    return (
        f"{code.shown[0].spoken()} now has {len(jobs)} past jobs here, {same} of them with this "
        "cause. Build, and the shares follow."
    )
