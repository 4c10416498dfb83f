"""What `serve` does when a pin was dragged: write its place into the entry, or say why not."""

from __future__ import annotations

import json
import threading
from email.message import Message
from http import HTTPStatus
from pathlib import Path

from kb.model import Drawing
from kb.notes.folder import entry_files
from kb.notes.moved_pin import PinNotMoved, move_pin
from kb.writer import write_if_changed

MOST_BYTES = 2000
"""A move is four short words; nothing longer is read."""
_KEYS = ("drawing", "pin", "x", "y")
_alone = threading.Lock()
"""Two moves of one drawing must not both read it before either is written."""

Answer = tuple[HTTPStatus, dict[str, object]]


def stranger(headers: Message) -> str | None:
    """Return why a request to write is not our own page's; None when it is.

    A page of another site can make a browser send to this machine. It cannot send from our origin,
    nor JSON without asking first, which is never granted.
    """
    if headers.get("Origin", "") != f"http://{headers.get('Host', '')}":
        return "Only a page of this address may write."
    if headers.get("Sec-Fetch-Site", "same-origin") != "same-origin":
        return "Only a page of this address may write."
    if headers.get("Content-Type", "") != "application/json":
        return "Only JSON is read."
    return None


def answer_move(body: bytes, *, notes: Path) -> Answer:
    """Move a pin as a request asks; return the status and what to say in the page.

    Parameters
    ----------
    body : bytes
        JSON: `drawing` and `pin` by name, `x` and `y` in percent as they are to be written.
    notes : Path
    """
    try:
        asked = json.loads(body)
        drawing, pin, x, y = (str(asked[key]) for key in _KEYS)
    except (ValueError, TypeError, LookupError, RecursionError):
        return HTTPStatus.BAD_REQUEST, {"problem": "That is no move of a pin."}
    try:
        with _alone:
            return HTTPStatus.OK, _moved(notes, drawing=drawing, pin=pin, to=(x, y))
    except PinNotMoved as refused:
        return HTTPStatus.CONFLICT, {"problem": f"Not moved: {refused}"}
    except OSError as error:
        return HTTPStatus.CONFLICT, {"problem": f"Not moved: {error.strerror}: {error.filename}"}


def _moved(notes: Path, *, drawing: str, pin: str, to: tuple[str, str]) -> dict[str, object]:
    files = [file for file in entry_files(notes, Drawing.kind) if file.stem == drawing]
    if len(files) != 1:
        raise PinNotMoved(f"the notes have {len(files)} drawings '{drawing}'")
    shown = files[0].relative_to(notes).as_posix()
    # Where the entry is a link, what it leads to is written, and the link stays.
    file = files[0].resolve()
    moved = move_pin(file.read_bytes(), file=shown, pin=pin, to=to)
    write_if_changed(file, moved.raw)
    x, y = moved.was
    return {
        "file": shown,
        "line": moved.number,
        "text": moved.line.strip(),
        "was": {"x": x, "y": y},
    }
