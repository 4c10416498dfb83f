"""A delta makes the new content from the old one, whatever the two are, or is not offered."""

from __future__ import annotations

import gzip
import hashlib
import random
import zlib
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from generators.release.kept_pack import kept_pack_file, kept_pack_raw, read_kept_pack
from kb.release_format import content_pack, gzipped
from kb.release_format.content_pack import PackBroken, PackMemory, read_pack, step_pack, whole_pack
from kb.release_format.delta import delta_of, patched
from kb.release_format.head import Head
from kb.release_format.release_list import ReleaseList, checksum, list_of

WORDS = st.lists(
    st.sampled_from(
        [
            b"the coil sensor ",
            b"reads 12 kOhm ",
            b"\n",
            b"plug X14 ",
            b"<p>isolate and lock off</p>",
        ]
    ),
    max_size=60,
)


@given(WORDS, WORDS, WORDS, WORDS)
def test_the_pieces_make_the_new_content(begin, middle, other, end):
    old, new = (b"".join(begin + one + end) for one in (middle, other))
    delta = delta_of(new, old=old)
    assert delta is None or patched(old, steps=delta[0], fresh=delta[1]) == new


def test_one_word_changed_in_a_long_page_costs_a_few_bytes():
    old = bytes(range(256)) * 40
    new = old[:5000] + b"twelve" + old[5004:]
    steps, fresh = delta_of(new, old=old)
    assert patched(old, steps=steps, fresh=fresh) == new
    assert len(fresh) < 40


def test_nothing_alike_is_no_delta():
    assert delta_of(b"a" * 500, old=b"b" * 500) is None


OLD = {"a.html": b"first page, " * 30, "b.html": b"second"}
NEW = {"a.html": b"first page, " * 29 + b"last page", "b.html": b"second", "c.html": b"third"}


def _packs():
    older, newer = (
        list_of(files, head=Head(number=number, date="", title="", team="Fenwick Cooling"))
        for number, files in enumerate((OLD, NEW), start=1)
    )
    contents = {checksum(one): one for one in NEW.values()}
    old = {checksum(one): one for one in OLD.values()}
    return older, newer, contents, old


def test_a_whole_pack_holds_the_list_first_and_every_content_once():
    _, newer, contents, _ = _packs()
    frames = list(read_pack(whole_pack(newer, contents=contents)))
    assert frames[0] == ("list", newer.text.encode())
    assert dict(frames[1:]) == contents
    assert len(frames) == 1 + len(contents)


def test_a_step_holds_only_what_the_older_release_has_not():
    older, newer, contents, old = _packs()
    step = step_pack(newer, contents=contents, older=older, older_contents=old)
    frames = dict(read_pack(step, older={**old, "list": older.text.encode()}))
    assert frames.pop("list") == newer.text.encode()
    assert frames == {checksum(NEW[path]): NEW[path] for path in ("a.html", "c.html")}


def test_the_same_contents_are_the_same_bytes():
    _, newer, contents, _ = _packs()
    assert whole_pack(newer, contents=contents) == whole_pack(
        newer, contents=dict(reversed(contents.items()))
    )


