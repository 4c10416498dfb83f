"""The catalogue of words: complete, used, and every caution where it says that it stands."""

from __future__ import annotations

import ast
import importlib
import pkgutil
import re
import tomllib
from collections.abc import Iterator
from pathlib import Path

import pytest

import kb.answers
from kb.answers.part_cautions import (
    CautionFacts,
    MachineFacts,
    insulation_essentials,
    winding_essentials,
    with_methods,
)
from kb.words.catalogue import ENGLISH, FOLDER, PLACEHOLDER, cautions, name_of, template, words

ROOT = Path(__file__).resolve().parents[3]
PYTHON = [*(ROOT / "kb").rglob("*.py"), *(ROOT / "generators").rglob("*.py")]
UNITS = {"c", "k", "ohm", "v", "share"}
"""Units whose printing may be told something; a list may be told its joiner."""
TEMPLATES = sorted(
    f"{section}.{name}"
    for section, entries in words().items()
    for name, value in entries.items()
    if isinstance(value, str)
)
CAUTIONS = sorted(f"caution.{caution_id}" for caution_id in cautions())


def statement_patterns(text: str) -> Iterator[str]:
    """Yield a pattern for each `Statement(id=…)` in a module's text; what varies is `.*` there."""
    for node in ast.walk(ast.parse(text)):
        if not (isinstance(node, ast.Call) and getattr(node.func, "id", "") == "Statement"):
            continue
        for keyword in node.keywords:
            if keyword.arg == "id":
                yield from _patterns(keyword.value)


def _patterns(node: ast.expr) -> Iterator[str]:
    if isinstance(node, ast.Constant):
        yield re.escape(str(node.value))
    elif isinstance(node, ast.JoinedStr):
        parts = [
            re.escape(str(part.value)) if isinstance(part, ast.Constant) else ".*"
            for part in node.values
        ]
        yield "".join(parts)
    elif isinstance(node, ast.IfExp):
        yield from _patterns(node.body)
        yield from _patterns(node.orelse)


PATTERNS = {
    pattern for path in PYTHON for pattern in statement_patterns(path.read_text(encoding="utf-8"))
}


def test_the_scan_of_statements_sees_constants_choices_and_what_varies():
    text = 'Statement(id="a.b" if x else "a.c"); Statement(id=f"a.{d}-e"); Statement(id=name)'
    assert list(statement_patterns(text)) == [r"a\.b", r"a\.c", r"a\..*\-e"]


@pytest.mark.parametrize("pattern", sorted(PATTERNS))
def test_whatever_an_answer_says_has_words(pattern):
    assert [name for name in (*TEMPLATES, *CAUTIONS) if re.fullmatch(pattern, name)]


AS_THEY_STAND = {
    section
    for room in ("pages", "scripts")
    for file in (FOLDER / ENGLISH / room).glob("*.toml")
    for section in tomllib.loads(file.read_text(encoding="utf-8"))
}
"""Headings, labels and whole sentences of pages and scripts: nobody puts them after a colon."""


@pytest.mark.parametrize(
    "name", [name for name in TEMPLATES if name.partition(".")[0] not in AS_THEY_STAND]
)
def test_a_sentence_begins_small_and_its_figures_say_their_units(name):
    text = template(name)
    first = text[0]
    # A figure, a name in it, or an abbreviation may stand first.
    assert first == "{" or first == first.lower() or text[:2].isupper(), text
    for placeholder, spec in PLACEHOLDER.findall(text):
        unit = placeholder.rpartition("_")[2]
        assert not spec or unit in UNITS or spec in words()["list"], text


def test_a_name_that_is_not_there_is_a_fault_in_words():
    with pytest.raises(LookupError, match=r"^the catalogue of words has no 'reading\.nothing'$"):
        template("reading.nothing")
    with pytest.raises(LookupError, match=r"^the catalogue of words has no name of 'verdict\.no'$"):
        name_of("verdict", name="no")


def answers_with_cautions() -> dict[str, set[str]]:
    """Return each room of the floor of answers that shows cautions, with all their ids."""
    found: dict[str, set[str]] = {}
    for module in pkgutil.iter_modules(kb.answers.__path__):
        room = importlib.import_module(f"kb.answers.{module.name}")
        names = {name for name in vars(room) if name in ("CAUTIONS", "LIVE_CAUTIONS")}
        if names:
            ids = {caution_id for name in names for caution_id in getattr(room, name)}
            found[module.name.replace("_", "-")] = ids
    machines = [machine(), machine(no_charge="No inverter.")]
    facts = CautionFacts(
        machines=machines, methods=["Mind the belt."], disconnect="Pull X6.", hermetic=True
    )
    for answer, essentials in (
        ("winding", winding_essentials),
        ("insulation", insulation_essentials),
    ):
        statements = with_methods(essentials(facts), facts=facts)
        found[answer] = {statement.id.partition(".")[2] for statement in statements}
    return found


def machine(*, no_charge: str = "") -> MachineFacts:
    return MachineFacts(
        name="Unit",
        isolate_at="Red isolator",
        drain_at="P and N",
        drain_min=5,
        drained_below_volts=50,
        no_charge=no_charge,
    )


def test_every_answer_with_cautions_is_looked_at():
    shown = answers_with_cautions()
    assert {
        "reading",
        "loop",
        "round",
        "which",
        "stand-in",
        "winding",
        "insulation",
    } <= shown.keys()


def test_a_caution_stands_in_every_answer_that_it_names():
    shown = answers_with_cautions()
    missing = [
        (caution.id, answer)
        for caution in cautions().values()
        for answer in caution.where
        if answer in shown and caution.id not in shown[answer]
    ]
    assert missing == []


def test_an_answer_shows_no_caution_that_does_not_name_it():
    unnamed = [
        (answer, caution_id)
        for answer, ids in answers_with_cautions().items()
        for caution_id in ids
        if answer not in cautions()[caution_id].where
    ]
    assert unnamed == []


def test_every_caution_has_words_and_says_where_they_come_from():
    for caution in cautions().values():
        # A caution of an entry ends as its keeper ended it.
        assert caution.words.endswith((".", "}"))
        assert caution.source
        assert caution.where
