"""Say in one sentence what the disk refused, and how things stand now."""

from __future__ import annotations

import errno
import os
import shutil
from pathlib import Path

import click


class DiskRefused(click.ClickException):
    """A file could not be written: the disk is full, the folder is closed, a cable is out."""

    exit_code = 1


def disk_refused(error: OSError, *, at: Path | str, stands: str) -> DiskRefused:
    """Return what to tell of an error of the disk.

    Parameters
    ----------
    error : OSError
    at : Path or str
        What was being written, where the error names no file.
    stands : str
        What is still true.
    """
    done = "read" if _cannot_be_read(error) else "written"
    return DiskRefused(f"{error.filename or at} could not be {done}: {why(error)}; {stands}")


def _cannot_be_read(error: OSError) -> bool:
    """Return whether what the disk refused was a look: what stands there is closed to us."""
    named = error.filename
    return (
        error.errno == errno.EACCES
        and isinstance(named, str | bytes | os.PathLike)
        and os.path.lexists(named)
        and not os.access(named, os.R_OK)
    )


def why(error: OSError) -> str:
    """Return why the disk refused, in the system's words."""
    if isinstance(error, shutil.Error) and error.args and isinstance(error.args[0], list):
        # Copying a folder gathers what went wrong: (source, target, reason) for each file.
        return str(error.args[0][0][2])
    return error.strerror or str(error)
