"""Each page is sent the sections of the catalogue that its scripts say something from, and no more.

Which those are is read from the sources; here it is held against what the answers really say.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from generators.browser_catalog import MODULE, SECTIONS, catalog_modules
from generators.link_scripts import link_scripts
from generators.script_words import words_needed
from tests.site.node_answers import ASSETS, ROOT, copy_scripts, node_answers
from tests.site.test_arithmetic import _questions
from tests.site.vectors import Vector

SAYS = {
    "answer-reading": "answers/reading.js",
    "answer-volts": "answers/plug-volts.js",
    "answer-controller": "answers/controller-figure.js",
    "answer-loop": "answers/loop.js",
    "answer-winding": "answers/winding.js",
    "answer-insulation": "answers/insulation.js",
    "answer-round": "answers/round.js",
    "answer-which": "answers/which.js",
    "answer-lookup": "answers/curve-lookup.js",
    "answer-stand-in": "answers/stand-in.js",
    "answer-pair": "answers/comparison.js",
}
"""Kinds of vectors whose answers are said, and the module that a page takes each answer from."""
SECTION = re.compile(r'^Object\.assign\(WORDS, \{"([\w-]+)":', re.MULTILINE)


@pytest.fixture(scope="module")
def said(
    tmp_path_factory: pytest.TempPathFactory, curves: dict[str, object], asked: list[Vector]
) -> dict[str, set[str]]:
    """Return the ids of the statements in all answers and refusals of the page, by kind."""
    saying = [vector for vector in asked if vector.kind in SAYS]
    answers = node_answers(
        copy_scripts(tmp_path_factory.mktemp("words")),
        grids={name: one.as_dict() for name, one in curves.items()},
        vectors=_questions(saying),
    )
    found: dict[str, set[str]] = {kind: set() for kind in SAYS}
    for vector, answer in zip(saying, json.loads(answers), strict=True):
        found[vector.kind].update(_ids(answer))
    return found


def _ids(value: object) -> Iterator[str]:
    if isinstance(value, dict):
        if isinstance(value.get("figures"), dict) and isinstance(value.get("id"), str):
            yield value["id"]
        value = list(value.values())
    if isinstance(value, list):
        for item in value:
            yield from _ids(item)


def _sent_with(module: str) -> set[str]:
    """Return the sections that come to a page with this module and with what says statements."""
    sources = {
        path.relative_to(ASSETS).as_posix(): path.read_text("utf-8")
        for path in sorted(ASSETS.rglob("*.js"))
    }
    written = catalog_modules()
    sources.update(written)
    linked = link_scripts(
        sources,
        scripts={"page.js": [module, "words/phrase.js"]},
        needs=words_needed(sources, written=written),
    )
    return set(SECTION.findall(linked["page.js"]))


@pytest.mark.parametrize("kind", SAYS)
def test_an_answer_is_said_with_the_words_that_come_with_its_module(
    said: dict[str, set[str]], kind: str
) -> None:
    sections = {statement_id.partition(".")[0] for statement_id in said[kind]}
    assert sections
    assert sections <= _sent_with(SAYS[kind])


def test_a_page_is_not_sent_the_words_of_others() -> None:
    everything = {path for path in catalog_modules() if path != MODULE}
    assert len(_sent_with("answers/loop.js")) < len(everything) / 3
    assert "winding" not in _sent_with("answers/reading.js")


def test_every_kind_of_answer_that_is_said_is_among_them() -> None:
    text = (ROOT / "tests/site/answer_vectors.js").read_text("utf-8")
    blocks = re.split(r'^  (?="answer-)', text, flags=re.MULTILINE)
    assert {block.split('"')[1] for block in blocks[1:]} == set(SAYS)


@pytest.mark.parametrize(
    ("text", "section"),
    [
        ('statement("reading.open", {})', "reading"),
        ("statement(`settling.needed-${term}`)", "settling"),
        ("statement(`job.${kind}`)", "job"),
        ('const NEXT = { open: "round.next-open" };', "round"),
        ('nameOf("verdict", state, "shape")', "verdict"),
        ('WORDS.caution["maker-first"].words', "caution"),
        ('WORDS["job-part"]', "job-part"),
    ],
)
def test_a_section_is_found_however_it_is_written(text: str, section: str) -> None:
    written = catalog_modules()
    assert words_needed({"a.js": text}, written=written) == {"a.js": (SECTIONS.format(section),)}


@pytest.mark.parametrize("path", sorted(ASSETS.rglob("*.js")), ids=lambda path: path.name)
def test_no_script_puts_a_section_s_name_together(path: Path) -> None:
    text = path.read_text("utf-8")
    assert re.findall(r"statement\(\s*`\$\{[^}]*\}\.|nameOf\(\s*`|WORDS\[`", text) == []
    if path.name != "phrase.js" and re.search(r"\bWORDS\b[^;]*catalog\.js", text):
        assert re.findall(r"WORDS\[[a-z]", text) == []
    if path.name != "phrase.js":
        assert re.findall(r"nameOf\(\s*[a-z]", text) == []
