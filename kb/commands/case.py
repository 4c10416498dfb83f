"""`ohmfolio case add`: put a past job, copied from a phone, into the notes."""

from __future__ import annotations

import re
import sys
from pathlib import Path

import click

from kb.check import problems_of
from kb.model import Case, Code
from kb.model.words import ID_PATTERN
from kb.notes.folder import DATA
from kb.notes.load import Notes, load_entry, load_notes
from kb.writer import write_if_changed

from .check import refuse
from .disk_words import disk_refused
from .options import NotUnderstood, json_option, notes_option, say_json


@click.group("case")
def case() -> None:
    """Past jobs: what it was last time.

    Example: ohmfolio case add r4-open-in-frost.yaml
    """


@case.command()
@click.argument("file", metavar="FILE", type=click.Path(path_type=Path, dir_okay=False))
@click.option("--id", "case_id", metavar="ID", help="Its id; by default the file's name.")
@notes_option
@json_option
def add(file: Path, case_id: str | None, notes: Path, as_json: bool) -> None:
    """Check a case and put it into the notes; nothing is written when it has a fault.

    FILE holds one case as a phone copies it, or - to read what is piped in (then --id is needed).
    The next build counts it in its code's shares.

    Example: ohmfolio case add r4-open-in-frost.yaml
    """
    raw, case_id = _read(file, case_id=case_id)
    loaded = load_notes(notes)
    if loaded.knows("cases", case_id):
        raise NotUnderstood(
            f"there is a case '{case_id}' already, and nothing is written over; "
            "give this one another name with --id"
        )
    shown = file.name if str(file) != "-" else f"{case_id}.yaml"
    load_entry(raw, kind="cases", entry_id=case_id, file=shown, notes=loaded)
    faults = [fault for fault in problems_of(loaded) if fault.file == shown and not fault.warning]
    if faults:
        refuse(faults, as_json=as_json, outcome="Nothing was written.")
    added = loaded.of(Case)[case_id]
    target = notes / DATA / "cases" / added.family / f"{case_id}.yaml"
    try:
        write_if_changed(target, raw)
    except OSError as error:
        raise disk_refused(error, at=target, stands="nothing was changed") from None
    written = target.relative_to(notes).as_posix()
    if as_json:
        say_json({"case": case_id, "file": written, "code": added.code})
        return
    click.echo(f"{written} is in the notes.")
    click.echo(_past_jobs(loaded, added=added))


def _read(file: Path, *, case_id: str | None) -> tuple[bytes, str]:
    if str(file) == "-":
        if case_id is None:
            raise NotUnderstood("what is piped in has no name; give it one with --id")
        raw = sys.stdin.buffer.read()
    else:
        try:
            raw = file.read_bytes()
        except OSError as error:
            raise NotUnderstood(
                f"{file} cannot be read: {error.strerror}; name the file that holds the case"
            ) from None
    name = case_id or file.stem
    if not re.fullmatch(ID_PATTERN, name):
        raise NotUnderstood(
            f"'{name}' cannot be an id; use small letters, digits and single hyphens, with --id"
        )
    return raw, name


def _past_jobs(notes: Notes, *, added: Case) -> str:
    if added.code is None:
        return "It names no code, so no share changes."
    jobs = [job for job in notes.of(Case).values() if job.code == added.code]
    same = sum(job.cause.key == added.cause.key for job in jobs)
    code = notes.of(Code)[added.code]
    return (
        f"{code.shown[0].spoken()} now has {len(jobs)} past jobs here, {same} of them with this "
        "cause. Build, and the shares follow."
    )
