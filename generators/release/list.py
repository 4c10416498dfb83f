"""The list that a release is: every file with its checksum, named by the list's own hash."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping
from dataclasses import dataclass

from kb.site_folder import MARK

LIST = MARK
"""The list, at the root of the published copy; uploaded last of all but the worker."""
NEWEST = "newest.json"
"""What a phone asks first: which release the host has, and how large the ways to it are."""
SCRIPT = "assets/release.js"
"""Tells a page its release; it cannot be in the list whose hash it names."""
WORKER = "worker.js"
FOLDER = "releases"
"""Compressed packs for phones, and what earlier releases said."""
NAME_LENGTH = 12

OUTSIDE = (LIST, NEWEST, SCRIPT, WORKER)
"""Published, but not in the list: each names the release."""


class NotAList(ValueError):
    """A text that should be the list of a release and is none."""


@dataclass(frozen=True)
class ReleaseList:
    """An immutable list {path: sha256} and what the release says of itself."""

    head: Mapping[str, object]
    files: Mapping[str, str]

    @property
    def text(self) -> str:
        """The list as it is published: one line for each file, always in the same order."""
        told = {"files": dict(self.files), "release": dict(self.head)}
        return json.dumps(told, indent=0, sort_keys=True, ensure_ascii=False) + "\n"

    @property
    def name(self) -> str:
        """The hash of the text, short enough to be read out."""
        return name_of(self.text.encode("utf-8"))


def name_of(raw: bytes) -> str:
    """Return the name of the release whose list has these bytes."""
    return hashlib.sha256(raw).hexdigest()[:NAME_LENGTH]


def sum_of(content: bytes) -> str:
    """Return the checksum under which a content is kept."""
    return hashlib.sha256(content).hexdigest()


def list_of(contents: Mapping[str, bytes], *, head: Mapping[str, object]) -> ReleaseList:
    """Return the list of these files, each by its path in the site."""
    return ReleaseList(head=head, files={path: sum_of(contents[path]) for path in sorted(contents)})


def read_list(raw: bytes) -> ReleaseList:
    """Return a published list.

    Raises
    ------
    NotAList
        When it is not one.
    """
    try:
        told = json.loads(raw)
        files, head = told["files"], told["release"]
        sound = all(isinstance(one, str) for pair in files.items() for one in pair)
        if not (sound and isinstance(head["number"], int)):
            raise TypeError
    except (ValueError, KeyError, TypeError, AttributeError):
        raise NotAList(f"{LIST} is no list of a release") from None
    return ReleaseList(head=head, files=files)


def script_text(told: ReleaseList) -> str:
    """Return the script that tells a page its release; mirrored in the worker."""
    said = {**told.head, "name": told.name, "files": len(told.files)}
    script = json.dumps(said, ensure_ascii=False, sort_keys=True, separators=(",", ":"))
    return f"(window.Ohm=window.Ohm||{{}}).release={script};\n"
