"""The scripts keep to their types and to the language of older phones; Debian's tsc says so."""

from __future__ import annotations

import re
import shutil
import subprocess
from pathlib import Path

import pytest

from tests.site.node_answers import ASSETS, ROOT, copy_scripts

TSC = "/usr/bin/tsc"
SETTINGS = ("tsconfig.json", "globals.d.ts")
SCRIPTS = sorted(path.relative_to(ASSETS).as_posix() for path in ASSETS.rglob("*.js"))


def faults_of(folder: Path) -> list[str]:
    """Return what the checker says of the scripts in this folder, line for line."""
    ran = subprocess.run(
        [TSC, "--project", "tests/site", "--pretty", "false"],
        cwd=folder,
        capture_output=True,
        encoding="utf-8",
    )
    faults = ran.stdout.splitlines()
    assert (ran.returncode == 0) == (faults == []), ran.stderr
    return faults


def with_settings(folder: Path) -> Path:
    """Put the checker's settings beside a copy of the scripts."""
    for setting in SETTINGS:
        shutil.copy(ROOT / "tests" / "site" / setting, folder / "tests" / "site" / setting)
    return folder


def test_every_script_keeps_to_its_types(tmp_path):
    # In a copy: the catalogue that they import is written by the build.
    assert faults_of(with_settings(copy_scripts(tmp_path))) == []


MISNAMED = {
    "answers/reading.js": (
        "measured: judged.at ?",
        "measured: judged.when ?",
        "'when' does not exist",
    ),
    "copy/status.js": ("state.hostOlder", "state.older", "'older' does not exist"),
    "find/matching.js": ("hit.score < SLIP", "hit.points < SLIP", "'points' does not exist"),
    "numbers/verdict.js": ("grid.lowOhm / 10", "grid.ohmLow / 10", "'ohmLow' does not exist"),
    "page/reading-answer.js": (
        "found.headline, voice",
        "found.heading, voice",
        "'heading' does not exist",
    ),
    "page/team.js": ("OhmTeam.short_ohm", "OhmTeam.shortOhm", "'shortOhm' does not exist"),
}
"""File, what stands in it, what a slip of the pen would make of it, and what the checker says."""


def test_a_misnamed_field_is_found_in_every_room(tmp_path):
    broken = {}
    for name, (right, wrong, _) in MISNAMED.items():
        text = (ASSETS / name).read_text(encoding="utf-8")
        assert text.count(right) == 1
        broken[name] = text.replace(right, wrong)
    folder = with_settings(copy_scripts(tmp_path, broken=broken))
    faults = [fault for fault in faults_of(folder) if not fault.startswith(" ")]
    for fault, (name, (_, _, complaint)) in zip(sorted(faults), MISNAMED.items(), strict=True):
        assert fault.startswith(f"site_config/assets/{name}(")
        assert complaint in fault


@pytest.mark.parametrize("name", SCRIPTS)
def test_a_script_is_written_for_older_phones(name):
    text = (ASSETS / name).read_text(encoding="utf-8")
    # Nothing of the language after 2018; what browsers offer, the checker's list says.
    later = r"\?\?|\?\.[a-z\[(]|\bstatic\b|\.flat\(|\.flatMap\(|#\w+ ?=|\bcatch \{"
    assert re.findall(later, text) == []
    assert re.findall(r"^\s*var |\bfunction \(|[^.]\balert\(|export default", text, re.M) == []


@pytest.mark.parametrize("name", SCRIPTS)
def test_a_script_makes_elements_by_the_one_builder(name):
    text = (ASSETS / name).read_text(encoding="utf-8")
    assert text.count(".createElement(") == (1 if name == "page/element.js" else 0)
    assert text.count("clipboard.writeText(") == (1 if name == "page/hand-out.js" else 0)


@pytest.mark.parametrize("name", SCRIPTS)
def test_no_template_literal_goes_over_lines(name):
    # The linker takes whole lines of comment out, and the pocket copy the ends of lines.
    for line in (ASSETS / name).read_text(encoding="utf-8").splitlines():
        if not line.strip().startswith(("//", "*", "/**")):
            assert line.count("`") % 2 == 0, line


@pytest.mark.parametrize("name", SCRIPTS)
def test_a_script_says_first_what_it_is_for_and_stays_readable(name):
    lines = (ASSETS / name).read_text(encoding="utf-8").splitlines()
    assert re.match(r"// \S.{20,}", lines[0])
    assert len(lines) <= 400
    assert [number for number, line in enumerate(lines, 1) if len(line) > 110] == []


@pytest.mark.parametrize("name", SCRIPTS)
def test_a_script_calls_nothing_by_a_word_of_a_story(name):
    assert story_words((ASSETS / name).read_text(encoding="utf-8")) == []


def story_words(text: str) -> list[str]:
    """Return each line that calls something by a word that hides what it holds."""
    words = r"\b(?:one|told|said)\b"
    in_types = rf"@param \{{[^@]*\}} \[?{words}|[{{,*] *{words}\??: "
    found = []
    for line in text.splitlines():
        code = re.sub(
            r"`[^`]*`", lambda literal: " ".join(re.findall(r"\$\{.*?\}", literal[0])), line
        )
        code = re.sub(r'"[^"]*"|/\*.*?\*/|//.*', "", code)
        comment = line.lstrip().startswith(("/*", "*", "//"))
        if re.search(in_types if comment else words, line if comment else code):
            found.append(line)
    return found


@pytest.mark.parametrize(
    "line",
    [
        "const told = 1;",
        "rows.map((one) => one.id);",
        "const { id: said } = row;",
        'el("p", `${said.id} of`);',
        " * @param {Grid} told the first",
        " * @typedef {{id: string, said: string}} Row",
    ],
)
def test_the_scan_sees_such_a_word_wherever_it_stands(line):
    assert story_words(line) == [line]


@pytest.mark.parametrize(
    "line",
    [
        'statement("which.one-more");',
        "throw new RangeError(`'${series}' is not one of ${names}`);",
        "try { read(); } catch (unreadable) { /* said by look */ }",
        " * What was said, one for each.",
        "// Before the failure is told: none may write.",
        "/** @param {string} text @returns {string} one kind of minus */",
    ],
)
def test_the_scan_lets_words_that_are_only_read_pass(line):
    assert story_words(line) == []


def test_what_is_pure_imports_nothing_of_the_page():
    # The catalogue holds words and constants, and nothing of the page.
    allowed = {
        "numbers": {"numbers", "catalog.js"},
        "answers": {"answers", "numbers", "catalog.js", "spellings.js"},
        "find": {"find", "answers", "catalog.js"},
        "job": {"job", "look.js"},
        "learn": {"learn", "answers", "numbers", "words", "page", "look.js", "catalog.js"},
    }
    for name in SCRIPTS:
        room = name.partition("/")[0]
        text = (ASSETS / name).read_text(encoding="utf-8")
        ways = re.findall(r'^(?:import |\} ).*from "(\./|\.\./)([^"]+)";', text, re.M)
        rooms = {room if up == "./" else way.partition("/")[0] for up, way in ways}
        assert rooms <= allowed.get(
            room, {*allowed, "words", "page", "copy", "look.js", "catalog.js"}
        ), name
