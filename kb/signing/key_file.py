"""The file of a private key: where it lies, and whether it lies where nobody else can read it."""

from __future__ import annotations

import os
import stat
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

from kb.writer import sweep, write_if_changed

from .ed25519 import WITHOUT_LIBRARY, NoSigning, mark_of, public_of

if TYPE_CHECKING:
    from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey

AskPassphrase = Callable[[Path], str]
"""From a key's file to its passphrase."""
_OTHERS = stat.S_IRWXG | stat.S_IRWXO
_LONGEST = 10_000
"""Bytes; a key's file has a few hundred."""


def usual_place(key: str) -> Path:
    """Return where the private key of a public one lies unless its keeper says otherwise."""
    settings = os.environ.get("XDG_CONFIG_HOME")
    try:
        folder = Path(settings) if settings else Path.home() / ".config"
    except RuntimeError:
        raise NoSigning("nobody here has a home folder; name the key's file yourself") from None
    return folder / "ohmfolio" / "keys" / f"{mark_of(key)}.pem"


def is_locked(file: Path) -> bool:
    """Return whether a key's file wants a passphrase; False where it cannot be read."""
    try:
        with file.open("rb") as opened:
            return opened.read(_LONGEST).startswith(b"-----BEGIN ENCRYPTED")
    except OSError:
        return False


def refuse_in_notes(file: Path, *, notes: Path) -> None:
    """Raise NoSigning when a key lies among the notes, or in the repository that holds them.

    Whoever gets the notes would get it too, and could publish in the keeper's name.
    """
    home = notes.resolve()
    above = next((folder for folder in (home, *home.parents) if (folder / ".git").exists()), home)
    for folder in (home, above):
        if file.resolve().is_relative_to(folder):
            raise NoSigning(
                f"{file} lies in {folder}, and whoever gets the notes would get the key too; keep "
                "it outside, and name the file there"
            )


def write_key(file: Path, *, private: Ed25519PrivateKey, passphrase: str | None) -> None:
    """Write a private key (PKCS #8, RFC 5958, as PEM) that nobody but its owner can read.

    Parameters
    ----------
    file : Path
    private : Ed25519PrivateKey
    passphrase : str or None
        Locks the file; without one whoever has the file has the key.

    Raises
    ------
    NoSigning
        When something stands there: a key is never written over.
    OSError
        When the disk refuses.
    """
    from cryptography.hazmat.primitives import serialization

    locked = (
        serialization.BestAvailableEncryption(passphrase.encode("utf-8"))
        if passphrase
        else serialization.NoEncryption()
    )
    raw = private.private_bytes(
        serialization.Encoding.PEM, serialization.PrivateFormat.PKCS8, locked
    )
    if os.path.lexists(file):
        raise NoSigning(f"{file} stands already, and no key is written over; name another")
    sweep(file.parent)
    write_if_changed(file, raw, mode=0o600)


def read_key(file: Path, *, key: str, notes: Path, ask: AskPassphrase) -> Ed25519PrivateKey:
    """Return the private key of a public one.

    Parameters
    ----------
    file : Path
    key : str
        The public key that it must have.
    notes : Path
        The key must lie outside.
    ask : callable
        Asked for the passphrase where the file is locked.

    Raises
    ------
    NoSigning
        When the library or the file is missing, others can read it, it lies in the notes, it is
        damaged or another key, or the passphrase is wrong.
    """
    refuse_in_notes(file, notes=notes)
    private = _opened(_raw(file), file=file, ask=ask)
    if public_of(private) != key:
        raise NoSigning(
            f"{file} is the key {mark_of(public_of(private))}, and these notes are signed by "
            f"{mark_of(key)}; name the file of that one with --key"
        )
    return private


def _raw(file: Path) -> bytes:
    try:
        with file.open("rb") as opened:
            others = os.fstat(opened.fileno()).st_mode & _OTHERS
            raw = opened.read(_LONGEST)
    except FileNotFoundError:
        raise NoSigning(
            f"the private key is not at {file}; bring its file back from where you keep the copy, "
            "or name it with --key FILE. Is it lost for good: ohmfolio key lost"
        ) from None
    except OSError as error:
        raise NoSigning(f"the private key {file} cannot be read: {error.strerror}") from None
    if others:
        raise NoSigning(
            f"others on this computer can read the private key; run: chmod 600 '{file}'"
        )
    return raw


def _opened(raw: bytes, *, file: Path, ask: AskPassphrase) -> Ed25519PrivateKey:
    try:
        from cryptography.exceptions import UnsupportedAlgorithm
        from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey
        from cryptography.hazmat.primitives.serialization import load_pem_private_key
    except ImportError:
        raise NoSigning(WITHOUT_LIBRARY) from None
    try:
        try:
            private = load_pem_private_key(raw, None)
        except TypeError:  # it is locked
            private = load_pem_private_key(raw, ask(file).encode("utf-8"))
    except (ValueError, TypeError, UnsupportedAlgorithm):
        raise NoSigning(
            f"{file} cannot be opened: the passphrase is wrong, or the file is damaged; "
            "bring it back from its copy"
        ) from None
    if not isinstance(private, Ed25519PrivateKey):
        raise NoSigning(f"{file} holds a key of another sort; 'ohmfolio key make' makes one")
    return private
