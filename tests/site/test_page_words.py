"""Each page is sent the words of the catalogue that its scripts can say, and no more.

Which those are is read from the sources; here it is held against what the answers really say.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from generators.browser_catalog import page_words, rules_modules
from generators.link_scripts import Stock, link_scripts
from generators.script_words import with_words_in_place, words_module, words_needed
from tests.site.node_answers import ASSETS, ROOT, copy_scripts, node_answers
from tests.site.test_arithmetic import _questions
from tests.site.vectors import Vector

SAYS = {
    "answer-reading": ("answers/reading.js", "answers/reading-expected.js"),
    "answer-volts": ("answers/plug-volts.js",),
    "answer-controller": ("answers/controller-figure.js",),
    "answer-loop": ("answers/loop.js",),
    "answer-winding": ("answers/winding.js",),
    "answer-insulation": ("answers/insulation.js",),
    "answer-round": ("answers/round.js",),
    "answer-which": ("answers/which.js",),
    "answer-lookup": ("answers/curve-lookup.js",),
    "answer-stand-in": ("answers/stand-in.js",),
    "answer-pair": ("answers/comparison.js",),
}
"""Kinds of vectors whose answers are said, and the modules that a page takes each answer from."""
BROUGHT = re.compile(r"^addWords\((\{.*\})\);$", re.MULTILINE)
WRITTEN = re.compile(r"""["'`]([a-z][a-z-]*)\.([a-z0-9-]+)["'`]""")
WORDS = {
    "reading": {"open": "Open.", "hot": "{t_c} hot.", "cold": "Cold.", "cold-far": "Far colder."},
    "verdict": {"within": {"name": "Within", "shape": "●"}, "open": {"name": "Open"}},
    "count": {"fault": {"one": "{n} fault", "many": "{n} faults"}},
    "caution": {"first": {"words": "First."}},
}


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


def _sources() -> dict[str, str]:
    return {
        path.relative_to(ASSETS).as_posix(): path.read_text("utf-8")
        for path in sorted(ASSETS.rglob("*.js"))
    } | rules_modules()


def _sent_with(*modules: str) -> set[str]:
    """Return the ids that come to a page with these modules and with what says statements."""
    words, sources = page_words(), _sources()
    linked = link_scripts(
        sources,
        scripts={"page.js": [*modules, "words/phrase.js"]},
        stock=Stock(
            needs=words_needed(sources, words=words),
            source=lambda ids: words_module(ids, words=words),
        ),
    )
    (brought,) = BROUGHT.findall(linked["page.js"])
    return {f"{section}.{name}" for section, names in json.loads(brought).items() for name in names}


@pytest.mark.parametrize("kind", SAYS)
def test_an_answer_is_said_with_the_words_that_come_with_its_module(
    said: dict[str, set[str]], kind: str
) -> None:
    assert said[kind]
    assert said[kind] - _sent_with(*SAYS[kind]) == set()


def test_a_page_is_not_sent_the_words_of_others() -> None:
    sent = _sent_with("answers/loop.js")
    assert len(sent) < sum(map(len, page_words().values())) / 5
    assert not any(one_id.startswith(("winding.", "reading.")) for one_id in sent)
    sent = _sent_with("answers/curve-lookup.js")
    assert "caution.insulation-charge" not in sent


def test_whatever_a_script_writes_out_comes_with_it() -> None:
    words, sources = page_words(), _sources()
    needed = words_needed(sources, words=words)
    left_out = [
        f"{path}: {section}.{name}"
        for path, text in sources.items()
        for section, name in WRITTEN.findall(text)
        if name in words.get(section, {}) and f"{section}.{name}" not in needed[path]
    ]
    assert left_out == []


def test_every_kind_of_answer_that_is_said_is_among_them() -> None:
    text = (ROOT / "tests/site/answer_vectors.js").read_text("utf-8")
    blocks = re.split(r'^  (?="answer-)', text, flags=re.MULTILINE)
    assert {block.split('"')[1] for block in blocks[1:]} == set(SAYS)


@pytest.mark.parametrize(
    ("text", "ids"),
    [
        ('statement("reading.open", {})', "reading.open"),
        ("inWords('reading.cold')", "reading.cold"),
        ("statement(`reading.cold${far}`)", "reading.cold reading.cold-far"),
        ('statement(`reading.${hot ? "hot" : "cold"}`)', "reading.cold reading.hot"),
        ('statement(`reading.cold${far ? "-far" : ""}`)', "reading.cold reading.cold-far"),
        ("statement(`reading.${why}`)", "reading.cold reading.cold-far reading.hot reading.open"),
        ('const NEXT = { open: "reading.open" };', "reading.open"),
        ('withFar("reading.cold"); statement(`${id}-far`)', "reading.cold reading.cold-far"),
        ('counted("reading.col"); statement(`${id}d`)', "reading.cold reading.cold-far"),
        ('nameOf("verdict", state, "shape")', "verdict.open verdict.within"),
        ('nameOf("verdict", "open")', "verdict.open"),
        ('nameOf(\n  "verdict",\n  "open")', "verdict.open"),
        ('numberOf("fault", count)', "count.fault"),
        ('WORDS.caution["first"].words', "caution.first"),
        ("WORDS.reading.open", "reading.open"),
        ('WORDS["verdict"]', "verdict.open verdict.within"),
        ("WORDS.verdict[state]", "verdict.open verdict.within"),
        ('new File(["x"], "case.zip")', ""),
    ],
)
def test_an_id_is_found_however_it_is_written(text: str, ids: str) -> None:
    assert words_needed({"a.js": text}, words=WORDS) == {"a.js": tuple(ids.split())}


@pytest.mark.parametrize(
    ("text", "filled"),
    [
        ('say(inWords("reading.open"));', 'say("Open.");'),
        ('say(nameOf("verdict", "within", "shape"));', 'say("●");'),
        ('say(phrase(statement("caution.first")));', 'say("First.");'),
        ('say(inWords("reading.hot", { tC }));', None),
        ('say(inWords("reading.hot"));', None),
        ('say(inWords("reading.unheard"));', None),
        ('say(nameOf("verdict", state));', None),
    ],
)
def test_words_that_never_change_stand_where_they_are_said(text: str, filled: str | None) -> None:
    begun = 'import { listed, inWords, nameOf } from "../words/phrase.js";\nlisted([]);\n'
    placed = with_words_in_place({"a.js": begun + text}, words=WORDS)["a.js"]
    if filled is None:
        assert placed == begun + text
    else:
        assert placed == (f'import {{ listed }} from "../words/phrase.js";\nlisted([]);\n{filled}')


def test_a_script_whose_words_all_stand_in_it_asks_for_nothing() -> None:
    text = 'import { inWords } from "../words/phrase.js";\nsay(inWords("reading.open"));\n'
    placed = with_words_in_place({"a.js": text}, words=WORDS)
    assert placed == {"a.js": 'say("Open.");\n'}
    assert words_needed(placed, words=WORDS) == {"a.js": ()}


@pytest.mark.parametrize("path", sorted(ASSETS.rglob("*.js")), ids=lambda path: path.name)
def test_no_script_puts_a_section_s_name_together(path: Path) -> None:
    text = path.read_text("utf-8")
    assert re.findall(r"statement\(\s*`\$\{[^}]*\}\.|nameOf\(\s*`|WORDS\[`", text) == []
    if path.name != "phrase.js" and re.search(r"\bWORDS\b[^;]*catalog\.js", text):
        assert re.findall(r"WORDS\[[a-z]", text) == []
    if path.name != "phrase.js":
        assert re.findall(r"nameOf\(\s*[a-z]", text) == []
