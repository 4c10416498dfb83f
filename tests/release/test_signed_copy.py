"""What `verify` says of a published copy whose keeper signs, and of one that somebody changed."""

from __future__ import annotations

import sys

import pytest
from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey

from generators.publish.signing import signature_faults
from kb.release_format.newest import Newest, read_newest
from kb.release_format.places import record_path, worker_path
from kb.release_format.release_list import checksum, list_of
from kb.signing.ed25519 import mark_of, public_of
from kb.signing.releases import signed_newest
from tests.release.test_formats import FILES, OLDER, MemoryCopy, head

KEEPER, OTHER = (Ed25519PrivateKey.from_private_bytes(bytes([n] * 32)) for n in range(2))
KEY, MARK, OTHERS = public_of(KEEPER), mark_of(public_of(KEEPER)), mark_of(public_of(OTHER))
RELEASE = list_of(FILES, head=head(since={OLDER: {"changes": 1, "safety": 0}}))
RECORD, LATER_ON = record_path(RELEASE.name), "; phones that know the key keep what they have"


@pytest.fixture
def copy() -> MemoryCopy:
    """Return a published copy that is whole and signed by the keeper."""
    copy = MemoryCopy(RELEASE)
    copy.files[RECORD] = b"a record"
    return resigned(copy, by=KEEPER)


def resigned(copy: MemoryCopy, *, by: Ed25519PrivateKey) -> MemoryCopy:
    newest = signed_newest(
        news(copy),
        private=by,
        list_sum=checksum(copy.files["release.json"]),
        record_sum=checksum(copy.files[RECORD]),
    )
    copy.files["newest.json"] = newest.text.encode()
    return copy


def news(copy: MemoryCopy) -> Newest:
    newest = read_newest(copy.files["newest.json"])
    assert newest is not None
    return newest


def faults(copy: MemoryCopy, *, key: str | None = KEY) -> list[str]:
    return list(signature_faults(copy, key=key))


def test_a_copy_that_the_keeper_signed_has_no_fault(copy: MemoryCopy) -> None:
    assert faults(copy) == faults(copy, key=None) == []
    assert faults(MemoryCopy(RELEASE), key=None) == []


def test_a_copy_that_somebody_else_signed_or_nobody(copy: MemoryCopy) -> None:
    assert faults(MemoryCopy(RELEASE)) == [
        f"newest.json: it is not signed, and must be by {MARK}{LATER_ON}"
    ]
    resigned(copy, by=OTHER)
    assert faults(copy) == [
        f"newest.json: it is signed by {OTHERS}, and must be by {MARK}{LATER_ON}"
    ]


def test_what_was_changed_after_it_was_signed(copy: MemoryCopy) -> None:
    whole = dict(copy.files)
    for path in (RECORD, "release.json"):
        copy.files = {**whole, path: whole[path] + b" "}
        assert faults(copy) == [f"{path} differs: it is not what was signed"]
    copy.files = {
        **whole,
        "newest.json": whole["newest.json"].replace(b'"number":3', b'"number":4'),
    }
    assert faults(copy) == [
        f"newest.json: its signature is not that of {MARK} over this release{LATER_ON}"
    ]


def test_a_worker_that_phones_of_an_earlier_release_would_take(copy: MemoryCopy) -> None:
    path = worker_path(OLDER)
    copy.files[path] = f'"{OLDER}"'.encode()
    assert faults(copy) == []
    copy.files[path] = b"hostile"
    assert faults(copy) == [
        f"{path} is of another version of the program, or was changed: take it away; phones that "
        "have that release keep their worker"
    ]


def test_a_signature_that_cannot_be_checked_here_is_a_fault(
    copy: MemoryCopy, monkeypatch: pytest.MonkeyPatch
) -> None:
    for module in [name for name in sys.modules if name.startswith("cryptography")]:
        monkeypatch.setitem(sys.modules, module, None)
    (fault,) = faults(copy)
    assert fault.startswith("newest.json: the signature cannot be checked: signing needs one more")
