"""Sheets that `bring` reads, points that `fit` reads, cases and slips that `case add` takes."""

from __future__ import annotations

import io
import json
import random
import re
import shutil
import zipfile
from collections.abc import Iterator, Sequence
from pathlib import Path

from click.testing import CliRunner, Result

from kb.check import check_notes
from kb.commands.main import ohmfolio
from kb.photos import PhotoRefused, tidy_photo, upright_size

from .mutation import changed
from .note_target import GOOD, joined, split

ODD_NAMES = ("../out.yaml", "/etc/x.yaml", "a/b.png", "a.yaml", "..", "x.png", "é.jpg", "a\\b.jpg")


def command(*words: object) -> Result:
    """Run `ohmfolio` with words; an error that it does not answer goes on."""
    return CliRunner().invoke(
        ohmfolio, [str(word) for word in words], catch_exceptions=False, prog_name="ohmfolio"
    )


class _Commanded:
    """A command that reads a file from outside."""

    def __init__(self, folder: Path) -> None:
        self.inside = folder
        self.notes = Path(shutil.copytree(GOOD, folder / "notes"))

    def changed(self, raw: bytes, *, draw: random.Random, others: Sequence[bytes]) -> bytes:
        """Return another content for a file of the same name."""
        name, content = split(raw)
        pieces = [split(other)[1] for other in others]
        if content.startswith(b"PK") and draw.random() < 0.8:
            return joined(name, zip_changed(content, draw=draw, pieces=pieces))
        return joined(name, changed(content, draw=draw, others=pieces))

    def _file(self, raw: bytes) -> Path:
        name, content = split(raw)
        file = self.inside / name
        file.write_bytes(content)
        return file


class SheetTarget(_Commanded):
    """`bring`: CSV and workbooks, of entries and of points; and `fit`."""

    name = "sheet"

    def seeds(self) -> list[bytes]:
        """Return a sheet of each kind as `sheet` gives it, in three manners, and rows of points."""
        found = []
        for kind in ("sensors", "codes", "parts", "sources", "families", "curves", "instruments"):
            found.append(self._sheet(kind, "csv"))
        for kind in ("cases", "terms", "drawings", "points"):
            found.append(self._sheet(kind, "csv", "--semicolon"))
        found += [self._sheet(kind, "xlsx") for kind in ("sensors", "points")]
        points = "t_c,r_ohm\n" + "".join(f"{t},{5000 - 40 * t}\n" for t in range(-20, 60, 10))
        found.append(joined("fit.csv", points.encode()))
        found.append(
            joined("fit.csv", points.replace(",", ";").replace("0\n", "0,5\n").encode("utf-16"))
        )
        return found

    def _sheet(self, kind: str, ending: str, *words: str) -> bytes:
        file = self.inside / f"{kind}.{ending}"
        file.unlink(missing_ok=True)
        made = command("sheet", kind, file, "--notes", self.notes, *words)
        assert made.exit_code == 0, made.output
        return joined(file.name, file.read_bytes())

    def run(self, raw: bytes) -> Iterator[str]:
        """Bring the sheet without writing; every fault names a place and what would work."""
        file = self._file(raw)
        if file.name.startswith("fit"):
            shown = command("fit", file, "--json")
        else:
            shown = command("bring", file, "--notes", self.notes, "--json")
        if shown.exit_code not in (0, 1, 2):
            yield f"exit code {shown.exit_code}"
        if shown.stdout.startswith("{"):
            answer = json.loads(shown.stdout)
            yield from _unplaced(answer.get("problems", []))
        elif shown.exit_code == 0 or "Error" not in shown.output:
            yield f"no answer: {shown.output[:80]}"


def _unplaced(problems: Sequence[dict]) -> Iterator[str]:
    for problem in problems:
        if not (problem.get("place") or (problem.get("file") and problem["line"] >= 1)):
            yield f"no place: {problem['rule']}: {problem['message'][:80]}"
        if not problem["hint"]:
            yield f"no hint: {problem['rule']}: {re.sub(r'.[^ ]*[0-9].[^ ]*', '…', problem['message'])[:60]}"


