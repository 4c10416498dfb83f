"""The keeper's guide: every command works as printed, in a clean shell, from an empty folder."""

from __future__ import annotations

import io
import re
import subprocess
import sys
from dataclasses import dataclass
from html import unescape
from pathlib import Path

import pytest
from PIL import Image

from generators.pages.guide import make_guide
from kb.guide import WIDEST, Block, guide
from kb.words.catalogue import words

from .running_program import ROOT

STEPS = {step.id: step for step in guide()}
OF_COMMANDS = [block for step in guide() for block in step.blocks if block.commands]
PROGRAM = """\
#!{python}
import sys
sys.path.insert(0, {root!r})
from generators.command import main
main()
"""
# Nobody is there to press Ctrl-C: the site that `serve` builds is, once it stands there whole.
STANDS_IN = """\
set -e
ohmfolio() {
    [ "$1" = serve ] || { command ohmfolio "$@"; return; }
    command ohmfolio serve --port 0 & serving=$!
    for _ in $(seq 600); do [ -f site/index.html ] || sleep 0.1; done
    kill $serving; wait $serving || true
}
"""
PLACE = {1: "N", 2: (47.0, 22.0, 1.0), 3: "E", 4: (8.0, 32.0, 1.0)}
GPS_TAG = 0x8825


@dataclass
class Shell:
    """A keeper's shell in a folder, with an environment that knows `ohmfolio` and nothing else."""

    top: Path
    folder: Path

    def run(self, commands: str) -> str:
        """Run lines as they are printed, and stay where they lead; return what was printed."""
        ended = self.top / "home" / "ended-in"
        shell = subprocess.run(
            ["/bin/bash", "--norc", "--noprofile", "-c", f"{STANDS_IN}{commands}\npwd > {ended}"],
            cwd=self.folder,
            env={"HOME": f"{self.top}/home", "PATH": f"{self.top}/bin:/usr/bin:/bin"},
            stdin=subprocess.DEVNULL,
            capture_output=True,
            text=True,
            timeout=240,
        )
        assert shell.returncode == 0, f"{commands}\n{shell.stdout}{shell.stderr}"
        self.folder = Path(ended.read_text(encoding="utf-8").strip())
        return shell.stdout


@pytest.fixture
def shell(tmp_path: Path) -> Shell:
    for name in ("bin", "home", "empty"):
        (tmp_path / name).mkdir()
    program = tmp_path / "bin" / "ohmfolio"
    program.write_text(PROGRAM.format(python=sys.executable, root=str(ROOT)), encoding="utf-8")
    program.chmod(0o755)
    return Shell(tmp_path, tmp_path / "empty")


def photo_with_its_place() -> bytes:
    exif = Image.Exif()
    exif[GPS_TAG] = PLACE
    file = io.BytesIO()
    Image.new("RGB", (1200, 1600), (90, 110, 120)).save(file, "JPEG", exif=exif)
    return file.getvalue()


def lay_out(block: Block, *, folder: Path) -> None:
    """Write the file of a block as it is printed; the only other is the keeper's photo."""
    text = f"{block.text}\n".encode() if block.text else photo_with_its_place()
    assert block.text or block.file.endswith(".jpg"), block.file
    (folder / block.file).write_bytes(text)


def follow(shell: Shell) -> dict[str, str]:
    """Follow the whole guide; return what each block of commands printed, by step and block."""
    top, printed = shell.folder, {}
    for step in guide():
        for block in step.blocks:
            if block.file:
                lay_out(block, folder=top)
                continue
            before = [name for name in block.there if (top / name).exists()]
            assert before == [], f"{step.id}.{block.id}: there already"
            printed[f"{step.id}.{block.id}"] = shell.run(block.commands)
            missing = [name for name in block.there if not (top / name).is_file()]
            assert missing == [], f"{step.id}.{block.id}: promised, and not there"
    return printed


