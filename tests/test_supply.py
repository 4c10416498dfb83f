"""What others made: locked by checksum for these tests, licensed as allowed, and never phoned home."""

from __future__ import annotations

import re
import subprocess
import sys
import tomllib
from collections.abc import Iterator
from importlib.metadata import Distribution, PackageNotFoundError, distribution
from pathlib import Path

import pytest
from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

from tests.running_program import program_environment

TOP = Path(__file__).resolve().parents[1]
PROJECT = tomllib.loads((TOP / "pyproject.toml").read_text(encoding="utf-8"))["project"]
LOCKS = (TOP / ".ci/build.txt", TOP / ".ci/tests.txt")
TESTS = PROJECT["optional-dependencies"]["test"]

FREE = {
    "MIT",
    "MIT-0",
    "MIT-CMU",
    "BSD",
    "Apache-2.0",
    "PSF-2.0",
    "0BSD",
    "Zlib",
    "CC0-1.0",
    "MPL-2.0",
}
"""A contractor may hand these on with anything; MPL-2.0 asks only for its own files' source."""
ONLY_TESTS = {"LGPL-3.0"}
"""A test may ask them, and no user gets them."""
_SPELLINGS = {
    "MIT": r"MIT( License)?",
    "BSD": r"(Revised )?BSD([ -][23]-Clause)?( License)?|BSD-3-Clause, Apache-2\.0, dependency licenses",
    "Apache-2.0": r"Apache(-| Software License| )?(2\.0)?",
    "MPL-2.0": r"MPL-2\.0|Mozilla Public License 2\.0 \(MPL 2\.0\)",
    "PSF-2.0": r"Python Software Foundation License",
    "LGPL-3.0": r"GNU Lesser General Public License v3 \(LGPLv3\)",
}
_SAYS_NOTHING = {"axe-playwright-python": "MIT"}
"""Without a word in its metadata; its LICENSE file says this."""
GONE_SINCE_3_11 = (
    "aifc|asynchat|asyncore|audioop|cgi|cgitb|chunk|crypt|distutils|imghdr|imp|lib2to3|mailcap|msilib"
    "|nis|nntplib|ossaudiodev|pipes|smtpd|sndhdr|spwd|sunau|telnetlib|uu|xdrlib"
)
"""Modules of 3.11 that 3.12 (PEP 632, PEP 594) and 3.13 (PEP 594) have no more; 3.14 took out none."""


def locked(lock: Path) -> dict[str, list[tuple[Requirement, int]]]:
    """Return by name what a lock lets in, with how many checksums it names."""
    found: dict[str, list[tuple[Requirement, int]]] = {}
    for block in re.split(r"\n(?! )", lock.read_text(encoding="utf-8").strip()):
        wanted, *sums = block.replace("\\\n", "").split("--hash=sha256:")
        requirement = Requirement(wanted.strip())
        assert all(re.fullmatch(r"[0-9a-f]{64}\s*", each) for each in sums), requirement
        found.setdefault(canonicalize_name(requirement.name), []).append((requirement, len(sums)))
    return found


def test_what_ci_installs_is_locked_by_checksum_within_the_ranges_that_users_get() -> None:
    build, tests = map(locked, LOCKS)
    every = [each for lock in (build, tests) for files in lock.values() for each in files]
    for requirement, sums in every:
        assert [each.operator for each in requirement.specifier] == ["=="], requirement
        assert sums, requirement
    for wanted in map(Requirement, [*PROJECT["dependencies"], *TESTS]):
        for requirement, _ in tests[canonicalize_name(wanted.name)]:
            version = next(iter(requirement.specifier)).version
            assert wanted.specifier.contains(version), f"{wanted}: .ci/lock writes it anew"
            assert {each.operator for each in wanted.specifier} >= {">=", "<"}, wanted


def test_a_lock_names_no_host_and_no_place_on_a_machine() -> None:
    for lock in LOCKS:
        lines = lock.read_text(encoding="utf-8").splitlines()
        assert [line for line in lines if re.search(r"://|^-|^\s*[^\s-]*[/@]", line)] == []


