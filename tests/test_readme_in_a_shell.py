"""What the README prints works as printed, one command after the other, in a clean shell."""

from __future__ import annotations

import re
import shutil
import subprocess
import sys
import sysconfig
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[1]
README = (ROOT / "README.md").read_text(encoding="utf-8").partition("## Put it on a host")[0]
NEEDED = ("kb", "generators", "site_config", "docs_data", "content")
# What the network would bring is lent from the environment that the tests run in; the installer
# leaves the program where it always does, beside the interpreter of the environment it was asked in.
STANDS_IN = """
pip() {{
    [ "$*" = "install -e ." ] || return 1
    site=$(echo .venv/lib/python*/site-packages)
    printf '%s\\n' "$PWD" '{packages}' > "$site/lent.pth"
    printf '#!%s/.venv/bin/python\\nfrom generators.command import main\\nmain()\\n' "$PWD" > .venv/bin/ohmfolio
    chmod +x .venv/bin/ohmfolio
}}
ohmfolio() {{
    case $1 in
    serve) timeout -s INT 15 "$(type -P ohmfolio)" serve --port 0 ;;
    *) command ohmfolio "$@" ;;
    esac
}}
"""
MAY_FAIL = re.compile(r"ohmfolio (?:judge|check|serve|add|bring)\b")
"""Said to end with another code than 0: what they find is the example, or they ask and nobody is
there to answer (`test_first_steps.py` answers them, in a terminal)."""


def commands() -> list[str]:
    """Return every line that the README has somebody type, in order, without its comment."""
    found = []
    for kind, block in re.findall(r"```(sh|console)\n(.*?)```", README, re.DOTALL):
        lines = block.splitlines()
        shown = (
            [line[2:] for line in lines if line.startswith("$ ")] if kind == "console" else lines
        )
        found += [line.partition("  #")[0].strip() for line in shown]
    return [line for line in found if line and not line.startswith("tests/run")]


def test_there_is_something_to_type() -> None:
    assert commands()[0].startswith("python3 -m venv")
    assert {line.split()[1] for line in commands() if line.startswith("ohmfolio")} >= {
        *("expect", "judge", "check", "start", "serve", "build")
    }


@pytest.mark.builds
def test_every_command_is_found_and_ends_as_it_should(tmp_path: Path) -> None:
    for name in NEEDED:
        shutil.copytree(ROOT / name, tmp_path / name, ignore=shutil.ignore_patterns("__pycache__"))
    script = [STANDS_IN.format(packages=sysconfig.get_path("purelib")), "set -e"]
    for line in commands():
        or_code = " || [ $? -lt 126 ]" if MAY_FAIL.match(line) else ""
        script.append(f"echo '$ {line}'\n{line}{or_code}")
    shell = subprocess.run(
        ["/bin/bash", "--norc", "--noprofile", "-c", "\n".join(script)],
        cwd=tmp_path,
        env={"HOME": str(tmp_path), "PATH": f"{sys.base_prefix}/bin:/usr/bin:/bin"},
        capture_output=True,
        text=True,
        timeout=240,
    )
    printed = shell.stdout + shell.stderr
    assert shell.returncode == 0, printed[-3000:]
    assert "not found" not in printed
    assert (tmp_path / "site/index.html").is_file()
    assert (tmp_path / "my-notes/site/index.html").is_file()