@pytest.mark.builds
def test_every_command_does_as_printed_what_the_words_promise(shell: Shell) -> None:
    top = shell.folder
    printed = follow(shell)
    for name, text in printed.items():
        if "check" in name or "No problem" in text or "problem in" in text:
            assert "No problem" in text, (name, text)
    sent = (top / "notes/pocket/roof-unit.html").read_text(encoding="utf-8")
    for fact in ("E1", "On the suction pipe, before the compressor.", "NTC-10k", "97.1"):
        assert fact in sent, fact
    assert "T3" in printed["from-a-phone.take"] and "drip edge" in printed["from-a-phone.take"]
    assert "drip edge" not in shell.run("ohmfolio due --all")
    own = top / "notes/docs_data/drawings/roof-unit/roof-unit-front.jpg"
    shown = top / "notes/site/drawings/roof-unit-front.jpg"
    assert (b"Exif" in own.read_bytes(), b"Exif" in shown.read_bytes()) == (True, False)
    assert "Release 1 " in printed["host.pack"] and "whole" in printed["host.pack"]
    assert "Release 2 " in printed["host.next"] and "whole" in printed["host.next"]
    two_keepers_meet(shell, top=top)


def two_keepers_meet(shell: Shell, *, top: Path) -> None:
    """Change two lines of one entry in two places, then one line in both."""
    daily = next(block.commands for block in OF_COMMANDS if block.id == "daily")
    ours, theirs = (
        top / name / "docs_data/families/roof-unit.yaml" for name in ("notes", "notes-of-cd")
    )
    for file, old, new in (
        (theirs, "Cools a hall.", "Cools a shop."),
        (ours, "drain_min: 10", "drain_min: 12"),
    ):
        file.write_text(file.read_text(encoding="utf-8").replace(old, new), encoding="utf-8")
        shell.folder = file.parents[2]
        shell.run(daily)
    merged = ours.read_text(encoding="utf-8")
    assert "Cools a shop." in merged and "drain_min: 12" in merged
    shell.folder = theirs.parents[2]
    shell.run("git pull -q")
    for file, minutes in ((theirs, "15"), (ours, "20")):
        text = file.read_text(encoding="utf-8").replace("drain_min: 12", f"drain_min: {minutes}")
        file.write_text(text, encoding="utf-8")
        shell.folder = file.parents[2]
        kept = shell.run(daily if file == theirs else f"({daily}) || ohmfolio check || true")
    assert "<<<<<<<" in ours.read_text(encoding="utf-8")
    assert "roof-unit.yaml" in kept and "conflict" in kept.casefold(), kept


def test_the_first_code_takes_eight_commands_and_fifteen_lines_and_a_family_six() -> None:
    lines = [line for block in STEPS["first-code"].blocks for line in block.commands.splitlines()]
    begun = [line for line in lines if not line.startswith("  ")]
    assert len(begun) <= 8 and len(lines) <= 15, lines
    of_family = [line for block in STEPS["family"].blocks for line in block.commands.splitlines()]
    assert len([line for line in of_family if not line.startswith("  ")]) <= 6


def test_each_block_stands_once_on_the_page_and_fits_a_terminal() -> None:
    shown = re.findall(r"<pre[^>]*><code>(.*?)</code></pre>", make_guide().body, re.DOTALL)
    blocks = [block for step in guide() for block in step.blocks if block.commands or block.text]
    assert [unescape(text) for text in shown] == [block.commands or block.text for block in blocks]
    for block in OF_COMMANDS:
        assert [line for line in block.commands.splitlines() if len(line) > WIDEST] == []


def test_words_and_steps_belong_together() -> None:
    spoken = {
        (name, form) for name, forms in words()["guide"].items() for form in forms if name != "page"
    }
    of_steps = {(step.id, block.id) for step in guide() for block in step.blocks}
    of_steps |= {(step.id, form) for step in guide() for form in ("heading", "lead")}
    assert spoken == of_steps
