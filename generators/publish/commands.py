"""The commands about what is published: pack it, verify it, say what changed."""

from __future__ import annotations

import contextlib
import re
import sys
from collections.abc import Iterator
from itertools import groupby
from pathlib import Path

import click

from kb.catalog import Catalog
from kb.check import check_notes
from kb.check.examples_left import examples_left
from kb.commands.check import show_problems
from kb.commands.disk_words import disk_refused
from kb.commands.options import NotUnderstood, WholePath, json_option, notes_option, say_json
from kb.notes.folder import NotesNotFound, find_notes
from kb.notes.load import load_notes
from kb.release_format.head import MOST_NUMBER
from kb.release_format.kept import read_history
from kb.release_format.record import Snapshot
from kb.release_format.release_list import NotAList
from kb.signing.ed25519 import NoSigning
from kb.site_folder import WORK, half_written
from kb.snapshot import take_snapshot
from kb.words.phrase import counted, in_words

from ..build import BUILD_REFUSALS, NotesHaveFaults
from ..interruption import IN_PART, report_what_stands
from ..release.changes import level_name, tell_changes
from .numbering import nothing_is_known, records_of
from .pack import NotToPublish, Packed, is_zip, pack
from .pockets import NoSuchFamily, write_pockets
from .published import NoCopyThere, open_copy
from .signing import signature_faults
from .verify import Verified, verify

PUBLISH_REFUSALS = (*BUILD_REFUSALS, NoCopyThere, NotAList)
NOW = "now"
_SAY = (
    "say the last number with --after, or where it is published with --published; 'published' in "
    "team.yaml says it for good"
)
_ASKED = (
    "No earlier release is known on this computer. Were these notes published before, from here or "
    "from another one?"
)
_FIRST = (
    f"No earlier release is known on this computer: numbers begin at 1. Were the notes published "
    f"before, do not upload this; {_SAY}."
)


@contextlib.contextmanager
def _refusals_in_words(*, refused: str, stands: str, as_json: bool = False) -> Iterator[None]:
    """Turn what stops a block into words and exit code 1; `stands` says what came of it."""
    try:
        yield
    except NotesHaveFaults as faults:
        show_problems(faults.notes, as_json=as_json)
        if not as_json:
            click.echo(stands, err=True)
        sys.exit(1)
    except NotToPublish as private:
        raise click.ClickException("\n".join([refused, *private.reasons, stands])) from None
    except NoSigning as fault:
        raise click.ClickException(f"{fault}\n{stands}") from None
    except PUBLISH_REFUSALS as refusal:
        raise click.ClickException(str(refusal)) from None


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
    help="The copy that is published now, to count on from; by default what team.yaml names.",
)
@click.option(
    "--after",
    type=click.IntRange(0, MOST_NUMBER),
    metavar="NUMBER",
    default=None,
    help="The last number published, 0 for none; then nobody is asked.",
)
@click.option(
    "--key",
    type=WholePath(path_type=Path),
    metavar="FILE",
    default=None,
    help="The private key, where releases are signed and it lies elsewhere than 'key make' put it.",
)
@json_option
def pack_command(
    notes: Path,
    to: Path | None,
    published: str | None,
    after: int | None,
    key: Path | None,
    as_json: bool,
) -> None:
    """Build, and put what is to be uploaded into a folder or a zip file.

    Files stand in the order in which it is safe to upload them: what leads to the others comes
    last. The same notes after the same releases give the same bytes. The number counts on from the
    last one: that of this computer, of --to, and of the copy that team.yaml names as published.
    Refused when check finds a problem, the notes hold what must not be published, or releases are
    signed ('ohmfolio key') and the key cannot be had.

    Example: ohmfolio pack --to /srv/notes
    """
    try:
        with (
            _refusals_in_words(
                refused="this must not be published:", stands="Nothing was packed.", as_json=as_json
            ),
            report_what_stands(to or notes / "release-*.zip", what="release"),
        ):
            first = _begins(notes, to=to, published=published, after=after)
            packed = pack(notes, to=to, published=published, after=after, key=key)
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
                "signed_by": packed.signed_by,
            }
        )
    else:
        click.echo(packed_words(packed))
    if first:
        click.echo(_FIRST, err=True)
    _warn_of_examples(notes)


def _warn_of_examples(notes: Path) -> None:
    """Say on the side that what left the house holds invented examples."""
    for left in examples_left(load_notes(notes)):
        click.echo(left.picture(), err=True)


def _begins(notes: Path, *, to: Path | None, published: str | None, after: int | None) -> bool:
    """Return whether numbers begin here unsaid; at a terminal the keeper is asked."""
    known = load_notes(notes)
    if not nothing_is_known(known, to=to, published=published, after=after):
        return False
    if not sys.stdin.isatty():
        return True
    if click.confirm(_ASKED, default=False, err=True):
        raise NotUnderstood(f"nothing was packed; {_SAY}")
    return False


def packed_words(packed: Packed) -> str:
    """Return what was packed and what to do with it."""
    summary = packed.summary
    kind = "Unpack it on the host" if is_zip(packed.to) else "Upload it"
    return "\n".join(
        [
            f"Release {summary.number} ({summary.release}): {packed.files} files, "
            f"{packed.bytes / 1e6:.1f} MB, in {packed.to}",
            *([f"Signed by the key {packed.signed_by}."] if packed.signed_by else []),
            f"{kind} in this order: everything, then release.json, newest.json, worker.js.",
            "Then: ohmfolio verify ADDRESS",
        ]
    )


