"""What a keeper's signature says of a release, and how one key hands over to the next."""

from __future__ import annotations

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

    Each label stands once and in this order, so that no other values give the same text.
    """
    lines = [
        "ohmfolio release",
        f"number {number}",
        f"date {date}",
        f"offline {'yes' if offline else 'no'}",
        f"worker {worker}",
        f"list {list_sum}",
        f"record {record_sum}",
    ]
    return "\n".join(lines).encode("utf-8")


def hand_over(key: str, *, to: str) -> bytes:
    """Return what a key signs when another one, or nobody, follows it."""
    return f"ohmfolio key\nfrom {key}\nto {to}".encode("ascii")
