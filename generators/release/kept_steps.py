"""Remember the steps between the contents of a pack: an unchanged pair is not compared again.

Nothing that is read here is believed but with its own checksum, from this very program.
"""

from __future__ import annotations

import base64
import hashlib
import json
from collections.abc import Mapping
from pathlib import Path

from kb.program_key import program_key
from kb.release_format.content_pack import Frame, Step

FORM = 1
"""Another number when what is written here is laid out otherwise."""
Steps = dict[Step, Frame | None]
"""Checksums of a content and of the one before → its frame; None where steps do not pay."""


def steps_file(work: Path, *, out: Path) -> Path:
    """Return where the steps of a site are remembered."""
    name = hashlib.sha256(str(out).encode("utf-8", "surrogateescape")).hexdigest()[:16]
    return work / "kept" / f"steps-{name}.json"


def read_steps(file: Path) -> Steps:
    """Return what this program remembers; nothing when any of it is not as it was written."""
    try:
        checksum, _, text = file.read_bytes().partition(b"\n")
        if hashlib.sha256(text).hexdigest().encode() != checksum:
            return {}
        content = json.loads(text)
        if content["form"] != FORM or content["program"] != program_key():
            return {}
        return dict(_step(*row) for row in content["steps"])
    except (OSError, ValueError, KeyError, TypeError):
        return {}


def _step(wanted: str, base: str, steps: list[int] | None, fresh: str) -> tuple[Step, Frame | None]:
    if steps is None:
        return (wanted, base), None
    raw = base64.b64decode(fresh, validate=True)
    return (wanted, base), Frame(wanted, raw, base, tuple(map(int, steps)))


def steps_text(known: Mapping[Step, Frame | None]) -> bytes:
    """Return the file that remembers these steps."""
    rows = [
        [*step, list(frame.steps), base64.b64encode(frame.fresh).decode()]
        if frame
        else [*step, None, ""]
        for step, frame in known.items()
    ]
    content = {"form": FORM, "program": program_key(), "steps": rows}
    text = json.dumps(content, separators=(",", ":")).encode()
    return hashlib.sha256(text).hexdigest().encode() + b"\n" + text
