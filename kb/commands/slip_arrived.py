"""Put a slip, copied from a phone, into the notes: what somebody found wrong with an entry."""

from __future__ import annotations

import re

import click

from kb.changing import change_notes
from kb.check import problems_of
from kb.model import SLIPS
from kb.notes.folder import DATA
from kb.notes.load import Notes, load_slip
from kb.words.catalogue import template

from .case_arrived import ArrivedCase
from .check import refuse
from .disk_words import disk_refused
from .options import NotUnderstood, say_json

_ENTRY = re.compile(rb"^(?:\xef\xbb\xbf)?entry[ \t]*:", re.MULTILINE)
"""What a slip says of what it is about; a case has no such field."""


def is_slip(raw: bytes) -> bool:
    """Return whether a file is a slip, by what stands in it."""
    return _ENTRY.search(raw) is not None


def add_slip(arrived: ArrivedCase, *, notes: Notes, stamp: str, as_json: bool) -> None:
    """Write a slip into the notes as it came, or end with everything that is wrong with it."""
    if arrived.photos:
        raise NotUnderstood(
            f"{arrived.file} holds photos, and a slip has none; send the slip alone"
        )
    target = notes.folder / DATA / SLIPS / f"{arrived.case_id}.yaml"
    if target.exists():
        raise NotUnderstood(
            f"there is a slip '{arrived.case_id}' already, and nothing is written over; "
            "give this one another name with --id"
        )
    slip = load_slip(arrived.yaml, file=arrived.file, notes=notes)
    # What is about no entry is a warning where it stands already, and not worth taking in.
    faults = [fault for fault in problems_of(notes) if fault.file == arrived.file]
    if faults or slip is None:
        refuse(faults, as_json=as_json, outcome="Nothing was written.")
    try:
        written = target.relative_to(notes.folder).as_posix()
        change_notes(notes.folder, {written: arrived.yaml}, before={written: None}, stamp=stamp)
    except OSError as error:
        raise disk_refused(error, at=target, stands="nothing was changed") from None
    if as_json:
        say_json({"slip": arrived.case_id, "file": written, "entry": slip.entry})
        return
    click.echo(f"{written} is in the notes: ohmfolio due shows it until it is settled.")
    read = notes.texts[slip.about]
    if slip.version is not None and slip.version != read.version:
        click.echo(f"{read.file}: {template('due-slip.changed')}")
