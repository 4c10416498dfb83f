"""Sign a release that is packed, and hold a published copy to its keeper's key."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from kb.commands.passphrase import known_passphrase
from kb.model.team import Signing
from kb.notes.load import Notes
from kb.release_format.newest import Newest, read_newest
from kb.release_format.places import LIST, NEWEST, record_path, worker_path
from kb.release_format.release_list import checksum
from kb.release_format.signed import NOBODY, KeyBefore, Signed
from kb.signing.ed25519 import NoSigning, mark_of, public_of
from kb.signing.key_file import read_key, usual_place
from kb.signing.releases import signed_newest, why_not_signed

from .published import Copy

if TYPE_CHECKING:
    from kb.signing.ed25519 import Ed25519PrivateKey

Files = list[tuple[str, bytes]]
"""Path → content, in the order in which it is safe to upload them."""


@dataclass(frozen=True)
class Signer:
    """Who signs what is packed: the private key in force, and the keys before it."""

    signing: Signing | None = None
    """None where nobody signs, nor did before."""
    private: Ed25519PrivateKey | None = None
    """None too where signing was stopped: then only the keys' own word for that is published."""

    @property
    def mark(self) -> str | None:
        """What people tell the key by; None where nobody signs."""
        return mark_of(public_of(self.private)) if self.private is not None else None

    def signed(self, files: Files) -> Files:
        """Return the files of a release, the news of it signed where somebody signs."""
        if self.signing is None:
            return files
        contents = dict(files)
        newest = read_newest(contents[NEWEST])
        assert newest is not None, "a build wrote it"
        before = tuple(KeyBefore(key=each.key, by=each.by) for each in self.signing.before)
        text = self._newest(newest, before=before, contents=contents).text.encode("utf-8")
        return [(path, text if path == NEWEST else content) for path, content in files]

    def _newest(
        self, newest: Newest, *, before: tuple[KeyBefore, ...], contents: dict[str, bytes]
    ) -> Newest:
        if self.private is None:
            signed = Signed(key=NOBODY, before=before, list_sum="", record_sum="", by="")
            return Newest.model_validate({**dict(newest), "signed": signed})
        return signed_newest(
            newest,
            private=self.private,
            before=before,
            list_sum=checksum(contents[LIST]),
            record_sum=checksum(contents[record_path(newest.name)]),
        )


def signer_of(notes: Notes, *, file: Path | None) -> Signer:
    """Return who signs a release of these notes, if anybody does.

    Parameters
    ----------
    notes : Notes
    file : Path or None
        The private key's file; by default where `ohmfolio key make` put it.

    Raises
    ------
    NoSigning
        When the key cannot be had: what phones would refuse is not packed.
    """
    signing = notes.team.signing if notes.team is not None else None
    if signing is None or not signing.signs:
        return Signer(signing)
    place = file or usual_place(signing.key)
    private = read_key(place, key=signing.key, notes=notes.folder, ask=known_passphrase)
    return Signer(signing, private)


def signature_faults(copy: Copy, *, key: str | None) -> Iterator[str]:
    """Yield what is wrong with the signature of a published copy.

    Parameters
    ----------
    copy : Copy
    key : str or None
        The key that must have signed it; None takes whichever it names, or none.

    Raises
    ------
    NoCopyThere
        When the host cannot be reached.
    """
    newest = read_newest(copy.read(NEWEST) or b"")
    if newest is None or (newest.signed is None and key is None):
        return
    faults = list(not_as_signed(copy, newest=newest, key=key))
    yield from faults
    refused = any(fault.startswith(NEWEST) for fault in faults)
    if not refused and newest.signed is not None and newest.signed.key != NOBODY:
        yield from _earlier_workers(copy, newest)


def not_as_signed(copy: Copy, *, newest: Newest, key: str | None) -> Iterator[str]:
    """Yield what of a release itself is not what its keeper signed.

    Raises
    ------
    NoCopyThere
        When the host cannot be reached.
    """
    try:
        why = why_not_signed(newest, key=key)
    except NoSigning as fault:
        yield f"{NEWEST}: the signature cannot be checked: {fault}"
        return
    if why is not None:
        yield f"{NEWEST}: {why}; phones that know the key keep what they have"
        return
    signed = newest.signed
    if signed is None or signed.key == NOBODY:
        return
    for path, wanted in ((LIST, signed.list_sum), (record_path(newest.name), signed.record_sum)):
        if checksum(copy.read(path) or b"") != wanted:
            yield f"{path} differs: it is not what was signed"


def _earlier_workers(copy: Copy, newest: Newest) -> Iterator[str]:
    """Yield the workers of earlier releases that stand there and are not what a build makes.

    A browser asks for the worker that it has, by itself, and takes what it finds.
    """
    own = copy.read(worker_path(newest.name)) or b""
    for name in newest.since:
        path = worker_path(name)
        there = copy.read(path)
        made = own.replace(newest.name.encode("ascii"), name.encode("ascii"))
        # Where phones are let go, one worker stands at every name.
        if there is not None and there not in (made, own):
            yield (
                f"{path} is of another version of the program, or was changed: take it away; "
                "phones that have that release keep their worker"
            )
