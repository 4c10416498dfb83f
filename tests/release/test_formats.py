"""What a published release is made of reads back as it was written, and a damaged one is known."""

from __future__ import annotations

import gzip
import json
import lzma
import subprocess
import zipfile
from pathlib import Path

import pytest

from generators.publish.pack import zipped
from generators.publish.published import NoCopyThere, ZipCopy, open_copy
from generators.publish.verify import verify
from generators.release.finished_release import worker_text
from generators.release.history import KEPT, earlier, remember
from kb.release_format.content_pack import Frame, PackBroken, read_pack, step_pack, whole_pack
from kb.release_format.head import Head
from kb.release_format.kept import in_order, read_history
from kb.release_format.newest import newest_of, read_newest
from kb.release_format.places import (
    UPLOADED_LAST,
    is_record_or_pack,
    is_worker,
    plain_record_path,
    record_path,
    step_pack_path,
    upload_rank,
    whole_pack_path,
    worker_path,
)
from kb.release_format.record import Record, Snapshot, read_record
from kb.release_format.release_list import ReleaseList, checksum, list_of

FILES = {"index.html": b"home", "codes/k1.html": b"code", "codes/k2.html": b"code"}
OLDER = "0123456789ab"


def head(number: int = 3, **more: object) -> Head:
    return Head(
        **{"number": number, "date": "2026-03-14", "title": "", "team": "Fenwick Cooling", **more}
    )


def notes(words: str = "a") -> Snapshot:
    return {"entries": {}, "numbers": {}, "team": {"name": words}, "own": {}}


def record(number: int, *, words: str = "a", pack: bytes = b"") -> Record:
    return Record(list_of(FILES, head=head(number)), notes=notes(words), pack=pack)


def contents_of(files: dict[str, bytes]) -> dict[str, bytes]:
    return {checksum(content): content for content in files.values()}


class MemoryCopy:
    """A published copy that stands on no disk."""

    where = "memory"

    def __init__(self, release: ReleaseList, *, lists_files: bool = True) -> None:
        self.lists_files = lists_files
        pack = whole_pack(release, contents=contents_of(FILES))
        worker = f'"{release.name}"'.encode()
        newest = newest_of(release, whole=len(pack), steps={OLDER: 7}, worker=checksum(worker))
        self.files = {
            **FILES,
            "release.json": release.text.encode(),
            "assets/release.js": release.script_text.encode(),
            "worker.js": worker,
            f"worker-{release.name}.js": worker,
            "newest.json": newest.text.encode(),
            whole_pack_path(release.name): pack,
            step_pack_path(release.name, older=OLDER): b"a step",
        }

    def read(self, path: str) -> bytes | None:
        return self.files.get(path)

    def paths(self) -> set[str] | None:
        return set(self.files) if self.lists_files else None


RELEASE = list_of(FILES, head=head())
PLACE = f"releases/{RELEASE.name}"


# --- places


def test_what_leads_to_a_release_is_uploaded_last_and_the_worker_at_the_very_end():
    wanted = [
        "a.html",
        "z.html",
        f"{PLACE}/all.pack",
        f"{PLACE}/record.xz",
        worker_path(RELEASE.name),
        "assets/release.js",
        "release.json",
        "newest.json",
        "worker.js",
    ]
    assert sorted(set(wanted), key=upload_rank) == wanted
    assert tuple(wanted[-4:]) == UPLOADED_LAST


def test_a_release_knows_its_own_packs_and_records_by_their_paths():
    assert is_record_or_pack(worker_path(OLDER)) and is_worker(worker_path(OLDER))
    assert not is_worker("worker.js") and not is_worker(f"a/{worker_path(OLDER)}")
    assert record_path("a") == "releases/a/record.xz"
    assert plain_record_path("a") == "releases/a/record.json"
    assert whole_pack_path("a") == "releases/a/all.pack"
    assert step_pack_path("a", older="b") == "releases/a/from-b.pack"
    for path in ("record.xz", "record.json", "all.pack", f"from-{OLDER}.pack"):
        assert is_record_or_pack(f"releases/{OLDER}/{path}")
    for path in (
        f"releases/{OLDER}/letter.txt",
        f"releases/{OLDER}a/all.pack",
        f"old/releases/{OLDER}/all.pack",
        "releases/all.pack",
    ):
        assert not is_record_or_pack(path)


