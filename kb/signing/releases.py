"""Sign what leads phones to a release, and say whether a signature is the keeper's."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from kb.release_format.newest import Newest
from kb.release_format.release_list import NAME_LENGTH
from kb.release_format.signed import NOBODY, KeyBefore, Signed, hand_over, statement

from .ed25519 import holds, mark_of, public_of, sign

if TYPE_CHECKING:
    from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey


def signed_newest(
    newest: Newest,
    *,
    private: Ed25519PrivateKey,
    before: Sequence[KeyBefore] = (),
    list_sum: str,
    record_sum: str,
) -> Newest:
    """Return what a phone asks first, with the keeper's signature over it.

    Parameters
    ----------
    newest : Newest
    private : Ed25519PrivateKey
    before : sequence of KeyBefore
        The keys before this one, the oldest first.
    list_sum, record_sum : str
        Checksums of the release's list and of its record, as they are published.
    """
    text = _text(newest, list_sum=list_sum, record_sum=record_sum)
    signed = Signed(
        key=public_of(private),
        before=tuple(before),
        list_sum=list_sum,
        record_sum=record_sum,
        by=sign(text, private=private),
    )
    return Newest.model_validate({**dict(newest), "signed": signed})


def handed_over(*, private: Ed25519PrivateKey, to: str) -> KeyBefore:
    """Return a key that another one, or nobody, follows, with its word for that."""
    key = public_of(private)
    return KeyBefore(key=key, by=sign(hand_over(key, to=to), private=private))


def broken_hand_over(signed: Signed) -> str | None:
    """Return the first key whose word for the next one is not its own; None when all hold."""
    keys = [*(each.key for each in signed.before), signed.key]
    for each, follower in zip(signed.before, keys[1:], strict=True):
        if not holds(each.by, text=hand_over(each.key, to=follower), key=each.key):
            return each.key
    return None


def why_not_signed(newest: Newest, *, key: str | None) -> str | None:
    """Return in words what is wrong with a release's signature; None when nothing is.

    Parameters
    ----------
    newest : Newest
    key : str or None
        The key that must have signed it; None takes whichever it names, or none.

    Raises
    ------
    NoSigning
        When the library is missing.
    """
    signed = newest.signed
    if signed is None:
        return f"it is not signed, and must be by {mark_of(key)}" if key else None
    if key and signed.key != key:
        whose = "nobody" if signed.key == NOBODY else mark_of(signed.key)
        return f"it is signed by {whose}, and must be by {mark_of(key)}"
    broken = broken_hand_over(signed)
    if broken is not None:
        return f"the key {mark_of(broken)} did not sign the one after it"
    if signed.key == NOBODY:
        return None
    text = _text(newest, list_sum=signed.list_sum, record_sum=signed.record_sum)
    if signed.list_sum[:NAME_LENGTH] != newest.name or not holds(
        signed.by, text=text, key=signed.key
    ):
        return f"its signature is not that of {mark_of(signed.key)} over this release"
    return None


def _text(newest: Newest, *, list_sum: str, record_sum: str) -> bytes:
    return statement(
        number=newest.number,
        date=newest.date,
        offline=newest.offline,
        worker=newest.worker,
        list_sum=list_sum,
        record_sum=record_sum,
    )
