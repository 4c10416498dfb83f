"""The schemas that editors get and `check` agree on every good and every bad entry.

What `check` says of a bad entry is its `expected.txt`, which another test holds to the letter. So a
new bad entry is judged here without a line: only a fault of a single field's form that no schema
can see is named below, with why.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from pathlib import Path

import jsonschema
import pytest
import yaml

from kb.editor import schema_name
from kb.examples import STARTER
from kb.notes.folder import DATA, carried
from kb.schema import ids_in, schema_of
from tests.kb.commands.test_schema import as_an_editor_reads

ENTRIES = Path(__file__).resolve().parents[1] / "data" / "entries"
GOOD, BAD = ENTRIES / "good", sorted((ENTRIES / "bad").iterdir())
OF_FORM = {
    *("value", "wrong-shape", "missing-key", "unknown-key", "unknown-word", "unknown-id"),
    *("too-few", "too-many", "out-of-bounds", "empty", "empty-file", "not-an-entry", "yaml"),
    *("tag", "second-document", "control-character", "encoding", "no-text", "conflict", "too-deep"),
}
"""Rules that are broken inside one file, before any other entry is looked at."""
_ONLY_CHECK = {
    "fields, rows or pieces that contradict each other": """
        at-c-of-nothing b-percent-alone below-0-of-another-place blinks-without-a-blink
        cause-of-two columns-and-tolerance fitted-rows-that-turn-back
        kelvin-below-0-alone kelvin-per-c-alone lesson-hands-without-cautions lesson-of-nothing
        lesson-step-of-two-sorts meter-ranges-falling
        meter-without-ranges mixed-columns no-wait-and-no-why out-of-bounds
        outside-its-columns percent-per-c-alone percent-that-grows-two-ways
        photo-and-shapes piece-in-kelvin-and-percent piece-reversed
        piece-that-says-nothing pieces-out-of-order pieces-that-overlap
        pieces-with-a-gap range-past-its-fitted-rows range-past-the-table range-reversed
        sensor-meets-nothing-said sensor-meets-reversed sensor-without-a-verdict
        shown-two-ways-in-one source-without-origin source-without-publisher
        suspect-naming-nothing table-fitted-to-rows table-not-monotone table-row-of-two
        table-unsorted tolerance-two-forms two-shapes-in-one volts-of-a-dead-machine
        windings-against-their-own-balance windings-further-apart-than-a-network
        windings-of-an-uneven-star windings-of-no-delta windings-of-no-star
        windings-of-one-phase-all-alike windings-of-one-phase-on-four-leads
        windings-that-add-up-to-less
    """,
    "how a figure is written, which to an editor is a text or a number": """
        bad-temperature insulation-without-its-letter milli-or-mega nan
        points-for-thousands reading-not-readable resistance-with-a-point-for-thousands
        too-large-a-number
    """,
    "a figure, or a pair of leads, that stands as a key": """
        fitted-row-unreadable table-key-unreadable windings-one-lead
    """,
}
ONLY_CHECK = {why: names.split() for why, names in _ONLY_CHECK.items()}
"""Bad entries whose fault of form no schema sees, by what the fault is about."""
SAID = re.compile(r"^(\S.*?):\d+:\d+: (warning: )?([a-z-]+): ", re.MULTILINE)


def refusal(path: Path, *, file: str, ids: Mapping[str, Sequence[str]]) -> str:
    """Return what an editor with its schema has against a file; empty when nothing."""
    name = schema_name(file)
    assert name is not None
    try:
        value = as_an_editor_reads(path)
    except (yaml.YAMLError, UnicodeDecodeError) as error:
        return f"no YAML: {error}"
    judge = jsonschema.Draft7Validator(
        schema_of(name, ids=ids), format_checker=jsonschema.FormatChecker()
    )
    return next((error.message for error in judge.iter_errors(value)), "")


def files_of(notes: Path) -> dict[str, Path]:
    """Return the files of a folder that a schema is for, by their path from it."""
    found = {
        path.relative_to(notes).as_posix(): path for path in sorted((notes / DATA).rglob("*.y*ml"))
    }
    return {file: path for file, path in found.items() if schema_name(file)}


def faults_of(bad: Path) -> dict[str, set[str]]:
    """Return the rules that `check` finds broken, without warnings, by file."""
    faults: dict[str, set[str]] = {}
    for file, warning, rule in SAID.findall((bad / "expected.txt").read_text(encoding="utf-8")):
        if not warning:
            faults.setdefault(file, set()).add(rule)
    return faults


def refused_files(bad: Path) -> dict[str, str]:
    """Return the files of a bad entry that an editor marks, each with what it says."""
    mine, good = ids_in(bad), ids_in(GOOD)
    ids = {kind: sorted({*mine[kind], *good[kind]}) for kind in good}
    found = {file: refusal(path, file=file, ids=ids) for file, path in files_of(bad).items()}
    return {file: why for file, why in found.items() if why}


@pytest.mark.parametrize(
    "notes",
    [GOOD, STARTER, pytest.param(carried(DATA).parent, marks=pytest.mark.slow)],
    ids=["good", "starter", "demo"],
)
def test_an_editor_marks_nothing_in_a_good_entry(notes):
    ids = ids_in(notes)
    files = files_of(notes)
    assert len(files) > 10
    said = {file: refusal(path, file=file, ids=ids) for file, path in files.items()}
    assert {file: why for file, why in said.items() if why} == {}


@pytest.mark.parametrize("bad", BAD, ids=lambda bad: bad.name)
def test_an_editor_marks_what_check_refuses_and_no_more(bad):
    marked, faults = refused_files(bad), faults_of(bad)
    assert marked.keys() <= faults.keys(), marked
    of_form = {file for file, rules in faults.items() if rules & OF_FORM}
    passed = (of_form & files_of(bad).keys()) - marked.keys()
    # Both ways, so that no name stays in the list that a schema has learned since.
    assert bool(passed) == any(bad.name in names for names in ONLY_CHECK.values()), marked


def test_what_only_check_can_know_is_named_once_and_there():
    listed = [name for names in ONLY_CHECK.values() for name in names]
    assert len(listed) == len(set(listed))
    assert set(listed) <= {bad.name for bad in BAD}