# --- newest.json, records, packs


def test_what_a_phone_asks_first_reads_back_as_it_was():
    newest = newest_of(RELEASE, whole=90, steps={OLDER: 7}, worker="ab" * 32)
    assert json.loads(newest.text) == {
        **head().as_dict(),
        "name": RELEASE.name,
        "files": 3,
        "packs": {"all": 90, "from": {OLDER: 7}},
        "worker": "ab" * 32,
    }
    assert newest.text.endswith("}\n")
    assert read_newest(newest.text.encode()) == newest


@pytest.mark.parametrize("content", [b"", b"{", b"[]", b'{"name": "a"}', head().model_dump_json()])
def test_damaged_news_are_none(content):
    assert read_newest(content) is None


def test_a_record_reads_back_with_everything_that_the_release_held():
    pack = whole_pack(RELEASE, contents=contents_of(FILES))
    kept = record(3, pack=pack)
    read = read_record(kept.raw, pack=pack)
    assert read == kept
    assert read.number == 3
    sums = {checksum(content) for content in FILES.values()}
    everything = {**contents_of(FILES), "list": RELEASE.text.encode()}
    assert read.contents_of({*sums, "list"}) == everything
    assert read.contents_of({min(sums)}) == {min(sums): everything[min(sums)]}
    assert record(3).contents_of(sums) is record(3, pack=pack[:-9]).contents_of(sums) is None


@pytest.mark.parametrize(
    "change",
    [
        lambda fields: fields.pop("list"),
        lambda fields: fields.pop("notes"),
        lambda fields: fields.update(list="{}"),
        lambda fields: fields.update(list=5),
        lambda fields: fields.update(notes=[]),
        lambda fields: fields["notes"].pop("entries"),
    ],
)
def test_a_damaged_record_is_none(change):
    fields = json.loads(lzma.decompress(record(3).raw))
    # An earlier version wrote plain JSON.
    assert read_record(json.dumps(fields).encode()) == record(3)
    change(fields)
    assert read_record(json.dumps(fields).encode()) is None


def test_a_content_that_two_files_share_is_packed_once():
    frames = list(read_pack(whole_pack(RELEASE, contents=contents_of(FILES))))
    assert [name for name, _ in frames] == ["list", checksum(b"home"), checksum(b"code")]
    old = list_of({"index.html": b"home"}, head=head(2))
    step = step_pack(RELEASE, contents=contents_of(FILES), older=old, older_contents={})
    older = {"list": old.text.encode()}
    assert [name for name, _ in read_pack(step, older=older)] == ["list", checksum(b"code")]


def test_a_content_that_is_not_what_its_checksum_says_is_refused():
    raw = Frame(checksum(b"home"), b"house").raw()
    with pytest.raises(PackBroken) as refusal:
        list(read_pack(gzip.compress(raw)))
    assert str(refusal.value) == f"a content in the pack is not {checksum(b'home')[:12]}"


@pytest.mark.parametrize(
    "unpacked",
    [
        b'{"sum": "list", "size": 5}\nfour',
        b'{"sum": "list", "size": 4}',
        b'{"sum": "list"}\nfour',
        b'{"size": 4}\nfour',
        Frame("list", b"", base="gone", steps=(0, 4, 0)).raw(),
    ],
)
def test_a_pack_that_says_less_than_it_must_is_damaged(unpacked):
    with pytest.raises(PackBroken, match=r"^the pack is damaged or cut short$"):
        list(read_pack(gzip.compress(unpacked)))


# --- verify


