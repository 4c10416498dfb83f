"""Whatever stands in a file of the notes, check places each fault; what it passes can be built."""

from __future__ import annotations

import datetime
import random
import re
import shutil
import time
from collections.abc import Iterator, Sequence
from dataclasses import replace
from functools import cached_property
from pathlib import Path

from generators.build import PUBLISHED, Frame, build, page_words
from generators.curve_files import curve_scripts
from generators.make import page_makers
from generators.own_html import own_html
from generators.plan import plan_site
from generators.publish.pack import NotToPublish, pack
from generators.release.coming_release import coming_release
from generators.seal import cannot_hold_policy, with_policy
from generators.site_context import SiteContext
from kb.catalog import Catalog
from kb.check.kept_notes import KeptNotes, hold_to_rules, look_at_files, open_kept
from kb.check.publishing import refused_by_pack, warned_of_today
from kb.made_pages import FIELDS, GUIDE, STYLE
from kb.model import Curve
from kb.notes.folder import dress_folder
from kb.notes.problem import Problem
from kb.site_folder import WORK
from kb.words.catalogue import speaking

from .mutation import changed
from .watch import ROOT

GOOD = ROOT / "tests/data/entries/good"
DAY = datetime.date(2026, 11, 27)
"""Any day: findings must not hang on the clock."""
_NOT_OF_ENTRIES = {f"{name}.md" for name in (FIELDS, GUIDE, STYLE)}
"""Pages that no entry changes, and that take longest."""
_FIGURES = re.compile(r"'[^']*'|[0-9]+")
_MORE = {
    "docs_data/release.yaml": b"number: 3\ndate: 2026-03-02\ntitle: March\nwords: [Two codes more.]\n",
    "docs_data/slips/2026-03-01-a.yaml": (
        b"entry: sensors/air-a\nwrong: The plug\nbetter: It is X4\nby: AA\non: 2026-03-01\n"
    ),
    "content/roofs.md": (
        b"---\ntitle: Roofs\nsummary: How to get up\n---\n\n# Roofs\n\nSee [safety](safety.md), and\n\n"
        b"| what | how |\n|---|---|\n| ladder | tied |\n\n1. First\n2. Then `2.5 V`\n\n"
        b"<details><summary>More</summary>\n\n<kbd>x</kbd> &amp; <https://example.org/a>\n\n</details>\n"
    ),
}
"""Files that the good notes lack."""


def split(raw: bytes) -> tuple[str, bytes]:
    """Return the path that an input begins with, and what shall stand there."""
    head, _, content = raw.partition(b"\n")
    return head.decode("utf-8"), content


def joined(name: str, content: bytes) -> bytes:
    """Return an input: a line with the file's path, then what stands in it."""
    return name.encode("utf-8") + b"\n" + content


_LINE_END = re.compile("\r\n|[\n\r\x85\u2028\u2029]")
"""What ends a line in an entry (YAML 1.1, 4.2)."""


