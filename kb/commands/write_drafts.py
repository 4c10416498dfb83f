"""Write what drafts became, by notes that may have changed while somebody was asked."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from kb.bring.draft import Draft, Fault, Outcome, tried
from kb.changing import change_notes, changing, stamp_of
from kb.notes.load import load_notes

from .disk_words import disk_refused
from .editor_files import refresh_schemas


def write_drafts(
    outcome: Outcome, *, drafts: Sequence[Draft], notes: Path, stamp: str
) -> tuple[Fault, ...]:
    """Write all files of an outcome, or none.

    Parameters
    ----------
    outcome : Outcome
        What was shown.
    drafts : sequence of Draft
        What it was made of.
    notes : Path
    stamp : str
        That of the notes before they were read.

    Returns
    -------
    tuple of Fault
        What is wrong with it by now, as where somebody removed what it names; nothing was written.

    Raises
    ------
    DiskRefused
    """
    try:
        with changing(notes):
            if stamp_of(notes) != stamp:
                faults = tried(drafts, notes=load_notes(notes)).faults
                if faults:
                    return faults
            change_notes(
                notes,
                {file.path: file.after for file in outcome.files},
                before={file.path: file.stood for file in outcome.files},
            )
    except OSError as error:
        raise disk_refused(error, at=notes, stands="nothing was changed") from None
    refresh_schemas(notes)
    return ()
