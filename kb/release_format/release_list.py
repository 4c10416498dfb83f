"""The list that a release is: every file with its checksum, named by the list's own hash."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping
from typing import Annotated

from pydantic import BaseModel, ConfigDict, StringConstraints, ValidationError

from .head import Head
from .places import LIST, SITE_PATH

NAME_LENGTH = 12

Checksum = Annotated[str, StringConstraints(pattern=r"\A[0-9a-f]{64}\z")]
"""SHA-256 (FIPS 180-4) in hexadecimal."""
SitePath = Annotated[str, StringConstraints(pattern=rf"\A{SITE_PATH}\z")]


class NotAList(ValueError):
    """A text that should be the list of a release and is none."""


class ReleaseList(BaseModel):
    """An immutable list {path: sha256} and what the release says of itself."""

    model_config = ConfigDict(frozen=True, strict=True, extra="forbid")

    files: dict[SitePath, Checksum]
    release: Head

    @property
    def text(self) -> str:
        """The list as it is published: one line for each file, always in the same order."""
        content = {"files": self.files, "release": self.release.as_dict()}
        return json.dumps(content, indent=0, sort_keys=True, ensure_ascii=False) + "\n"

    @property
    def name(self) -> str:
        """The hash of the text, short enough to be read out."""
        return name_of(self.text.encode("utf-8"))

    @property
    def script_text(self) -> str:
        """The script that tells a page its release; mirrored in the worker."""
        facts = {**self.release.as_dict(), "name": self.name, "files": len(self.files)}
        script = json.dumps(facts, ensure_ascii=False, sort_keys=True, separators=(",", ":"))
        return f"(window.Ohm=window.Ohm||{{}}).release={script};\n"


def name_of(list_content: bytes) -> str:
    """Return the name of the release whose list has these bytes."""
    return hashlib.sha256(list_content).hexdigest()[:NAME_LENGTH]


def checksum(content: bytes) -> str:
    """Return the checksum under which a content is kept."""
    return hashlib.sha256(content).hexdigest()


def list_of(contents: Mapping[str, bytes], *, head: Head) -> ReleaseList:
    """Return the list of these files, each by its path in the site."""
    return ReleaseList(files={path: checksum(contents[path]) for path in contents}, release=head)


def read_list(content: bytes | str) -> ReleaseList:
    """Return a published list.

    Raises
    ------
    NotAList
        When it is not one.
    """
    try:
        return ReleaseList.model_validate_json(content)
    # Half a letter in a text stops the reader before it finds anything wrong.
    except (ValidationError, UnicodeError):
        raise NotAList(f"{LIST} is no list of a release") from None
