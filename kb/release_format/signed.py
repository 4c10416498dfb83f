"""What a keeper's signature says of a release, and how one key hands over to the next."""

from __future__ import annotations

import json
from typing import Annotated, Literal

from pydantic import BaseModel, ConfigDict, StringConstraints

PublicKey = Annotated[str, StringConstraints(pattern=r"\A[0-9a-f]{64}\z")]
"""An Ed25519 public key (RFC 8032, 5.1.5) in hexadecimal."""
Signature = Annotated[str, StringConstraints(pattern=r"\A[0-9a-f]{128}\z")]
"""An Ed25519 signature (RFC 8032, 5.1.6) in hexadecimal."""
NOBODY = "none"
"""Stands for a key where the last one said that no release is signed any more."""


class KeyBefore(BaseModel):
    """A key that was in force before, and its signature over the one that followed."""

    model_config = ConfigDict(frozen=True, strict=True, extra="ignore")

    key: PublicKey
    by: Signature


class Signed(BaseModel):
    """What stands in `newest.json` beside what a release says of itself."""

    model_config = ConfigDict(frozen=True, strict=True, extra="ignore")

    key: PublicKey | Literal["none"]
    before: tuple[KeyBefore, ...] = ()
    """The keys before it, the oldest first, each with its signature over the next."""
    list_sum: str = ""
    """Checksum of the release's list: that names every file with its own checksum."""
    record_sum: str = ""
    """Checksum of what the release's record says."""
    by: str = ""
    """The signature over `statement`; empty where the key is nobody's."""


def statement(
    *, number: int, date: str, offline: bool, worker: str, list_sum: str, record_sum: str
) -> bytes:
    """Return what is signed of a release; mirrored in site_config/assets/copy/signed.js.

    A list as JSON: no other values give the same text, and no signature of one sort is of another.
    """
    return _text("release", number, date, offline, worker, list_sum, record_sum)


def hand_over(key: str, *, to: str) -> bytes:
    """Return what a key signs when another one, or nobody, follows it."""
    return _text("key", key, to)


def _text(sort: str, *values: str | int | bool) -> bytes:
    content = ["ohmfolio", sort, *values]
    return json.dumps(content, ensure_ascii=False, separators=(",", ":")).encode("utf-8")
