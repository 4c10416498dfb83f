"""Good entries pass, and each bad one gets exactly its words.

A new case needs no Python: a folder under `tests/data/entries/bad/` with files that are laid over
the good notes, and `expected.txt` with the whole output of `ohmfolio check`.
"""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest

from kb.check import RULES, outline
from kb.check.rule import OfAlike, OfEach, OfFile, OfNotes, OfOutlines, Rule, alike
from kb.model import CURVE_LAWS, KINDS, Curve
from kb.notes.load import Notes, load_notes
from kb.notes.problem import Problem

ENTRIES = Path(__file__).resolve().parents[2] / "data" / "entries"
BAD = sorted((ENTRIES / "bad").iterdir())


def laid_over(good: Path, bad: Path, tmp_path: Path) -> Path:
    notes = tmp_path / "notes"
    shutil.copytree(good, notes)
    shutil.copytree(bad, notes, dirs_exist_ok=True)
    (notes / "expected.txt").unlink()
    return notes


def test_good_notes_have_no_problem_and_no_warning(run, good):
    result = run("check", "--notes", good)
    assert result.output == "No problem in 50 entries.\n"
    assert result.exit_code == 0


def test_good_notes_hold_every_kind_and_every_law(good):
    notes = load_notes(good)
    assert {kind for kind in KINDS if notes.of_kind(kind)} == set(KINDS)
    assert {curve.law for curve in notes.of(Curve).values()} == set(CURVE_LAWS)


@pytest.mark.parametrize("bad", BAD, ids=lambda bad: bad.name)
def test_a_bad_entry_gets_exactly_its_words(run, good, tmp_path, bad):
    expected = (bad / "expected.txt").read_text(encoding="utf-8")
    result = run("check", "--notes", laid_over(good, bad, tmp_path))
    assert result.output == expected
    assert result.exit_code == (0 if expected.rpartition("\n\n")[2].startswith("No ") else 1)


def found_by(rule: Rule, notes: Notes) -> Iterator[Problem]:
    """Yield what one rule finds, whatever it looks at."""
    outlines = {
        (kind, entry.id): outline(entry) for kind in KINDS for entry in notes.of_kind(kind).values()
    }
    match rule:
        case OfEach():
            for kind, entry_id in outlines:
                if kind in rule.kinds:
                    yield from rule.rule(notes.of_kind(kind)[entry_id], notes=notes)
        case OfFile():
            for read in notes.texts.values():
                yield from rule.rule(read)
        case OfAlike():
            yield from alike(outlines, notes=notes, of=[rule])
        case OfNotes():
            yield from rule.rule(notes)
        case OfOutlines():
            yield from rule.rule(notes, outlines=outlines)


def test_every_rule_has_a_bad_entry_that_breaks_it(good, tmp_path):
    # Laying a file over others cannot take one away: test_content has that one.
    silent = {rule.name: rule for rule in RULES if rule.name != "safety_page_is_there"}
    for i, bad in enumerate(BAD):
        if not silent:
            break
        notes = load_notes(laid_over(good, bad, tmp_path / str(i)))
        silent = {name: rule for name, rule in silent.items() if not any(found_by(rule, notes))}
    assert list(silent) == []
