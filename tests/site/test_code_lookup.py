"""Terminal and page find the same codes for the same text: every code of the notes × every way."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pytest

from generators.find_index import INDEX_SCRIPT, make_find_index
from generators.find_items import find_items
from generators.site_context import SiteContext
from kb.answers.blinks import BlinkPattern
from kb.answers.code_lookup import CodeQuestion, ShownWay, find_codes, find_in_families
from kb.answers.statement import Refusal
from kb.catalog import Catalog
from kb.check import check_notes
from kb.code_facts import known_codes, known_families
from kb.model import Family
from tests.site.node_answers import ROOT, copy_scripts, run_node
from tests.site.vector_codes import (
    COUNTS_IN_GERMAN,
    NO_BLINKS,
    ONE_KIND,
    OTHERWISE,
    SIXTEEN,
    WIDE,
    written,
)

NOTES = {"demo": ROOT, "good": ROOT / "tests" / "data" / "entries" / "good"}
ANYWHERE = """
import { matchItems, openIndex } from "./site_config/assets/find/matching.js";
let text = "";
process.stdin.setEncoding("utf8");
process.stdin.on("data", (piece) => { text += piece; });
process.stdin.on("end", () => {
  const { index, questions } = JSON.parse(text);
  const opened = openIndex(index);
  const rows = questions.map((shown) => matchItems(shown, opened, { families: [], within: "" })
    .filter(({ item, score, near }) => item.kind === "code" && score < 2 && !near)
    .map(({ item }) => item.url));
  process.stdout.write(JSON.stringify(rows));
});
"""
BESIDE = ("{name} {shown}", "{shown} {name}", "{also} {shown}", "{word} flashes {shown}", "{shown}")
"""Where the name of a family stands beside a code."""
STRANGERS = ("zzz", "K99", "x", "9 long 9 short", "coil", "quellmark", "21", "0", "", "sensor 3")
"""What no code is, or only nearly."""

FINDS = """
import { matchItems, openIndex } from "./site_config/assets/find/matching.js";
let text = "";
process.stdin.setEncoding("utf8");
process.stdin.on("data", (piece) => { text += piece; });
process.stdin.on("end", () => {
  const { index, questions } = JSON.parse(text);
  const opened = openIndex(index);
  const rows = questions.map(({ shown, family }) => {
    // Both are asked on this family alone: the page by looking nowhere else.
    const hits = matchItems(shown, opened, { families: [], within: family })
      .filter(({ item }) => item.kind === "code" && item.context === family);
    // By a way it is shown, and not by its name or by what people call it.
    const urls = (found) => found.map(({ item }) => item.url);
    return { sure: urls(hits.filter(({ score }) => score < 2)), all: urls(hits) };
  });
  process.stdout.write(JSON.stringify(rows));
});
"""


def spellings(way: ShownWay) -> Iterator[str]:
    """Yield a way as people type it."""
    rng = np.random.default_rng(24)
    if way.blinks is None:
        signs = ("", " ", "-", ".", "–", " - ")
        texts = [way.text, *(way.text.replace("-", sign) for sign in signs)]
        yield from dict.fromkeys(
            typed
            for text in texts
            for typed in (text, text.lower(), text.upper(), f"  {text} ", text.translate(WIDE))
        )
        yield way.text.translate(str.maketrans("01358", "OIESB"))
        yield f"{way.text}7"
        return
    yield from _blinks(way.blinks, rng=rng)
    yield from _blinks(BlinkPattern(long=way.blinks.long + 1, short=way.blinks.short), rng=rng)


def _blinks(pattern: BlinkPattern, *, rng: np.random.Generator) -> Iterator[str]:
    if pattern.long and pattern.short:
        for way in (*SIXTEEN, *OTHERWISE):
            text = written(rng, pattern, way=way)
            yield from (text, text.upper(), text.translate(WIDE))
        return
    count = pattern.long or pattern.short
    for form in ONE_KIND:
        german = COUNTS_IN_GERMAN.get(count, count)
        yield form.format(n=count, nw=count, ng=german, dots="." * count, dashes="-" * count)


@pytest.mark.parametrize("name", NOTES)
def test_the_terminal_and_find_give_the_same_codes_for_the_same_text(
    tmp_path: Path, name: str
) -> None:
    catalog = Catalog(check_notes(NOTES[name]))
    script = make_find_index(find_items(SiteContext(catalog)))[INDEX_SCRIPT]
    index = json.loads(script.partition("=")[2].rstrip(";\n"))
    questions = [
        CodeQuestion(shown=shown, family=family.name, codes=codes)
        for family in catalog.all(Family).values()
        for codes in [known_codes(catalog, family=family)]
        for shown in dict.fromkeys(
            [text for code in codes for way in code.ways for text in spellings(way)] + [*STRANGERS]
        )
    ]
    (copy_scripts(tmp_path) / "finds.js").write_text(FINDS, encoding="utf-8")
    sent = [{"shown": question.shown, "family": question.family} for question in questions]
    rows = json.loads(
        run_node(tmp_path, "finds.js", sent=json.dumps({"index": index, "questions": sent}))
    )
    faults, met = [], {"found": 0, "near": 0, "unknown": 0}
    for question, row in zip(questions, rows, strict=True):
        try:
            here = [f"codes/{code_id}.html" for code_id in find_codes(question).code_ids]
            met["found"] += 1
        except Refusal as refusal:
            here = []
            met["near" if refusal.statement.id == "code.unknown-near" else "unknown"] += 1
        if here != row["sure"]:
            faults.append((question.family, question.shown, here, row["sure"]))
    assert faults == []
    least = {"demo": (4000, 300, 20), "good": (100, 20, 5)}[name]
    assert all(count >= few for count, few in zip(met.values(), least, strict=True)), met


def test_every_spelling_of_blinks_finds_its_code() -> None:
    """So that agreement says something: both sides could be deaf alike."""
    catalog = Catalog(check_notes(NOTES["demo"]))
    asked = 0
    for family in catalog.all(Family).values():
        codes = known_codes(catalog, family=family)
        for code in codes:
            for way in code.ways:
                if way.blinks is None or not (way.blinks.long and way.blinks.short):
                    continue
                for form in (*SIXTEEN, *OTHERWISE):
                    if form in NO_BLINKS:
                        continue
                    shown = written(np.random.default_rng(2), way.blinks, way=form)
                    question = CodeQuestion(shown=shown, family=family.name, codes=codes)
                    assert code.id in find_codes(question).code_ids, shown
                    asked += 1
    assert asked > 1000


def test_the_terminal_and_find_give_the_same_codes_for_words_of_a_family_and_a_code(
    tmp_path: Path,
) -> None:
    catalog = Catalog(check_notes(NOTES["demo"]))
    script = make_find_index(find_items(SiteContext(catalog)))[INDEX_SCRIPT]
    index = json.loads(script.partition("=")[2].rstrip(";\n"))
    families = known_families(catalog)
    questions = list(
        dict.fromkeys(
            form.format(name=name, also=also, word=name.split(" ")[0], shown=shown)
            for family in families
            for name, also in [(family.names.names[0], family.names.names[-1])]
            for code in family.codes
            for way in code.ways
            for shown in [way.text] * (way.blinks is None) or _few_spellings(way)
            for form in BESIDE
        )
    )
    (copy_scripts(tmp_path) / "finds.js").write_text(ANYWHERE, encoding="utf-8")
    rows = json.loads(
        run_node(tmp_path, "finds.js", sent=json.dumps({"index": index, "questions": questions}))
    )
    faults, met = [], {"found": 0, "several": 0, "none": 0}
    for shown, row in zip(questions, rows, strict=True):
        try:
            codes = find_in_families(shown, families=families)
            met["found"] += 1
            if [f"codes/{code_id}.html" for code_id in codes.code_ids] != row:
                faults.append((shown, codes, row))
        except Refusal as refusal:
            several = refusal.statement.id == "code.several"
            met["several" if several else "none"] += 1
            if several != bool(row):
                faults.append((shown, refusal.statement, row))
    assert faults == []
    assert met["found"] > 500
    assert met["several"] > 10


def _few_spellings(way: ShownWay) -> list[str]:
    rng = np.random.default_rng(5)
    if way.blinks is None or not (way.blinks.long and way.blinks.short):
        return ["3 blinks"]
    return [written(rng, way.blinks, way=form) for form in SIXTEEN[:8]]