def test_a_whole_copy_has_no_fault_and_no_stray():
    found = verify(MemoryCopy(RELEASE))
    assert found.as_dict() == {
        "where": "memory",
        "release": RELEASE.name,
        "number": 3,
        "date": "2026-03-14",
        "files": 3,
        "signed_by": None,
        "whole": True,
        "faults": [],
        "strays": [],
    }


@pytest.mark.parametrize(
    ("path", "content", "fault"),
    [
        ("codes/k1.html", None, "codes/k1.html is missing"),
        ("assets/release.js", None, "assets/release.js is missing"),
        (
            f"{PLACE}/all.pack",
            None,
            f"{PLACE}/all.pack is missing: a new phone downloads file by file",
        ),
        (f"{PLACE}/all.pack", b"x", f"{PLACE}/all.pack: the pack is damaged or cut short"),
        (
            f"{PLACE}/all.pack",
            whole_pack(list_of({}, head=head()), contents={}),
            f"{PLACE}/all.pack does not hold every file of the release",
        ),
        (
            f"{PLACE}/from-{OLDER}.pack",
            None,
            f"{PLACE}/from-{OLDER}.pack is missing: phones download more than they need",
        ),
        (
            "newest.json",
            newest_of(list_of({}, head=head()), whole=1, steps={}, worker="").text.encode(),
            f"newest.json names release {list_of({}, head=head()).name}, the list is {RELEASE.name}",
        ),
        (
            worker_path(RELEASE.name),
            f'"{RELEASE.name}'.encode(),
            f"{worker_path(RELEASE.name)} differs: it is not what newest.json says; phones keep what "
            "they have",
        ),
        (
            worker_path(RELEASE.name),
            None,
            f"{worker_path(RELEASE.name)} is missing: phones keep what they have",
        ),
        ("newest.json", None, "newest.json is missing or damaged: phones learn of nothing"),
    ],
)
def test_each_fault_of_a_copy_is_named(path, content, fault):
    copy = MemoryCopy(RELEASE)
    del copy.files[path]
    if content is not None:
        copy.files[path] = content
    found = verify(copy)
    assert found.faults == [fault]
    assert not found.whole


def test_a_copy_that_lets_phones_go_needs_no_name_in_its_worker():
    freeing = list_of(FILES, head=head(offline=False))
    copy = MemoryCopy(freeing)
    worker = b"unregister"
    copy.files |= {"worker.js": worker, worker_path(freeing.name): worker}
    news = newest_of(freeing, whole=1, steps={OLDER: 7}, worker=checksum(worker))
    copy.files["newest.json"] = news.text.encode()
    assert verify(copy).faults == []


def test_strays_are_told_where_files_can_be_listed():
    copy = MemoryCopy(RELEASE)
    copy.files |= {"z.html": b"", "b.html": b"", "releases/older/record.xz": b""}
    assert verify(copy).strays == ["b.html", "z.html"]
    copy.lists_files = False
    assert verify(copy).strays == []


# --- history


def test_the_releases_before_this_one_are_those_with_other_notes_and_a_lower_number():
    first, second, third = record(1, words="a"), record(2, words="b"), record(3, words="c")
    history = [first, second, third]
    assert earlier(history, notes=notes("d"), number=None) == history
    assert earlier(history, notes=notes("b"), number=None) == [first, third]
    assert earlier(history, notes=notes("b"), number=2) == [first]
    assert earlier(history, notes=notes("b"), number=3) == [first, second]
    assert earlier(history, notes=notes("d"), number=3) == [first, second]
    many = [record(number, words=str(number)) for number in range(1, 10)]
    assert earlier(many, notes=notes("d"), number=None) == many[-KEPT:]


def test_records_stand_in_order_of_number_then_of_date():
    late = Record(list_of(FILES, head=head(1, date="2026-03-15")), notes=notes())
    assert in_order([record(2), late, record(1)]) == [record(1), late, record(2)]


