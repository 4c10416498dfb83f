"""A signature covers all that a phone goes by, and a private key stays with its keeper."""

from __future__ import annotations

import os
import stat
import sys
from pathlib import Path

import pytest
from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey

from kb.model import team
from kb.release_format.newest import Newest, newest_of, read_newest
from kb.release_format.release_list import list_of
from kb.release_format.signed import NOBODY
from kb.signing.ed25519 import NoSigning, holds, make_private, mark_of, public_of, sign
from kb.signing.key_file import read_key, usual_place, write_key
from kb.signing.releases import handed_over, signed_newest, why_not_signed
from tests.release.test_formats import FILES, head

# Private key, public key, text, signature: RFC 8032, section 7.1, tests 1 to 3.
VECTORS = (
    (
        "9d61b19deffd5a60ba844af492ec2cc44449c5697b326919703bac031cae7f60",
        "d75a980182b10ab7d54bfed3c964073a0ee172f3daa62325af021a68f707511a",
        "",
        "e5564300c360ac729086e2cc806e828a84877f1eb8e5d974d873e065224901555fb8821590a33bacc61e39701"
        "cf9b46bd25bf5f0595bbe24655141438e7a100b",
    ),
    (
        "4ccd089b28ff96da9db6c346ec114e0f5b8a319f35aba624da8cf6ed4fb8a6fb",
        "3d4017c3e843895a92b70aa74d1b7ebc9c982ccf2ec4968cc0cd55f12af4660c",
        "72",
        "92a009a9f0d4cab8720e820b5f642540a2b27b5416503f8fb3762223ebdb69da085ac1e43e15996e458f3613d"
        "0f11d8c387b2eaeb4302aeeb00d291612bb0c00",
    ),
    (
        "c5aa8df43f9f837bedb7442f31dcb7b166d38535076f094b85ce3a2e0b4458f7",
        "fc51cd8e6218a1a38da47ed00230f0580816ed13ba3303ac5deb911548908025",
        "af82",
        "6291d657deec24024827e69c3abe01a30ce548a284743a445e3680d7db5ac3ac18ff9b538d16f290ae67f7609"
        "84dc6594a7c15e9716ed28dc027beceea1ec40a",
    ),
)
FIRST, SECOND, THIRD = (Ed25519PrivateKey.from_private_bytes(bytes([n] * 32)) for n in range(3))
RELEASE = list_of(FILES, head=head())
SUM = RELEASE.name + "0" * 52
NEWEST = newest_of(RELEASE, whole=9, steps={}, worker="1" * 64)


@pytest.mark.parametrize(("private", "key", "text", "signature"), VECTORS)
def test_keys_and_signatures_are_those_of_the_standard(
    private: str, key: str, text: str, signature: str
) -> None:
    ours = Ed25519PrivateKey.from_private_bytes(bytes.fromhex(private))
    content = bytes.fromhex(text)
    assert (public_of(ours), sign(content, private=ours)) == (key, signature)
    assert holds(signature, text=content, key=key)
    assert not holds(signature, text=content + b"!", key=key)
    assert not holds(f"{signature[:-2]}ff", text=content, key=key)
    assert not holds(signature, text=content, key=public_of(FIRST))


def signed(newest: Newest = NEWEST, **more: object) -> Newest:
    return signed_newest(newest, private=FIRST, list_sum=SUM, record_sum="2" * 64, **more)


def test_news_that_are_signed_read_back_and_unsigned_ones_keep_their_bytes() -> None:
    assert '"signed"' not in NEWEST.text
    assert read_newest(signed().text.encode()) == signed()
    assert why_not_signed(signed(), key=public_of(FIRST)) is None
    assert why_not_signed(NEWEST, key=None) is None
    assert why_not_signed(NEWEST, key=public_of(FIRST)) == (
        f"it is not signed, and must be by {mark_of(public_of(FIRST))}"
    )
    assert why_not_signed(signed(), key=public_of(SECOND)) == (
        f"it is signed by {mark_of(public_of(FIRST))}, and must be by {mark_of(public_of(SECOND))}"
    )


@pytest.mark.parametrize(
    "field",
    [
        {"number": 4},
        {"date": "2026-03-15"},
        {"offline": False},
        {"worker": "3" * 64},
        {"name": "0" * 12},
    ],
    ids=str,
)
def test_a_signature_covers_all_that_a_phone_goes_by(field: dict[str, object]) -> None:
    forged = Newest.model_validate({**dict(signed()), **field})
    assert "is not that of" in (why_not_signed(forged, key=public_of(FIRST)) or "")