@click.command("verify")
@click.argument("where", metavar="DIR|ZIP|URL")
@click.option(
    "--key",
    metavar="PUBLIC",
    default=None,
    help="The public key that must have signed it; by default that of the notes around you.",
)
@json_option
def verify_command(where: str, key: str | None, as_json: bool) -> None:
    """Hold a published copy against its own list, byte by byte, and say what differs.

    Exit code 1 when a file is missing or different, or the signature is not the keeper's: phones
    then keep what they have.

    Example: ohmfolio verify https://notes.example/team/
    """
    try:
        found = verify(open_copy(where), key=_wanted_key(key))
    except (NoCopyThere, NotAList) as fault:
        raise click.ClickException(str(fault)) from None
    if as_json:
        say_json(found.as_dict())
    else:
        click.echo(verified_words(found))
    if not found.whole:
        sys.exit(1)


def _wanted_key(key: str | None) -> str | None:
    """Return the public key that was typed, or that of the notes around; None where none signs."""
    if key is not None:
        if not re.fullmatch("[0-9a-f]{64}", key):
            raise NotUnderstood(
                f"'{key}' is no public key; it stands in docs_data/team.yaml, 64 of 0-9 and a-f"
            )
        return key
    try:
        return _key_of(find_notes(Path.cwd()))
    except (NotesNotFound, OSError):
        return None


def _key_of(notes: Path) -> str | None:
    """Return the public key that releases of some notes are signed by now."""
    team = load_notes(notes).team
    signing = team.signing if team is not None else None
    return signing.key if signing is not None and signing.signs else None


def verified_words(found: Verified) -> str:
    """Return what is wrong with a copy, and which release it is."""
    head = found.release_list.release
    files = counted(len(found.release_list.files), noun="file")
    signed = f" Signed by the key {found.signed_by}." if found.signed_by and found.whole else ""
    state = f"whole.{signed}" if found.whole else f"{counted(len(found.faults), noun='fault')}."
    return "\n".join(
        [
            *found.faults,
            *(f"{stray} stands there, and no list names it" for stray in found.strays),
            f"Release {head.number}{f' of {head.date}' if head.date else ''} "
            f"({found.release_list.name}), {files}: {state}",
        ]
    )


@click.command("pocket")
@click.argument("families", metavar="[FAMILY]...", nargs=-1)
@notes_option
@click.option(
    "--to",
    type=WholePath(path_type=Path, file_okay=False),
    default=None,
    help="The folder for the files; pocket/ in the notes by default.",
)
@json_option
def pocket_command(families: tuple[str, ...], notes: Path, to: Path | None, as_json: bool) -> None:
    """Write one file for each family, to hand over by any messenger.

    It holds the family's codes, sensors, parts, tables, methods, calculators and Find, reads
    without scripts, and asks nobody for anything. Without FAMILY, every family gets its file.

    Example: ohmfolio pocket quellmark-rooftop --to ~/handover
    """
    to = to or notes / "pocket"
    try:
        with _refusals_in_words(
            refused="this must not leave the house:", stands="Nothing was written.", as_json=as_json
        ):
            written = []
            for path, size in write_pockets(notes, families=families, to=to):
                written.append({"file": str(path), "bytes": size})
                if not as_json:
                    click.echo(f"{path}: {size / 1e3:.0f} kB")
            if as_json:
                say_json(written)
            _warn_of_examples(notes)
    except NoSuchFamily as fault:
        raise NotUnderstood(str(fault)) from None
    except OSError as error:
        raise disk_refused(error, at=to, stands="the files named above are whole") from None


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
    before, since = (_snapshot(where, notes=notes, as_json=as_json) for where in (old, new))
    changes = tell_changes(before, new=since)
    if as_json:
        say_json([change.as_dict() for change in changes])
        return
    for level, group in groupby(changes, key=lambda change: change.level):
        click.echo(level_name(level))
        for change in group:
            click.echo(f"  {change.text[:1].upper()}{change.text[1:]}")
    if not changes:
        click.echo(in_words("changes-page.same"))


def _snapshot(where: str, *, notes: Path, as_json: bool) -> Snapshot:
    if where == NOW:
        checked = check_notes(notes)
        if any(not problem.warning for problem in checked.problems):
            show_problems(checked, as_json=as_json)
            if as_json:
                sys.exit(1)
            raise click.ClickException("the notes have faults: nothing was compared")
        return take_snapshot(Catalog(checked))
    history = read_history(notes / WORK)
    for record in reversed(history):
        if where in (record.name, str(record.number)):
            return record.notes
    try:
        copy = open_copy(where)
        records = records_of(copy)
        for fault in signature_faults(copy, key=_key_of(notes)):
            click.echo(f"warning: {fault}; what follows may not be the keeper's", err=True)
    except NoCopyThere as fault:
        known = ", ".join(f"{record.number} ({record.name})" for record in history) or "none"
        raise click.ClickException(f"{fault}; releases packed here: {known}") from None
    if not records:
        raise click.ClickException(f"{where} holds no record of what a release said")
    return records[0].notes