def test_what_is_remembered_is_read_again_and_what_is_damaged_is_not(tmp_path: Path):
    assert read_history(tmp_path) == []
    remember(tmp_path, record=record(2))
    remember(tmp_path, record=record(1, pack=b"pack"))
    (tmp_path / "releases/empty").mkdir()
    damaged = tmp_path / "releases/damaged/record.xz"
    damaged.parent.mkdir()
    damaged.write_text("{")
    elsewhere = tmp_path / "releases/elsewhere/record.json"
    elsewhere.parent.mkdir()
    elsewhere.write_bytes(record(1).raw)
    assert read_history(tmp_path) == [record(1, pack=b"pack"), record(2)]
    of_earlier = tmp_path / plain_record_path(record(4).name)
    of_earlier.parent.mkdir()
    of_earlier.write_bytes(lzma.decompress(record(4).raw))
    assert read_history(tmp_path) == [record(1, pack=b"pack"), record(2), record(4)]


# --- packing


@pytest.mark.parametrize(
    ("of", "date"),
    [
        (head(3), (2026, 3, 14, 0, 3, 0)),
        (head(61), (2026, 3, 14, 1, 1, 0)),
        (head(24 * 60 + 2), (2026, 3, 14, 0, 2, 0)),
        (head(3, date=""), (1980, 1, 1, 0, 0, 0)),
        (head(3, date="1979-12-31"), (1980, 1, 1, 0, 0, 0)),
    ],
)
def test_files_in_a_zip_are_dated_by_the_release(tmp_path: Path, of: Head, date: tuple):
    file = tmp_path / "release.zip"
    file.write_bytes(zipped([("b.html", b"b"), ("a.html", b"a")], head=of))
    with zipfile.ZipFile(file) as packed:
        assert [entry.filename for entry in packed.infolist()] == ["b.html", "a.html"]
        assert {entry.date_time for entry in packed.infolist()} == {date}
        assert {entry.external_attr >> 16 for entry in packed.infolist()} == {0o644}
    assert open_copy(str(file)).read("a.html") == b"a"


def test_a_file_that_is_no_zip_holds_no_copy(tmp_path: Path):
    file = tmp_path / "release.zip"
    file.write_bytes(b"no zip")
    with pytest.raises(NoCopyThere) as refusal:
        ZipCopy(file)
    assert str(refusal.value) == f"{file} is no zip file, or it is cut short"


def test_the_worker_carries_the_release_or_lets_the_phone_go(tmp_path: Path):
    assert f'RELEASE = "{RELEASE.name}"' in worker_text(RELEASE, dressing=tmp_path)
    freeing = list_of(FILES, head=head(offline=False))
    assert "registration.unregister()" in worker_text(freeing, dressing=tmp_path)
    (tmp_path / "worker").mkdir()
    (tmp_path / "worker/worker.js").write_text("ours: @RELEASE@")
    assert worker_text(RELEASE, dressing=tmp_path) == f"ours: {RELEASE.name}"


SCRIPTS_AMONG_BEGINNINGS = """
const { Script } = require("vm");
const text = require("fs").readFileSync(0, "utf8");
const cuts = [];
for (let end = 1; end <= text.length; end++) {
  try { new Script(text.slice(0, end)); cuts.push(text.slice(end)); } catch (broken) { /* no script */ }
}
console.log(JSON.stringify(cuts));
"""


@pytest.mark.parametrize("offline", [True, False])
def test_no_beginning_of_a_worker_is_a_script(tmp_path: Path, offline: bool):
    release = list_of(FILES, head=head(offline=offline))
    text = worker_text(release, dressing=tmp_path)
    ran = subprocess.run(
        ["/usr/bin/node", "-e", SCRIPTS_AMONG_BEGINNINGS],
        input=text,
        capture_output=True,
        encoding="utf-8",
        check=True,
    )
    # Whole is what lacks no more than the mark at its end.
    assert json.loads(ran.stdout) == [";\n", "\n", ""]