@pytest.mark.parametrize(
    "spoil",
    [
        lambda raw: raw[:-12],
        lambda raw: raw[: len(raw) // 2],
        lambda raw: b"",
        lambda raw: b"<html>",
        lambda raw: raw[:30] + bytes([raw[30] ^ 1]) + raw[31:],
    ],
)
def test_a_damaged_pack_is_refused(spoil):
    _, newer, contents, _ = _packs()
    with pytest.raises(PackBroken):
        list(read_pack(spoil(whole_pack(newer, contents=contents))))


@pytest.mark.parametrize("at", range(30, 60))
def test_a_word_put_in_anywhere_is_all_that_is_fresh(at):
    old = random.Random(5).randbytes(400)
    new = old[:at] + b"??" + old[at:]
    steps, fresh = delta_of(new, old=old)
    assert patched(old, steps=steps, fresh=fresh) == new
    assert fresh == b"??"


def _long_alike() -> tuple[ReleaseList, dict[str, bytes], list[str]]:
    """Return six long contents, three alike and three alike; and what the three share."""
    words = random.Random(7)
    long = [" ".join(str(words.random()) for _ in range(2000)) for _ in range(2)]
    files = {
        f"parts/{name}-board-{i}.html": f"<p>{name}</p>{text}".encode()
        for i, text in enumerate(long)
        for name in ("amber", "birch", "cedar")
    }
    release = list_of(
        files, head=Head(number=1, date="2026-03-14", title="", team="Fenwick Cooling")
    )
    return release, {checksum(content): content for content in files.values()}, long


def test_long_contents_that_are_alike_are_said_once_in_a_pack():
    release, contents, long = _long_alike()
    pack = whole_pack(release, contents=contents)
    assert dict(read_pack(pack)) == {**contents, "list": release.text.encode()}
    # Gzip cannot see from one of them to the next.
    assert len(pack) < 1.2 * sum(len(zlib.compress(text.encode())) for text in long)


def _remembered(tmp_path) -> tuple[Path, PackMemory]:
    memory = PackMemory()
    release, contents, _ = _long_alike()
    whole_pack(release, contents=contents, memory=memory)
    file = kept_pack_file(tmp_path, out=tmp_path / "site")
    file.parent.mkdir()
    file.write_bytes(kept_pack_raw(memory))
    return file, memory


def test_what_is_remembered_of_a_pack_is_not_worked_out_again_and_makes_the_same(
    tmp_path, monkeypatch
):
    release, contents, _ = _long_alike()
    pack = whole_pack(release, contents=contents)
    file, memory = _remembered(tmp_path)
    assert len(memory.steps.asked) == 5 and memory.blocks.asked
    paying = {frame for frame in memory.steps.asked.values() if frame.base}
    assert len(paying) == 4

    def only_what_does_not_pay(new: bytes, *, old: bytes) -> None:
        assert checksum(new) not in {frame.checksum for frame in paying}

    monkeypatch.setattr(content_pack, "delta_of", only_what_does_not_pay)
    monkeypatch.setattr(gzipped, "_deflated", lambda *_: pytest.fail("compressed again"))
    again = read_kept_pack(file)
    assert whole_pack(release, contents=contents, memory=again) == pack
    assert kept_pack_raw(again) == file.read_bytes()


@pytest.mark.parametrize(
    "harm",
    [
        lambda raw: b"",
        lambda raw: raw[:90],
        lambda raw: raw[:-1],
        lambda raw: raw[:-9] + bytes([raw[-9] ^ 1]) + raw[-8:],
        lambda raw: summed(raw.partition(b"\n")[2].replace(b'"form":2', b'"form":1')),
        lambda raw: summed(raw.partition(b"\n")[2].replace(b'"program":"', b'"program":"0')),
        lambda raw: summed(b'{"form":2}\n'),
        lambda raw: summed(b"[]"),
    ],
)
def test_a_kept_pack_that_is_not_as_this_program_wrote_it_is_forgotten(harm, tmp_path):
    file, _ = _remembered(tmp_path)
    file.write_bytes(harm(file.read_bytes()))
    assert read_kept_pack(file) == PackMemory()


def summed(rest: bytes) -> bytes:
    return hashlib.sha256(rest).hexdigest().encode() + b"\n" + rest


@settings(max_examples=30, deadline=None)
@given(st.lists(st.integers(0, 90_000), max_size=40), st.integers(0, 2**32))
def test_blocks_are_a_gzip_like_any_other_whatever_their_pieces(sizes, seed):
    draw = random.Random(seed)
    text = b"".join(b"%d " % draw.randrange(3000) for _ in range(20_000))
    pieces = [text[draw.randrange(10_000) :][:size] for size in sizes]
    blocks = gzipped.Blocks()
    made = gzipped.gzipped(pieces, blocks=blocks)
    assert gzip.decompress(made) == b"".join(pieces)
    whole = zlib.compress(b"".join(pieces), 9)
    assert len(made) < 1.02 * len(whole) + 150 * (1 + len(blocks.asked))


def test_a_piece_put_in_leaves_most_blocks_as_they_are():
    draw = random.Random(3)
    pieces = [draw.randbytes(9_000).hex().encode() for _ in range(400)]
    blocks = gzipped.Blocks()
    gzipped.gzipped(pieces, blocks=blocks)
    again = gzipped.Blocks(blocks.asked)
    gzipped.gzipped([*pieces[:200], b"another", *pieces[200:]], blocks=again)
    new = again.asked.keys() - blocks.asked.keys()
    assert 0 < len(new) <= 4 < len(blocks.asked) / 10