@pytest.mark.parametrize("field", ["list_sum", "record_sum", "by"])
def test_what_is_signed_cannot_be_changed(field: str) -> None:
    good = signed()
    assert good.signed is not None
    value = getattr(good.signed, field)
    changed = value[:-1] + ("0" if value[-1] != "0" else "1")
    forged = good.model_copy(update={"signed": good.signed.model_copy(update={field: changed})})
    assert "is not that of" in (why_not_signed(forged, key=public_of(FIRST)) or "")


def test_a_key_hands_over_to_the_next_and_to_nobody_else() -> None:
    chain = [handed_over(private=SECOND, to=public_of(THIRD))]
    chain.append(handed_over(private=THIRD, to=public_of(FIRST)))
    assert why_not_signed(signed(before=chain), key=public_of(FIRST)) is None
    for wrong in (chain[:1], chain[::-1], [handed_over(private=THIRD, to=NOBODY)]):
        why = why_not_signed(signed(before=wrong), key=None)
        assert why is not None and why.endswith("did not sign the one after it")


def test_a_mark_is_short_enough_to_be_read_out() -> None:
    # SHA-256 of the public key of RFC 8032, 7.1, test 1; by `xxd -r -p | sha256sum`.
    assert mark_of(VECTORS[0][1]) == "21fe-31df-a154-a261-626b"
    assert team.NOBODY == NOBODY


@pytest.fixture
def notes(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path / "settings"))
    (tmp_path / "team/notes").mkdir(parents=True)
    return tmp_path / "team/notes"


def nobody_is_asked(file: Path) -> str:
    raise AssertionError(f"a passphrase of {file} was asked for")


def read(file: Path, *, notes: Path, key: str | None = None, words: str = "") -> Ed25519PrivateKey:
    ask = (lambda _: words) if words else nobody_is_asked
    return read_key(file, key=key or public_of(FIRST), notes=notes, ask=ask)


def test_a_private_key_is_its_owners_alone_and_never_written_over(notes: Path) -> None:
    file = usual_place(public_of(FIRST))
    before = os.umask(0)
    try:
        write_key(file, private=FIRST, passphrase=None)
    finally:
        os.umask(before)
    assert stat.S_IMODE(file.stat().st_mode) == 0o600
    assert public_of(read(file, notes=notes)) == public_of(FIRST)
    with pytest.raises(NoSigning, match="stands already, and no key is written over"):
        write_key(file, private=SECOND, passphrase=None)
    file.chmod(0o640)
    with pytest.raises(NoSigning, match=f"run: chmod 600 '{file}'"):
        read(file, notes=notes)


def test_a_locked_key_opens_with_its_passphrase_alone(notes: Path, tmp_path: Path) -> None:
    file = tmp_path / "locked.pem"
    write_key(file, private=FIRST, passphrase="four plain words here")
    assert b"ENCRYPTED" in file.read_bytes()
    assert public_of(read(file, notes=notes, words="four plain words here")) == public_of(FIRST)
    with pytest.raises(NoSigning, match="the passphrase is wrong, or the file is damaged"):
        read(file, notes=notes, words="other words")


def test_a_key_among_the_notes_is_refused_wherever_the_path_leads(
    notes: Path, tmp_path: Path
) -> None:
    (notes.parent / ".git").mkdir()
    outside = tmp_path / "linked.pem"
    for inside in (notes / "docs_data/key.pem", notes.parent / "key.pem"):
        write_key(inside, private=FIRST, passphrase=None)
        outside.unlink(missing_ok=True)
        outside.symlink_to(inside)
        for file in (inside, outside):
            with pytest.raises(NoSigning, match="would get the key too; keep it outside"):
                read(file, notes=notes)


def test_a_key_that_is_none_says_what_to_do(
    notes: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    file = tmp_path / "key.pem"
    with pytest.raises(NoSigning, match="Is it lost for good: ohmfolio key lost"):
        read(file, notes=notes)
    file.write_text("no key")
    file.chmod(0o600)
    with pytest.raises(NoSigning, match="bring it back from its copy"):
        read(file, notes=notes)
    file.unlink()
    write_key(file, private=SECOND, passphrase=None)
    with pytest.raises(NoSigning, match="name the file of that one with --key"):
        read(file, notes=notes)
    for module in [name for name in sys.modules if name.startswith("cryptography")]:
        monkeypatch.setitem(sys.modules, module, None)
    for asks in (
        make_private,
        lambda: holds("", text=b"", key=""),
        lambda: read(file, notes=notes),
    ):
        with pytest.raises(NoSigning, match="pip install 'cryptography>=43,<51'"):
            asks()