def licence(of: Distribution) -> set[str]:
    """Return the licences that a library says it has, by our short names; `?…` for an unknown."""
    meta = of.metadata
    said = meta.get("License-Expression") or ""
    words = re.split(r" AND | OR ", said) if said else []
    if not words:
        classifiers = [
            each.split(" :: ")[-1]
            for each in meta.get_all("Classifier") or []
            if each.startswith("License ::")
        ]
        words = [each for each in classifiers if each != "OSI Approved"] or [
            (meta.get("License") or "").partition("\n")[0]
        ]
    names = {name for word in words for name in [*_SPELLINGS, *FREE] if _is(word, name=name)}
    unknown = {
        f"?{word}" for word in words if not any(_is(word, name=n) for n in [*_SPELLINGS, *FREE])
    }
    return names | (unknown if unknown != {"?"} else {_SAYS_NOTHING.get(of.name, "?")})


def _is(word: str, *, name: str) -> bool:
    return word == name or bool(re.fullmatch(_SPELLINGS.get(name, re.escape(name)), word))


def needed(names: list[str]) -> Iterator[Distribution]:
    """Yield the installed libraries that some requirements lead to, each once."""
    left, seen = [Requirement(each) for each in names], set()
    while left:
        wanted = left.pop()
        applies = wanted.marker is None or wanted.marker.evaluate({"extra": ""})
        if not applies or canonicalize_name(wanted.name) in seen:
            continue
        seen.add(canonicalize_name(wanted.name))
        try:
            found = distribution(wanted.name)
        except PackageNotFoundError:
            raise AssertionError(f"{wanted} is not installed") from None
        yield found
        left += map(Requirement, found.requires or ())


def test_the_licence_of_every_library_is_known_and_allowed() -> None:
    assert PROJECT["license"] == "MIT"
    extras = PROJECT["optional-dependencies"]
    users = [
        *PROJECT["dependencies"],
        *(each for name in extras if name != "test" for each in extras[name]),
    ]
    unfit = {each.name: licence(each) - FREE for each in needed(users) if licence(each) - FREE}
    assert unfit == {}
    allowed = FREE | ONLY_TESTS
    unfit = {
        each.name: licence(each) - allowed for each in needed(TESTS) if licence(each) - allowed
    }
    assert unfit == {}


def test_an_unknown_licence_is_not_taken_for_a_known_one() -> None:
    for word in (
        "GPL-3.0-or-later",
        "Proprietary",
        "MIT-like",
        "Apache 1.1",
        "BSD-4-Clause",
        "AGPL-3.0",
    ):
        assert [name for name in [*_SPELLINGS, *FREE] if _is(word, name=name)] == []


def test_no_module_is_imported_that_a_later_python_has_no_more() -> None:
    gone = re.compile(rf"^\s*(?:import|from)\s+(?:{GONE_SINCE_3_11})\b", re.MULTILINE)
    assert gone.search("import os\n    from cgi import escape\n")
    modules = [path for room in ("kb", "generators") for path in (TOP / room).rglob("*.py")]
    assert [path for path in modules if gone.search(path.read_text(encoding="utf-8"))] == []


CUT = """
import sys
asked = []
def heard(event, args):
    if event in ("socket.connect", "socket.getaddrinfo", "socket.gethostbyname", "socket.sendto"):
        asked.append((event, str(args[1:])))
        raise OSError("the network is cut")
sys.addaudithook(heard)
from click.testing import CliRunner
from generators.command import main
from generators import all_commands
from kb.commands.main import ohmfolio
for words in sys.stdin.read().splitlines():
    ended = CliRunner().invoke(ohmfolio, words.split(), prog_name="ohmfolio")
    assert ended.exit_code == 0, (words, ended.output, ended.exception)
assert asked == [], asked
"""
COMMANDS = """start notes --bare
check --notes notes
expect example-10k --at 7 --notes notes
judge example-suction --at 7 --reading 22k --notes notes
code example-unit E1 --notes notes
due --notes notes
fields sensor
sheet sensors sheet.csv --notes notes
schema --notes notes
pack --after 0 --to release --notes notes
verify release
changes release release --notes notes
pocket --notes notes"""


@pytest.mark.builds
def test_the_main_commands_ask_nobody_with_the_network_cut(tmp_path: Path) -> None:
    """By the kernel where this process may (a namespace without a network), by Python everywhere."""
    alone = ["unshare", "--net"]
    allowed = subprocess.run([*alone, "true"], capture_output=True, check=False).returncode == 0
    ran = subprocess.run(
        [*(alone if allowed else []), sys.executable, "-c", CUT],
        input=COMMANDS,
        cwd=tmp_path,
        text=True,
        capture_output=True,
        env=program_environment(),
        check=False,
    )
    assert ran.returncode == 0, ran.stderr
    assert (tmp_path / "release/newest.json").is_file()
