"""Make keys, sign and verify by Ed25519; the library is asked for when a key is wanted."""

from __future__ import annotations

import hashlib
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from types import ModuleType

    from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey

MARK_LENGTH = 20
"""So many hexadecimal figures of a key's SHA-256 are its mark: 80 bits, and short enough to be read
out over the telephone. Common practice, no source."""
_OF_FOUR = 4
WITHOUT_LIBRARY = (
    "signing needs one more library: in the folder where the program is, run "
    ".venv/bin/pip install 'cryptography>=43,<51'"
)


class NoSigning(Exception):
    """No key can be made or asked: its library is missing, or its file cannot be used."""


def make_private() -> Ed25519PrivateKey:
    """Return a fresh private key from the system's source of chance.

    Raises
    ------
    NoSigning
        When the library is missing.
    """
    private: Ed25519PrivateKey = _library().Ed25519PrivateKey.generate()
    return private


def _library() -> ModuleType:
    try:
        from cryptography.hazmat.primitives.asymmetric import ed25519
    except ImportError:
        raise NoSigning(WITHOUT_LIBRARY) from None
    return ed25519


def public_of(private: Ed25519PrivateKey) -> str:
    """Return the public key of a private one, in hexadecimal."""
    return private.public_key().public_bytes_raw().hex()


def sign(text: bytes, *, private: Ed25519PrivateKey) -> str:
    """Return the signature of a text in hexadecimal; the same text gives the same signature."""
    return private.sign(text).hex()


def holds(signature: str, *, text: bytes, key: str) -> bool:
    """Return whether a signature is this key's over this text; both are hexadecimal.

    Raises
    ------
    NoSigning
        When the library is missing.
    """
    public_key = _library().Ed25519PublicKey
    from cryptography.exceptions import InvalidSignature

    try:
        public_key.from_public_bytes(bytes.fromhex(key)).verify(bytes.fromhex(signature), text)
    except (InvalidSignature, ValueError):
        return False
    return True


def mark_of(key: str) -> str:
    """Return the mark by which people tell a key: `1a2b-3c4d-5e6f-7081-92a3`.

    Mirrored in site_config/assets/copy/signed.js.
    """
    mark = hashlib.sha256(bytes.fromhex(key)).hexdigest()[:MARK_LENGTH]
    return "-".join(mark[i : i + _OF_FOUR] for i in range(0, MARK_LENGTH, _OF_FOUR))
