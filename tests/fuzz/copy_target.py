"""A published copy as a host may answer it: lists, news, records and packs, each with wrong values."""

from __future__ import annotations

import json
import lzma
import random
import shutil
import zlib
from collections.abc import Iterator, Sequence
from pathlib import Path

from generators.publish.numbering import learn_last, records_of
from generators.publish.published import NoCopyThere, open_copy
from generators.publish.verify import verify
from generators.release.changes import tell_changes
from generators.release.coming_release import coming_release
from generators.site_context import SiteContext
from kb.catalog import Catalog
from kb.check import check_notes
from kb.release_format.content_pack import whole_pack
from kb.release_format.head import Head
from kb.release_format.kept import read_history
from kb.release_format.newest import newest_of
from kb.release_format.places import RELEASES
from kb.release_format.record import Record
from kb.release_format.release_list import NotAList, checksum, list_of, name_of
from kb.site_folder import WORK, FolderNotOurs, refuse_foreign, refuse_foreign_zip
from kb.snapshot import take_snapshot

from .command_targets import zip_changed, zipped
from .mutation import changed, json_changed
from .note_target import GOOD, joined, split

_PAGES = {f"sensors/{name}.html": b"<p>" + name.encode() * 40 for name in ("a", "b", "c")}
_BY_NAME = ("record.xz", "record.json", "all.pack")
"""What stands in the folder of the release's name, which is another when the list is."""


