"""A build with nothing to do says so at once, and only when not one byte would be another."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from generators.build import build
from generators.summary import summary_words
from generators.unchanged_site import unchanged_site
from kb import program_key
from kb.writer import only_writer

ROOT = Path(__file__).resolve().parents[2]
STARTER = ROOT / "kb/starter"


@pytest.fixture(scope="module")
def built(tmp_path_factory: pytest.TempPathFactory) -> Path:
    notes = Path(shutil.copytree(STARTER, tmp_path_factory.mktemp("built") / "notes"))
    build(notes, out=notes / "site")
    return notes


def test_a_site_that_would_be_the_same_is_known_with_all_that_a_build_says(built: Path) -> None:
    summary = unchanged_site(built, out=built / "site")
    again = build(built, out=built / "site")
    assert summary is not None
    assert summary_words(summary, out=built).replace(f"{summary.seconds:.1f} s", "") == (
        summary_words(again, out=built).replace(f"{again.seconds:.1f} s", "")
    )


def append(path: Path) -> None:
    path.write_bytes(path.read_bytes() + b"\n")


CHANGES: dict[str, Callable[[Path], object]] = {
    "an entry": lambda notes: append(sorted((notes / "docs_data/codes").rglob("*.yaml"))[0]),
    "an entry gone": lambda notes: sorted((notes / "docs_data/codes").rglob("*.yaml"))[0].unlink(),
    "a hand-written page": lambda notes: append(notes / "content/safety.md"),
    "a frame of its own": lambda notes: append(
        Path(shutil.copytree(ROOT / "site_config", notes / "site_config")) / "assets/look.js"
    ),
    "an earlier release": lambda notes: append(_made(notes / ".build/releases/x/record.json")),
    "a page": lambda notes: append(notes / "site/index.html"),
    "a page gone": lambda notes: (notes / "site/stop.html").unlink(),
    "a file too many": lambda notes: append(_made(notes / "site/more.txt")),
    "the list": lambda notes: append(notes / "site/release.json"),
    "the record": lambda notes: append(next((notes / ".build/kept").glob("site-*.json"))),
    "a folder that is a link": lambda notes: os.symlink(notes / "content", notes / "docs_data/x"),
}


def _made(path: Path) -> Path:
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_bytes(b"")
    return path


@pytest.mark.parametrize("change", CHANGES)
def test_whatever_changed_a_build_is_needed(
    change: str, built: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    aside = Path(shutil.copytree(built, tmp_path / "aside", symlinks=True))
    try:
        CHANGES[change](built)
        assert unchanged_site(built, out=built / "site") is None
    finally:
        shutil.rmtree(built)
        shutil.copytree(aside, built, symlinks=True)
    assert unchanged_site(built, out=built / "site") is not None


def test_another_program_has_to_build(built: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(program_key, "_program_key", lambda: "another")
    assert unchanged_site(built, out=built / "site") is None


def test_while_somebody_builds_nothing_is_known(built: Path) -> None:
    with only_writer(built / ".build"):
        assert unchanged_site(built, out=built / "site") is None


def test_the_answer_comes_without_what_a_build_needs(built: Path) -> None:
    code = (
        "import sys; sys.argv = ['ohmfolio', 'build', '--notes', sys.argv[1]]\n"
        "from generators import command\n"
        "assert command._run() == 0\n"
        "assert not {'click', 'numpy', 'pydantic', 'yaml', 'mkdocs'} & sys.modules.keys()"
    )
    done = subprocess.run(
        [sys.executable, "-c", code, str(built)], capture_output=True, text=True, check=False
    )
    assert (done.returncode, done.stderr) == (0, "")
    assert done.stdout.startswith("13 entries became 41 pages")
