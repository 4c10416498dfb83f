"""Try what is handed out: wheel and source archive in empty environments, on each Python there is.

    python -m tests.bench.bench_supply [--audit]

Needs the registry that pip is set up for, and the libraries of `.ci/build.txt` in this environment.
`--audit` asks pip-audit, where it is installed and reaches its list of faults, about `.ci/tests.txt`.
Prints a line for each try, and a table of licences.
"""

from __future__ import annotations

import argparse
import os
import shutil
import subprocess
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

from tests.test_supply import FREE, PROJECT, licence, needed

TOP = Path(__file__).resolve().parents[2]
COMMANDS = (
    "start notes --bare",
    "check --notes notes",
    "expect example-10k --at 7 --notes notes",
    "judge example-suction --at 7 --reading 22k --notes notes",
    "build --notes notes",
    "pack --notes notes --after 0 --to release",
    "verify release",
    "pocket --notes notes",
)
VERSIONS = ("3.11", "3.12", "3.13", "3.14")


def pythons() -> Iterator[tuple[str, str]]:
    """Yield (version, file) of each Python of ours that starts here; "" for one that does not."""
    homes = sorted(
        Path(os.environ.get("PYENV_ROOT", Path.home() / ".pyenv")).glob("versions/*/bin")
    )
    for version in VERSIONS:
        places = [*(str(home) for home in homes), *os.environ.get("PATH", "").split(os.pathsep)]
        found = [Path(place) / f"python{version}" for place in places]
        works = (file for file in found if file.is_file() and _version(file) == version)
        yield version, str(next(works, ""))


def _version(file: Path) -> str:
    asked = subprocess.run(
        [file, "-c", "import sys; print('%d.%d' % sys.version_info[:2])"],
        capture_output=True,
        text=True,
        check=False,
    )
    return asked.stdout.strip()


def archives(to: Path) -> list[Path]:
    """Return a wheel and a source archive, made of what git knows of this checkout."""
    source = to / "source"
    source.mkdir()
    packed = subprocess.run(["git", "archive", "HEAD"], cwd=TOP, capture_output=True, check=True)
    subprocess.run(["tar", "-x", "-C", source], input=packed.stdout, check=True)
    subprocess.run(
        [sys.executable, "-m", "hatchling", "build", "-d", to / "dist"],
        cwd=source,
        check=True,
        capture_output=True,
    )
    return sorted((to / "dist").iterdir())


def tried(archive: Path, *, python: str, folder: Path) -> str:
    """Install an archive alone into an empty environment, and run the main commands; say how it was."""
    shutil.rmtree(folder, ignore_errors=True)
    folder.mkdir()
    subprocess.run([python, "-m", "venv", folder / "env"], check=True)
    began = time.monotonic()
    installed = subprocess.run(
        [folder / "env/bin/pip", "install", "--quiet", archive],
        capture_output=True,
        text=True,
        check=False,
    )
    if installed.returncode:
        return f"not installed: {installed.stderr.strip().splitlines()[-1]}"
    for words in COMMANDS:
        ran = subprocess.run(
            [
                folder / "env/bin/python",
                "-W",
                "error::SyntaxWarning",
                folder / "env/bin/ohmfolio",
                *words.split(),
            ],
            cwd=folder,
            capture_output=True,
            text=True,
            check=False,
            env={"PATH": "/usr/bin:/bin", "HOME": str(folder), "LANG": "C.UTF-8"},
        )
        if ran.returncode:
            return f"{words}: {ran.returncode} {(ran.stderr or ran.stdout).strip()[-300:]}"
    return f"{len(COMMANDS)} commands, {time.monotonic() - began:.0f} s"


def audited() -> str:
    """Ask pip-audit about what CI installs; say plainly where that cannot be."""
    if shutil.which("pip-audit") is None:
        return "pip-audit is not installed: pip install pip-audit"
    asked = subprocess.run(
        ["pip-audit", "--disable-pip", "--require-hashes", "-r", TOP / ".ci/tests.txt"],
        capture_output=True,
        text=True,
        check=False,
    )
    words = (asked.stdout + asked.stderr).strip().splitlines()
    unasked = sum("could not be audited" in line for line in words)
    if unasked:
        return (
            f"the list of faults is not reached from here: {unasked} libraries were not asked about"
        )
    return f"ended with {asked.returncode}: {' | '.join(words[-12:])}"


def main() -> None:
    """Print what was tried."""
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("--audit", action="store_true")
    options = asked.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        for archive in archives(Path(folder)):
            print(f"{archive.name}: {archive.stat().st_size / 1e3:.0f} kB", flush=True)
            for version, python in pythons():
                outcome = "not to be had here"
                if python:
                    outcome = tried(archive, python=python, folder=Path(folder) / "try")
                print(f"    Python {version}: {outcome}", flush=True)
    users = {each.name: licence(each) for each in needed(PROJECT["dependencies"])}
    counted = Counter(" + ".join(sorted(each)) for each in users.values())
    print(
        f"{len(users)} libraries of users: {dict(counted)}; not free: "
        f"{[name for name, each in users.items() if each - FREE]}"
    )
    if options.audit:
        print(audited())


if __name__ == "__main__":
    main()