class NoteTarget:
    """One file of small notes at a time: an entry, a page, the team's own file, a slip."""

    name = "note"

    def __init__(self, folder: Path) -> None:
        self.inside = folder
        self.notes = Path(shutil.copytree(GOOD, folder / "notes"))
        for name, content in _MORE.items():
            (self.notes / name).parent.mkdir(exist_ok=True)
            (self.notes / name).write_bytes(content)
        self.checked = self._checked({})
        self.whole_builds = 0
        """Whole builds and packs that were made."""
        self.passed = 0
        self.every = 25
        """Of so many inputs that check passes one is built and packed whole."""
        self.spared_s = 0.0
        """What whole builds took: they are timed elsewhere."""

    def seeds(self) -> list[bytes]:
        """Return every file of the notes that is text."""
        files = [*self.notes.rglob("*.yaml"), *self.notes.rglob("*.md")]
        files = [file for file in files if WORK not in file.parts]
        return [
            joined(file.relative_to(self.notes).as_posix(), file.read_bytes())
            for file in sorted(files)
        ]

    def changed(self, raw: bytes, *, draw: random.Random, others: Sequence[bytes]) -> bytes:
        """Return another content for the same file."""
        name, content = split(raw)
        return joined(
            name, changed(content, draw=draw, others=[split(other)[1] for other in others])
        )

    def run(self, raw: bytes) -> Iterator[str]:
        """Put an input into the notes, check them, and build what passes."""
        name, content = split(raw)
        file = self.notes / name
        before = file.read_bytes() if file.is_file() else None
        file.write_bytes(content)
        try:
            yield from self._broken(name)
        finally:
            file.unlink() if before is None else file.write_bytes(before)

    def _checked(self, kept: dict) -> KeptNotes:
        checked = open_kept(self.notes)
        look_at_files(checked, kept={})
        hold_to_rules(checked, kept=kept)
        return checked

    def _broken(self, name: str) -> Iterator[str]:
        checked = self._checked(self.checked.found)
        problems = [*checked.problems, *warned_of_today(checked, today=DAY)]
        yield from misplaced(problems, folder=self.notes)
        if any(not problem.warning for problem in problems):
            return
        self.passed += 1
        checked.read_all()
        with speaking(checked.team.language):
            yield from self._made(checked, name)
        if self.passed % self.every == 0:
            began = time.process_time()
            yield from self._built(refused=bool(refused_by_pack(checked, today=DAY)))
            self.spared_s += time.process_time() - began

    def _made(self, checked: KeptNotes, name: str) -> Iterator[str]:
        """Make the pages that hang on the file, and dress its own."""
        context = SiteContext(Catalog(checked))
        plan = plan_site(checked)
        coming = coming_release(context, history=[], pages=plan.pages)
        kind, stem = Path(name).parts[1], Path(name).stem
        changed_curve = checked.of(Curve).get(stem) if kind == "curves" else None
        curves = curve_scripts(context) if changed_curve or kind in ("sensors", "families") else {}
        makers = page_makers(context, plan, charts={}, curves=curves, coming=coming)
        if name.startswith("content/"):
            yield from self._written(makers.written[f"{stem}.md"])
            return
        own = f"{kind}/{stem}.md"
        for path, make in makers.from_catalog.items():
            page = make(context) if path not in _NOT_OF_ENTRIES else None
            if page is not None and path == own:
                text = self._frame.dressed(page)
                yield from cannot_hold_policy(path, text)
                with_policy(text).encode("utf-8")
        for make in makers.from_more.values():
            make().markdown().encode("utf-8")

    def _written(self, markdown: str) -> Iterator[str]:
        """Render a hand-written page as the frame does, without the frame."""
        import markdown as markdown_library

        config = self._frame._config
        reader = markdown_library.Markdown(
            extensions=config.markdown_extensions, extension_configs=config.mdx_configs
        )
        _, refused = own_html(reader.convert(markdown.partition("\n---\n")[2]))
        yield from (f"check passed <{name}>, and a build refuses it" for name in refused)

    @cached_property
    def _frame(self) -> Frame:
        pages = self.inside / "frame"
        pages.mkdir()
        team = self.checked.team
        return Frame(
            pages,
            self.inside / "out",
            dressing=dress_folder(self.notes),
            team=team,
            words=page_words(),
        )

    def _built(self, *, refused: bool) -> Iterator[str]:
        """Build and pack whole; `refused` where check said that pack will refuse."""
        self.whole_builds += 1
        try:
            build(self.notes, out=self.inside / "site")
        except Exception as error:
            yield f"check passed it, build ends: {type(error).__name__}: {str(error)[:200]}"
            return
        try:
            pack(self.notes, to=self.inside / "packed", after=0)
        except NotToPublish as error:
            if not refused:
                yield f"check did not say what pack refuses: {str(error)[:200]}"
        except Exception as error:
            yield f"check passed it, pack ends: {type(error).__name__}: {str(error)[:200]}"
        finally:
            shutil.rmtree(self.notes / WORK / PUBLISHED, ignore_errors=True)
            shutil.rmtree(self.notes / WORK / "releases", ignore_errors=True)
            shutil.rmtree(self.inside / "packed", ignore_errors=True)


def misplaced(problems: Sequence[Problem], *, folder: Path) -> Iterator[str]:
    """Yield each problem that is not placed in a file of the notes, or lacks a hint."""
    for problem in problems:
        problem.picture().encode("utf-8")
        bare = replace(problem, text="").headline()[:160]
        file = folder / problem.file
        lines = 1
        if file.is_file():
            lines = len(_LINE_END.findall(file.read_bytes().decode("utf-8", "replace"))) + 2
        if not (1 <= problem.line <= lines and problem.column >= 1):
            yield f"placed outside its file: {bare}"
        if problem.text and problem.column > len(problem.text) + 1:
            yield f"placed behind its line: {bare}"
        if not problem.hint:
            yield f"no hint: {problem.rule}: {_FIGURES.sub('…', problem.message)[:70]}"
