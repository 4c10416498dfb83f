"""Answers that are not asked again: each is what it would be if it were, whatever was changed."""

from __future__ import annotations

import random
import re
import shutil
from collections.abc import Iterator
from pathlib import Path
from typing import cast

import pytest

from generators.answers import OF_KINDS, OF_THE_KIND_ASKED, OF_WHAT_IT_SHOWS, Answer, Answers
from generators.make import page_makers
from generators.plan import plan_site
from generators.release.coming_release import coming_release
from generators.site_context import SiteContext
from generators.traced_catalog import TracedCatalog
from kb.catalog import Catalog
from kb.model import KINDS
from kb.notes.load import Notes, load_notes

GOOD = Path(__file__).resolve().parents[1] / "data/entries/good"
EDITS = 40
SEEDS = (1, 2)


@pytest.fixture()
def notes(tmp_path: Path) -> Path:
    return Path(shutil.copytree(GOOD, tmp_path / "notes"))


def asked_by_pages(notes: Notes) -> dict[str, Answer]:
    """Return every question of every page that is made from the catalog alone, answered."""
    catalog = Catalog(notes)
    context, plan = SiteContext(catalog), plan_site(notes)
    coming = coming_release(context, history=[], pages=plan.pages)
    makers = page_makers(context, plan, charts={}, curves={}, coming=coming)
    answers, asked = Answers(catalog), set[str]()
    for make in makers.from_catalog.values():
        traced = TracedCatalog(catalog)
        make(SiteContext(cast(Catalog, traced)))
        asked.update(traced.questions or ())
    found = {question: answers.to(question) for question in asked}
    return {question: answer for question, answer in found.items() if answer is not None}


def edits(notes: Path, *, draw: random.Random) -> Iterator[str]:
    """Change one file after the other: a name, an id in it, the file away, the file once more."""
    ids = [path.stem for path in (notes / "docs_data").rglob("*.yaml")]
    for number in range(EDITS):
        files = [
            path
            for path in sorted((notes / "docs_data").rglob("*.yaml"))
            if path.parent.name != "docs_data"
        ]
        file, how = draw.choice(files), draw.choice(["name", "id", "id", "away", "copy"])
        text = file.read_text(encoding="utf-8")
        if how == "name":
            file.write_text(text.replace("name: ", f"name: N{number} ", 1), encoding="utf-8")
        elif how == "id":
            named = [word for word in re.findall(r": ([a-z0-9-]+)$", text, re.M) if word in ids]
            if named:
                old, new = draw.choice(named), draw.choice(ids)
                file.write_text(text.replace(f": {old}\n", f": {new}\n"), encoding="utf-8")
        elif how == "away" and len(files) > len(ids) // 2:
            file.unlink()
        elif how == "copy":
            (file.parent / f"{file.stem}-{number}.yaml").write_text(text, encoding="utf-8")
        yield f"{how} {file.name}"


@pytest.mark.parametrize("seed", SEEDS)
def test_no_answer_stands_that_would_be_another(notes: Path, seed: int) -> None:
    loaded = load_notes(notes)
    before, then = asked_by_pages(loaded), Answers(Catalog(loaded)).states
    stood = differed = 0
    for edit in edits(notes, draw=random.Random(seed)):
        catalog = Catalog(load_notes(notes))
        now, fresh = Answers(catalog, before=before, then=then), Answers(catalog)
        for question, answer in before.items():
            same = fresh.to(question) == answer
            assert now.stand([question]) == same, (edit, question)
            stood, differed = stood + same, differed + (not same)
        then = now.states
        before = {q: found for q in before if (found := fresh.to(q)) is not None}
        if len(before) < 500:
            shutil.rmtree(notes)
            shutil.copytree(GOOD, notes)
            loaded = load_notes(notes)
            before, then = asked_by_pages(loaded), Answers(Catalog(loaded)).states
    assert stood > 10_000
    assert differed > 200


def test_a_slip_reaches_what_asks_for_slips_alone(notes: Path) -> None:
    loaded = load_notes(notes)
    before, then = asked_by_pages(loaded), Answers(Catalog(loaded)).states
    slips = notes / "docs_data/slips"
    slips.mkdir(exist_ok=True)
    (slips / "one.yaml").write_text(
        "entry: sensors/coil-a\nby: Mo\non: 2026-02-03\nwrong: The clip is gone.\n", "utf-8"
    )
    after = load_notes(notes)
    assert len(after.slips) == len(loaded.slips) + 1, after.problems
    now = Answers(Catalog(after), before=before, then=then)
    differing = [question for question in before if not now.stand([question])]
    assert differing == [q for q in before if q == '["open_slips", ["entry", "sensors", "coil-a"]]']


def test_whatever_a_page_asks_has_a_rule_or_is_asked_again(notes: Path) -> None:
    """Names that no rule knows are asked again; those that a rule knows are asked by some page."""
    names = {
        question.partition('"')[2].partition('"')[0]
        for question in asked_by_pages(load_notes(notes))
    }
    ruled = {*OF_KINDS, *OF_WHAT_IT_SHOWS, *OF_THE_KIND_ASKED}
    assert ruled - names <= {"all_terms", "characteristic_of_sensor"}
    assert {"mentioning"} <= names - ruled
    assert all(kind in KINDS or kind == "slips" for kinds in OF_KINDS.values() for kind in kinds)
