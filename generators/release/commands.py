"""The commands about what is published: pack it, verify it, say what changed."""

from __future__ import annotations

import sys
from itertools import groupby
from pathlib import Path

import click

from kb.catalog import Catalog
from kb.check import check_notes
from kb.commands.check import show_problems
from kb.commands.disk_words import disk_refused
from kb.commands.options import NotUnderstood, WholePath, json_option, notes_option, say_json
from kb.site_folder import FolderNotOurs, half_written
from kb.writer import SomebodyElseWrites

from ..build import NotesHaveFaults
from ..dress import PagesNotDressed
from ..interruption import IN_PART, report_what_stands
from ..plan import TwoPagesOneName
from ..seal import SiteNotWhole
from ..site_context import SiteContext
from .changes import LEVELS, tell_changes
from .history import read_history
from .list import NotAList
from .pack import NotToPublish, Packed, pack, records_of
from .pockets import NoSuchFamily, write_pockets
from .published import NoCopyThere, open_copy
from .snapshot import Snapshot, take_snapshot
from .verify import verify

STOPPED = (
    TwoPagesOneName,
    PagesNotDressed,
    SiteNotWhole,
    FolderNotOurs,
    SomebodyElseWrites,
    NoCopyThere,
    NotAList,
)
NOW = "now"


@click.command("pack")
@notes_option
@click.option(
    "--to",
    type=WholePath(path_type=Path),
    default=None,
    metavar="DIR|FILE.zip",
    help="Where to put it; release-NUMBER.zip in the notes by default.",
)
@click.option(
    "--published",
    metavar="DIR|ZIP|URL",
    default=None,
    help="The copy that is published now, when this machine has not packed it.",
)
@json_option
def pack_command(notes: Path, to: Path | None, published: str | None, as_json: bool) -> None:
    """Build, and put what is to be uploaded into a folder or a zip file.

    Files stand in the order in which it is safe to upload them: what leads to the others comes
    last. The same notes after the same releases give the same bytes. Refused when check finds a
    problem, or the notes hold what must not be published.

    Example: ohmfolio pack --to /srv/notes
    """
    try:
        with report_what_stands(to or notes / "release-*.zip", what="release"):
            packed = pack(notes, to, published=published)
    except NotesHaveFaults as faults:
        show_problems(faults.notes, as_json=as_json)
        if not as_json:
            click.echo("Nothing was packed.", err=True)
        sys.exit(1)
    except NotToPublish as refused:
        raise click.ClickException(
            "\n".join(["this must not be published:", *refused.reasons, "Nothing was packed."])
        ) from None
    except STOPPED as fault:
        raise click.ClickException(str(fault)) from None
    except OSError as error:
        part = to is not None and to.is_dir() and half_written(to)
        stands = f"{to} {IN_PART}" if part else "nothing was packed, what stood there stands"
        raise disk_refused(error, at=to or f"the release of {notes}", stands=stands) from None
    if as_json:
        say_json(
            {
                "release": packed.summary.release,
                "number": packed.summary.number,
                "to": str(packed.to),
                "files": packed.files,
                "bytes": packed.bytes,
            }
        )
    else:
        click.echo(packed_words(packed))


def packed_words(packed: Packed) -> str:
    """Return what was packed and what to do with it."""
    summary = packed.summary
    kind = "Unpack it on the host" if packed.to.suffix == ".zip" else "Upload it"
    return "\n".join(
        [
            f"Release {summary.number} ({summary.release}): {packed.files} files, "
            f"{packed.bytes / 1e6:.1f} MB, in {packed.to}",
            f"{kind} in this order: everything, then release.json, newest.json, worker.js.",
            "Then: ohmfolio verify ADDRESS",
        ]
    )


