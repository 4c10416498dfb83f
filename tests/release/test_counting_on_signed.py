"""Where releases are signed, `pack` counts on from what the keeper signed, or packed here, alone."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest
from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey

from generators.publish.numbering import learn_last
from generators.publish.pack import pack
from generators.publish.published import NoCopyThere
from kb.check import check_notes
from kb.release_format.newest import read_newest
from kb.release_format.places import LIST, NEWEST, record_path
from kb.release_format.release_list import checksum
from kb.signing.ed25519 import mark_of, public_of
from kb.signing.releases import signed_newest

STARTER = Path(__file__).resolve().parents[2] / "kb" / "starter"
KEEPER, OTHER = (Ed25519PrivateKey.from_private_bytes(bytes([n] * 32)) for n in range(2))
MARK, OTHERS = mark_of(public_of(KEEPER)), mark_of(public_of(OTHER))
WITHOUT = (
    "to go on without it, say the last number that you published, which stands at the foot of every "
    "page on a phone: --after NUMBER"
)


@pytest.fixture(scope="module")
def packed(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Notes that were packed once, unsigned, into `host`."""
    root = tmp_path_factory.mktemp("packed")
    notes = Path(shutil.copytree(STARTER, root / "notes"))
    pack(notes, to=root / "host", after=0)
    with (notes / "docs_data/team.yaml").open("a", encoding="utf-8") as team:
        team.write(f"signing: {{key: {public_of(KEEPER)}}}\n")
    return root


@pytest.fixture
def host(packed: Path, tmp_path: Path) -> Path:
    """The host, and beside it `notes` of another computer, which packed nothing yet."""
    skipped = shutil.ignore_patterns(".build")
    shutil.copytree(packed / "notes", tmp_path / "notes", ignore=skipped)
    return Path(shutil.copytree(packed / "host", tmp_path / "host"))


def signs(host: Path, by: Ed25519PrivateKey) -> None:
    newest = read_newest((host / NEWEST).read_bytes())
    assert newest is not None
    record = (host / record_path(newest.name)).read_bytes()
    listed = (host / LIST).read_bytes()
    signed = signed_newest(
        newest, private=by, list_sum=checksum(listed), record_sum=checksum(record)
    )
    (host / NEWEST).write_text(signed.text, encoding="utf-8")


def learned(notes: Path, *, host: Path, to: bool = False) -> int:
    where = {"to": host, "published": None} if to else {"to": None, "published": str(host)}
    return learn_last(check_notes(notes), after=1 if to else None, **where)


@pytest.mark.builds
def test_what_the_keeper_signed_is_counted_on_from(host: Path, tmp_path: Path) -> None:
    signs(host, KEEPER)
    assert learned(tmp_path / "notes", host=host) == 0
    assert list((tmp_path / "notes/.build/releases").iterdir())


@pytest.mark.builds
def test_what_was_packed_here_before_anybody_signed_is_known(packed: Path) -> None:
    assert learned(packed / "notes", host=packed / "host") == 0


@pytest.mark.builds
@pytest.mark.parametrize(
    ("way", "why"),
    [
        ("unsigned", f"{NEWEST}: it is not signed, and must be by {MARK}"),
        ("other", f"{NEWEST}: it is signed by {OTHERS}, and must be by {MARK}"),
        ("record", "{record} differs: it is not what was signed"),
        ("list", f"{LIST} differs: it is not what was signed"),
        ("no news", f"its {NEWEST} says no release"),
    ],
)
@pytest.mark.parametrize("to", [False, True])
def test_anything_else_is_refused_and_nothing_learned(
    host: Path, tmp_path: Path, way: str, why: str, to: bool
) -> None:
    newest = read_newest((host / NEWEST).read_bytes())
    assert newest is not None
    record = record_path(newest.name)
    if way != "unsigned":
        signs(host, OTHER if way == "other" else KEEPER)
    if way == "record":
        (host / record).write_bytes((host / record).read_bytes() + b" ")
    if way == "list":
        (host / LIST).write_bytes(
            (host / LIST).read_bytes().replace(b'"number": 1', b'"number": 9')
        )
    if way == "no news":
        (host / NEWEST).write_bytes(b"{}")
    with pytest.raises(NoCopyThere) as refused:
        learned(tmp_path / "notes", host=host, to=to)
    hint = (
        "put the new release into a new folder, or move away what stands there" if to else WITHOUT
    )
    assert str(refused.value) == (
        f"{host} is not what your key signed, so nothing is learned from it: "
        f"{why.format(record=record)}. 'ohmfolio verify {host}' says more; {hint}"
    )
    assert not (tmp_path / "notes/.build/releases").exists()