class CopyTarget:
    """A folder or zip that somebody published, with one file in it that is another."""

    name = "copy"

    def __init__(self, folder: Path) -> None:
        self.inside = folder
        self.notes = Path(shutil.copytree(GOOD, folder / "notes"))
        self.work = self.notes / WORK
        self.context = SiteContext(Catalog(check_notes(self.notes)))
        self.said = take_snapshot(self.context.catalog)
        self.files = self._release()
        (folder / "fresh").mkdir()

    def _release(self) -> dict[str, bytes]:
        """Return a small release by path; what stands under its name by the bare file's name."""
        pages = {**_PAGES, "index.html": b"<p>home"}
        older = list_of(_PAGES, head=Head(number=4, date="2026-01-01", title="A", team="B"))
        since = {older.name: {"changes": 2, "safety": 1}}
        head = Head(number=5, date="2026-02-01", title="A", team="B", words=("More.",), since=since)
        listed = list_of(pages, head=head)
        pack = whole_pack(listed, contents={checksum(raw): raw for raw in pages.values()})
        notes = {**self.said, "entries": {**self.said["entries"], "terms": {}}}
        record = Record(release_list=listed, notes=notes)
        news = newest_of(listed, whole=len(pack), steps={older.name: 9}, worker=checksum(b"w"))
        plain = lzma.decompress(record.raw)
        return {
            **pages,
            "release.json": listed.text.encode(),
            "newest.json": news.text.encode(),
            "worker.js": b"w" + listed.name.encode(),
            "assets/release.js": listed.script_text.encode(),
            "record.xz": record.raw,
            "record.json": plain,
            "all.pack": pack,
        }

    def seeds(self) -> list[bytes]:
        """Return each file that a list, a phone or a keeper believes, and the whole as a zip."""
        names = ("release.json", "newest.json", "record.xz", "record.json", "all.pack", "worker.js")
        return [
            *(joined(name, self.files[name]) for name in names),
            joined("copy.zip", zipped(self._placed("", b""))),
        ]

    def changed(self, raw: bytes, *, draw: random.Random, others: Sequence[bytes]) -> bytes:
        """Return another content: changed within what it is packed in, or as bytes."""
        name, content = split(raw)
        pieces = [split(other)[1] for other in others]
        inner = draw.random() < 0.85
        if name.endswith(".json") and inner:
            return joined(name, json_changed(content, draw=draw))
        if name.endswith(".xz") and inner:
            return joined(name, _unpacked(content, lzma.decompress, lzma.compress, draw=draw))
        if name.endswith(".pack") and inner:
            return joined(name, _pack_changed(content, draw=draw, pieces=pieces))
        if name.endswith(".zip") and inner:
            return joined(name, zip_changed(content, draw=draw, pieces=pieces))
        return joined(name, changed(content, draw=draw, others=pieces))

    def run(self, raw: bytes) -> Iterator[str]:
        """Verify it, learn from it, tell what changed since, and make the next release."""
        name, content = split(raw)
        copy = self.inside / "copy.zip" if name == "copy.zip" else self.inside / "copy"
        try:
            if name == "copy.zip":
                copy.write_bytes(content)
            else:
                for path, each in self._placed(name, content).items():
                    (copy / path).parent.mkdir(parents=True, exist_ok=True)
                    (copy / path).write_bytes(each)
            yield from self._read(copy)
        finally:
            shutil.rmtree(copy) if copy.is_dir() else copy.unlink(missing_ok=True)
            shutil.rmtree(self.work / RELEASES, ignore_errors=True)

    def _placed(self, name: str, content: bytes) -> dict[str, bytes]:
        files = {**self.files, **({name: content} if name in self.files else {})}
        if name == "release.json":
            # A record is believed by the list in it.
            said = json.loads(files["record.json"]) | {"list": content.decode("utf-8", "replace")}
            files["record.xz"] = lzma.compress(json.dumps(said).encode("ascii"), preset=0)
        if name == "record.json":
            del files["record.xz"]
        release = name_of(files["release.json"])
        return {
            f"{RELEASES}/{release}/{path}" if path in _BY_NAME else path: raw
            for path, raw in files.items()
        }

    def _read(self, copy: Path) -> Iterator[str]:
        refuse = refuse_foreign_zip if copy.suffix == ".zip" else refuse_foreign
        for asked in (lambda: refuse(copy), lambda: verify(open_copy(str(copy))).as_dict()):
            try:
                json.dumps(asked()).encode("utf-8")
            except (NoCopyThere, NotAList, FolderNotOurs) as refused:
                str(refused).encode("utf-8")
        try:
            for record in records_of(open_copy(str(copy))):
                for change in tell_changes(record.notes, new=self.said):
                    json.dumps(change.as_dict(), ensure_ascii=False).encode("utf-8")
            learn_last(self.context.notes, to=None, published=str(copy), after=0)
        except NoCopyThere as refused:
            str(refused).encode("utf-8")
            return
        history = read_history(self.work)
        coming = coming_release(self.context, history=history, pages=9)
        text = json.dumps(coming.head.as_dict(), ensure_ascii=False)
        text.encode("utf-8")
        if coming.head.number < 1 or coming.head.number > 10**7:
            yield "a host gave a number that no release has"
        for record in history:
            record.contents_of(set(record.release_list.files.values()))
            record.raw.__len__()


def _unpacked(content: bytes, unpack, pack, *, draw: random.Random) -> bytes:
    try:
        return pack(json_changed(unpack(content), draw=draw))
    except Exception:
        return content[: draw.randrange(len(content) + 1)]


def _pack_changed(content: bytes, *, draw: random.Random, pieces: Sequence[bytes]) -> bytes:
    """Return a pack with another line about a frame, or other bytes in it."""
    try:
        plain = zlib.decompress(content, zlib.MAX_WBITS + 16)
    except zlib.error:
        return changed(content, draw=draw, others=pieces)
    lines = plain.split(b"\n")
    heads = [i for i, line in enumerate(lines) if line.startswith(b'{"sum"')]
    if heads and draw.random() < 0.7:
        at = draw.choice(heads)
        lines[at] = json_changed(lines[at], draw=draw)
        plain = b"\n".join(lines)
    else:
        plain = changed(plain, draw=draw, others=pieces)
    packer = zlib.compressobj(9, wbits=zlib.MAX_WBITS + 16)
    return packer.compress(plain) + packer.flush()