@click.command("verify")
@click.argument("where", metavar="DIR|ZIP|URL")
@json_option
def verify_command(where: str, as_json: bool) -> None:
    """Hold a published copy against its own list, byte by byte, and say what differs.

    Exit code 1 when a file is missing or different: phones then keep what they have.

    Example: ohmfolio verify https://notes.example/team/
    """
    try:
        found = verify(open_copy(where))
    except (NoCopyThere, NotAList) as fault:
        raise click.ClickException(str(fault)) from None
    if as_json:
        say_json(found.as_dict())
    else:
        for fault in found.faults:
            click.echo(fault)
        for stray in found.strays:
            click.echo(f"{stray} stands there, and no list names it")
        date = found.told.head.get("date")
        click.echo(
            f"Release {found.told.head['number']}{f' of {date}' if date else ''} "
            f"({found.told.name}), {len(found.told.files)} files: "
            + ("whole." if found.whole else f"{len(found.faults)} faults.")
        )
    if not found.whole:
        sys.exit(1)


@click.command("pocket")
@click.argument("families", metavar="[FAMILY]...", nargs=-1)
@notes_option
@click.option(
    "--to",
    type=WholePath(path_type=Path, file_okay=False),
    default=None,
    help="The folder for the files; pocket/ in the notes by default.",
)
def pocket_command(families: tuple[str, ...], notes: Path, to: Path | None) -> None:
    """Write one file for each family, to hand over by any messenger.

    It holds the family's codes, sensors, parts, tables, methods, calculators and Find, reads
    without scripts, and asks nobody for anything. Without FAMILY, every family gets its file.

    Example: ohmfolio pocket quellmark-rooftop --to ~/handover
    """
    try:
        for path, size in write_pockets(notes, families, to or notes / "pocket"):
            click.echo(f"{path}: {size / 1e3:.0f} kB")
    except NotesHaveFaults as faults:
        show_problems(faults.notes, as_json=False)
        click.echo("Nothing was written.", err=True)
        sys.exit(1)
    except NotToPublish as refused:
        raise click.ClickException(
            "\n".join(["this must not leave the house:", *refused.reasons, "Nothing was written."])
        ) from None
    except NoSuchFamily as fault:
        raise NotUnderstood(str(fault)) from None
    except STOPPED as fault:
        raise click.ClickException(str(fault)) from None
    except OSError as error:
        raise disk_refused(
            error, at=to or notes / "pocket", stands="the files named above are whole"
        ) from None


@click.command("changes")
@click.argument("old", metavar="OLD")
@click.argument("new", metavar="NEW", default=NOW)
@notes_option
@json_option
def changes_command(old: str, new: str, notes: Path, as_json: bool) -> None:
    """Say what an engineer would notice between two releases, safety first.

    OLD and NEW are a release's number or name, a published copy (folder, zip file, address), or
    `now` for the notes as they are, which NEW is when it is left out.

    Example: ohmfolio changes 12 13
    """
    told = tell_changes(_snapshot(old, notes), _snapshot(new, notes))
    if as_json:
        say_json([one.as_dict() for one in told])
        return
    for level, group in groupby(told, key=lambda one: one.level):
        click.echo(LEVELS[level])
        for one in group:
            click.echo(f"  {one.text[:1].upper()}{one.text[1:]}")
    if not told:
        click.echo("The notes say the same.")


def _snapshot(where: str, notes: Path) -> Snapshot:
    if where == NOW:
        checked = check_notes(notes)
        if any(not one.warning for one in checked.problems):
            show_problems(checked, as_json=False)
            raise click.ClickException("the notes have faults: nothing was compared")
        return take_snapshot(SiteContext(Catalog(checked)))
    history = read_history(notes / ".build")
    for one in reversed(history):
        if where == one.name or where == str(one.number):
            return one.notes
    try:
        records = records_of(open_copy(where))
    except NoCopyThere as fault:
        known = ", ".join(f"{one.number} ({one.name})" for one in history) or "none"
        raise click.ClickException(f"{fault}; releases packed here: {known}") from None
    if not records:
        raise click.ClickException(f"{where} holds no record of what a release said")
    return records[0].notes