class CaseTarget(_Commanded):
    """`case add`: a case or a slip as text, or zipped with its photos."""

    name = "case"

    def seeds(self) -> list[bytes]:
        """Return cases and a slip, alone and zipped."""
        cases = self.notes / "docs_data/cases"
        plain, photo = (cases / "2026-02-01-suction.yaml").read_bytes(), b""
        with_photo = (
            (cases / "2026-02-03-motor.yaml").read_bytes().replace(b"2026-02-03", b"2026-02-09")
        )
        photo = (cases / "2026-02-03-motor-1.png").read_bytes()
        named = re.sub(rb"2026-02-09-motor-1", b"m-1", with_photo)
        slip = b"entry: sensors/air-a\nwrong: The plug\nby: AA\non: 2026-03-01\n"
        return [
            joined("new-case.yaml", plain.replace(b"2026-02-01", b"2026-02-08")),
            joined("new-slip.yaml", slip),
            joined("new-zip.zip", zipped({"m.yaml": named, "m-1.png": photo})),
            joined("new-zip.zip", zipped({"m.yaml": plain.replace(b"2026-02-01", b"2026-02-07")})),
        ]

    def run(self, raw: bytes) -> Iterator[str]:
        """Add it; what was taken passes check and leaves nothing outside its folders."""
        before = _files(self.notes)
        shown = command("case", "add", self._file(raw), "--notes", self.notes, "--photos", "--json")
        fresh = _files(self.notes) - before
        try:
            if shown.exit_code == 0:
                faults = [fault for fault in check_notes(self.notes).problems if not fault.warning]
                yield from (f"taken, and check refuses it: {fault.headline()}" for fault in faults)
            elif fresh:
                yield f"refused, and written: {sorted(fresh)[0]}"
            elif shown.stdout.startswith("{"):
                yield from _unplaced(json.loads(shown.stdout).get("problems", []))
            elif "Error" not in shown.output:
                yield f"no answer: {shown.output[:80]}"
        finally:
            for name in fresh:
                (self.notes / name).unlink()


def _files(folder: Path) -> set[str]:
    return {path.relative_to(folder).as_posix() for path in folder.rglob("*") if path.is_file()}


class PhotoTarget(_Commanded):
    """Photos: what check reads to its end can be drawn."""

    name = "photo"

    def seeds(self) -> list[bytes]:
        """Return small pictures of every kind, with and without what a camera says."""
        return [joined("a.img", raw) for raw in _pictures()]

    def run(self, raw: bytes) -> Iterator[str]:
        """Measure it as check does, draw it as a build does: both or neither."""
        file = self._file(raw)
        try:
            upright_size(file)
        except PhotoRefused as refused:
            if not refused.hint:
                yield "no hint"
            return
        try:
            tidy_photo(file.read_bytes())
        except PhotoRefused as refused:
            yield f"check reads it, and a build refuses it: {refused}"


def _pictures() -> Iterator[bytes]:
    from PIL import Image

    exif = Image.Exif()
    exif[0x0112], exif[0x010E] = 6, "a board"
    for mode in ("RGB", "L", "P", "RGBA", "1", "I;16", "CMYK"):
        picture = (
            Image.linear_gradient("L").resize((48, 32)).convert(mode if mode != "I;16" else "I")
        )
        picture = picture.convert("I;16") if mode == "I;16" else picture
        for kind in ("JPEG", "PNG", "WEBP", "TIFF", "GIF"):
            made = io.BytesIO()
            try:
                picture.save(made, kind, exif=exif)
            except (OSError, KeyError, ValueError):
                continue
            yield made.getvalue()
    made = io.BytesIO()
    Image.linear_gradient("L").convert("RGB").save(made, "JPEG", progressive=True, quality=60)
    yield made.getvalue()


def zipped(members: dict[str, bytes]) -> bytes:
    """Return a zip of some members."""
    made = io.BytesIO()
    with zipfile.ZipFile(made, "w", zipfile.ZIP_DEFLATED) as pack:
        for name, content in members.items():
            pack.writestr(zipfile.ZipInfo(name, (2026, 3, 1, 0, 0, 0)), content)
    return made.getvalue()


def zip_changed(raw: bytes, *, draw: random.Random, pieces: Sequence[bytes]) -> bytes:
    """Return a zip with another member, name or content; bytes that are none, changed as they are."""
    try:
        with zipfile.ZipFile(io.BytesIO(raw)) as pack:
            members = {name: pack.read(name) for name in pack.namelist()}
    except Exception:
        return changed(raw, draw=draw, others=pieces)
    name = draw.choice([*members])
    way = draw.random()
    if way < 0.7:
        members[name] = changed(members[name], draw=draw, others=pieces)
    elif way < 0.85:
        members[draw.choice(ODD_NAMES)] = members[name]
    else:
        members[draw.choice(ODD_NAMES)] = members.pop(name)
    return zipped(members)
