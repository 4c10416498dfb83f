"""Modules become classic scripts: order, what belongs where, and every way they may not fit."""

from __future__ import annotations

import pytest

from generators.link_scripts import ScriptsNotLinked, Stock, link_scripts

SUM = 'import { FIRST } from "./first.js";\n\nexport function sum(n) {\n  return n + FIRST;\n}\n'
PAGE = '// Says it.\n\nimport {\n  sum,\n} from "../numbers/sum.js";\n\ndocument.title = sum(1);\n'
SOURCES = {
    "page/page.js": PAGE,
    "numbers/first.js": "// The first.\nexport const FIRST = 1;\n",
    "numbers/sum.js": SUM,
}


def linked(sources: dict[str, str], *entries: str) -> str:
    return link_scripts(sources, scripts={"all.js": entries})["all.js"]


def faults_of(
    sources: dict[str, str], scripts: dict[str, list[str]] | None = None, *everywhere: str
) -> list[str]:
    with pytest.raises(ScriptsNotLinked) as stopped:
        link_scripts(sources, scripts=scripts or {}, everywhere=everywhere)
    return stopped.value.faults


def test_modules_stand_in_one_scope_one_after_the_other():
    assert linked(SOURCES, "page/page.js") == (
        "(function (Ohm) {\n"
        '"use strict";\n'
        "const FIRST = 1;\n"
        "function sum(n) {\n  return n + FIRST;\n}\n"
        "document.title = sum(1);\n"
        "})(globalThis.Ohm = globalThis.Ohm || {});\n"
    )


def test_a_script_takes_what_another_carries_and_hands_on_what_another_takes():
    scripts = {"base.js": [], "form-a.js": ["a.js"], "form-b.js": ["b.js"]}
    sources = {
        "a.js": 'import { shared } from "./shared.js";\nshared();\n',
        "b.js": 'import { shared } from "./shared.js";\nexport function b() { shared(); }\n',
        "shared.js": "export function shared() {}\nexport function unwanted() {}\n",
    }
    texts = link_scripts(sources, scripts=scripts, after={"*.js": "base.js"}, handed_on=["gone"])
    assert "Object.assign(Ohm, { shared });" in texts["base.js"]
    for form in ("form-a.js", "form-b.js"):
        assert texts[form].splitlines()[2] == "const { shared } = Ohm;"
    assert "Object.assign" not in texts["form-a.js"]
    assert "Object.assign(Ohm, { b });" in texts["form-b.js"]
    asked = link_scripts(
        sources, scripts=scripts, after={"*.js": "base.js"}, handed_on=["unwanted"]
    )
    assert "Object.assign(Ohm, { shared, unwanted });" in asked["base.js"]


def test_a_private_name_that_two_modules_have_gets_a_number_in_the_second():
    sources = {
        "a.js": "const LIMIT = 1;\nexport function a() { return { LIMIT, at: x.LIMIT }; }\n",
        "b.js": 'import { a } from "./a.js";\nconst LIMIT = 2;\nconst LIMIT2 = `${LIMIT} LIMIT`;\n'
        "a(LIMIT, LIMIT2);\n",
    }
    text = linked(sources, "b.js")
    assert "function a() { return { LIMIT, at: x.LIMIT }; }" in text
    assert "const LIMIT3 = 2;\nconst LIMIT2 = `${LIMIT3} LIMIT`;\na(LIMIT3, LIMIT2);" in text


def test_names_that_a_module_keeps_become_short_and_others_stay():
    sources = {
        "page/page.js": 'import { twice } from "../twice.js";\n'
        "const LIMIT = 3;\n"
        "for (const part of document.all) twice({ part, LIMIT: LIMIT });\n",
        "twice.js": "export function twice({ part, factor = 2 }) {\n  return part * factor;\n}\n",
    }
    text = link_scripts(sources, scripts={"all.js": ["page/page.js"]}, shorter=True)["all.js"]
    assert text == (
        '(function(Ohm){"use strict";function twice({part:e,factor:t=2}){return e*t;}\n'
        "const e=3;for(const t of document.all)twice({part:t,LIMIT:e});})"
        "(globalThis.Ohm=globalThis.Ohm||{});"
    )


@pytest.mark.parametrize(
    ("text", "fault"),
    [
        ("// A.\n\nconst of = 1;\n", "a.js:3: of has a meaning of its own in the language"),
        ("/* A. */\nb();\n", "a.js:2: b is not imported, and in a script it is what another"),
        ("\n\nconst a = 'never\n';\n", "a.js:3: what begins with 'never has no end"),
        (
            "const a = 1;\nconst b = `${`${`x`}`}`;\n",
            "a.js:2: what begins with `${`${`x`}`}`; has no",
        ),
    ],
)
def test_what_cannot_stand_in_one_scope_is_named_with_file_and_line(text, fault):
    sources = {"a.js": text, "b.js": "export function b() {}\n"}
    (found,) = faults_of(sources, {"all.js": ["a.js", "b.js"]})
    assert found.startswith(fault)


def test_comments_on_lines_of_their_own_stay_in_the_sources_and_nothing_else_does():
    sources = {
        "page/page.js": "/**\n * What it is: one // two.\n */\n"
        'const address = "https://a.example/*"; // kept: it shares its line\n'
        "  // Gone.\n"
        "const two = `/** ${address} */`;\n"
        "/** @type {number} gone */ \n"
        "const three = 3 /* kept */ + 4;\n"
    }
    assert linked(sources, "page/page.js") == (
        "(function (Ohm) {\n"
        '"use strict";\n'
        'const address = "https://a.example/*"; // kept: it shares its line\n'
        "const two = `/** ${address} */`;\n"
        "const three = 3 /* kept */ + 4;\n"
        "})(globalThis.Ohm = globalThis.Ohm || {});\n"
    )


def test_what_nobody_needs_stays_out_and_what_two_need_comes_once():
    sources = {**SOURCES, "numbers/alone.js": "export class Alone {}\n"}
    text = linked(sources, "page/page.js", "numbers/sum.js")
    assert "Alone" not in text
    assert text.count("const FIRST = 1;") == 1


def test_a_script_leaves_out_what_a_script_of_every_page_carries():
    scripts = {"more.js": ["page/page.js"], "first.js": ["numbers/first.js"]}
    texts = link_scripts(SOURCES, scripts=scripts, everywhere=["first.js"])
    assert list(texts) == ["more.js", "first.js"]
    assert "const FIRST = 1;" in texts["first.js"]
    assert "const FIRST = 1;" not in texts["more.js"]
    assert "const { FIRST } = Ohm;" in texts["more.js"]


def test_a_script_leaves_out_what_the_script_loaded_before_it_carries():
    scripts = {"base.js": ["numbers/sum.js"], "more.js": ["page/page.js"]}
    texts = link_scripts(SOURCES, scripts=scripts, after={"more.js": "base.js"})
    assert "function sum" in texts["base.js"]
    assert "function sum" not in texts["more.js"]
    assert "const { sum } = Ohm;" in texts["more.js"]


def test_a_script_that_stands_alone_brings_all_it_needs_and_no_base_grows_by_it():
    scripts = {"base.js": [], "more.js": ["page/page.js"], "alone.js": ["page/own.js"]}
    own = 'import { sum } from "../numbers/sum.js";\nsum(1);\n'
    texts = link_scripts(
        {**SOURCES, "page/own.js": own},
        scripts=scripts,
        after={"more.js": "base.js"},
        alone=["alone.js"],
    )
    assert "function sum" in texts["alone.js"]
    assert "function sum" in texts["more.js"]
    assert "sum" not in texts["base.js"]


def test_a_module_that_two_scripts_of_one_page_would_carry_is_named():
    scripts = {"base.js": [], "one.js": ["numbers/sum.js"], "other.js": ["numbers/first.js"]}
    assert faults_of(SOURCES, scripts, "base.js") == [
        "numbers/first.js would run twice on a page, from one.js and from other.js: "
        "name it under base.js"
    ]


def test_the_base_carries_what_two_scripts_after_it_need_and_they_do_not():
    scripts = {"base.js": [], "form-a.js": ["page/a.js"], "form-b.js": ["page/b.js"]}
    sources = {
        **SOURCES,
        "page/a.js": 'import { sum } from "../numbers/sum.js";\nsum(1);\n',
        "page/b.js": 'import { own } from "./own.js";\nimport { sum } from "../numbers/sum.js";\n',
        "page/own.js": "export const own = 2;\n",
    }
    texts = link_scripts(sources, scripts=scripts, after={"*.js": "base.js"})
    assert "const FIRST = 1;" in texts["base.js"]
    assert "function sum" in texts["base.js"]
    assert "const { sum } = Ohm;" in texts["form-a.js"]
    for form in ("form-a.js", "form-b.js"):
        assert "function sum" not in texts[form]
        assert "const FIRST" not in texts[form]
    assert "const own = 2;" in texts["form-b.js"]
    assert "const own" not in texts["base.js"]


def test_what_two_scripts_need_is_carried_by_the_nearest_base_of_both():
    scripts = {
        "base.js": [],
        "more.js": [],
        "a.js": ["page/a.js"],
        "b.js": ["page/b.js"],
        "c.js": ["page/c.js"],
    }
    sources = {
        "page/a.js": 'import { all } from "../all.js";\nall();\n',
        "page/b.js": 'import { all } from "../all.js";\nimport { few } from "../few.js";\nfew();\n',
        "page/c.js": 'import { few } from "../few.js";\nfew();\n',
        "all.js": "export function all() {}\n",
        "few.js": "export function few() {}\n",
    }
    after = {"a.js": "base.js", "more.js": "base.js", "*.js": "more.js"}
    texts = link_scripts(sources, scripts=scripts, after=after)
    assert [name for name, text in texts.items() if "function all" in text] == ["base.js"]
    assert [name for name, text in texts.items() if "function few" in text] == ["more.js"]


def test_what_a_script_is_there_for_and_another_imports_is_named():
    scripts = {"base.js": [], "one.js": ["numbers/sum.js"], "other.js": ["page/page.js"]}
    with pytest.raises(ScriptsNotLinked) as stopped:
        link_scripts(SOURCES, scripts=scripts, after={"*.js": "base.js"})
    assert stopped.value.faults == [
        "numbers/sum.js: one.js is there for it, and other.js needs it too: "
        "what both need belongs in a module of its own"
    ]


def test_every_kind_of_export_is_handed_on():
    text = linked(
        {"a.js": "export async function ask() {}\nexport class Ask {}\nexport const $at = 1;\n"},
        "a.js",
    )
    assert "Object.assign(Ohm, { $at, Ask, ask });" in text
    assert "export" not in text


def test_a_missing_file_is_named_with_file_and_line():
    assert faults_of({"page/a.js": '// A.\n\nimport { b } from "./b.js";\n'}) == [
        "page/a.js:3: there is no script page/b.js"
    ]


def test_a_name_that_nobody_exports_is_named_with_file_and_line():
    assert faults_of(
        {"a.js": '// A.\nimport {\n  A, last,\n} from "./b.js";\n', "b.js": "export const A = 1;\n"}
    ) == ["a.js:2: b.js exports no last"]


def test_a_script_that_is_named_and_not_there_is_a_fault():
    assert faults_of(SOURCES, {"all.js": ["page/gone.js"]}) == [
        "all.js: there is no script page/gone.js"
    ]


def test_a_circle_is_named_whole():
    sources = {
        "a.js": 'import { b } from "./b.js";\nexport const a = 1;\n',
        "b.js": 'import { c } from "./c.js";\nexport const b = 1;\n',
        "c.js": 'import { b } from "./b.js";\nexport const c = 1;\n',
    }
    assert faults_of(sources) == ["scripts import each other in a circle: b.js → c.js → b.js"]


def test_a_name_that_two_modules_export_is_named_with_both_places():
    sources = {"a.js": "export const same = 1;\n", "b.js": "\nexport function same() {}\n"}
    assert faults_of(sources) == ["b.js:2: same is exported by a.js:1 too, and a page is one room"]


@pytest.mark.parametrize(
    "statement",
    [
        "export default 1;",
        "export { a };",
        "export let a = 1;",
        "export * from './b.js';",
        "import a from './b.js';",
        "import './b.js';",
        "import { a } from './b.js';",
        'import { a } from "./b.js"',
    ],
)
def test_another_form_of_import_or_export_is_refused(statement):
    assert faults_of({"a.js": f"// A.\n{statement}\n", "b.js": "export const a = 1;\n"}) == [
        'a.js:2: write it as import { name } from "./file.js"; or export function, const or class, '
        f"not as {statement}"
    ]


def test_a_name_that_is_changed_on_the_way_is_refused():
    sources = {**SOURCES, "a.js": 'import { FIRST as one } from "./numbers/first.js";\n'}
    assert faults_of(sources)[0] == (
        "a.js:1: 'FIRST as one' is not one name: what is imported keeps the name it has"
    )


def test_all_faults_are_told_at_once():
    sources = {
        "a.js": 'import { b } from "./b.js";\nexport default 1;\nexport const x = 1;\n',
        "c.js": "export const x = 1;\n",
    }
    assert len(faults_of(sources, {"all.js": ["d.js"]})) == 4


STOCK_OF_WORDS = {
    "catalog.js": "export const WORDS = {};\nexport function addWords(w) { Object.assign(WORDS, w); }\n",
    "a.js": 'import { WORDS } from "./catalog.js";\nWORDS.hot;\n',
    "b.js": 'import { WORDS } from "./catalog.js";\nWORDS.hot + WORDS.cold;\n',
    "c.js": 'import { WORDS } from "./catalog.js";\nWORDS.cold;\n',
}


def linked_words(**asked) -> dict[str, str]:
    stock = Stock(
        needs={"a.js": ["hot"], "b.js": ["hot", "cold"], "c.js": ["cold"]},
        source=lambda names: f'import {{ addWords }} from "./catalog.js";\naddWords({names});',
    )
    return link_scripts(STOCK_OF_WORDS, stock=stock, **asked)


def test_the_pieces_of_a_script_come_together_after_what_they_need_and_before_who_says_them():
    linked = linked_words(scripts={"all.js": ["a.js", "b.js", "c.js"]})["all.js"]
    assert linked.count("addWords([") == 1
    assert (
        linked.index("const WORDS")
        < linked.index("addWords(['hot', 'cold']);")
        < linked.index("WORDS.hot;")
        < linked.index("WORDS.cold;")
    )


def test_what_two_scripts_say_comes_with_the_base_of_both():
    linked = linked_words(
        scripts={"base.js": [], "one.js": ["a.js"], "two.js": ["b.js"]},
        after={"one.js": "base.js", "two.js": "base.js"},
    )
    assert "addWords(['hot']);" in linked["base.js"]
    assert "addWords(" not in linked["one.js"]
    assert "addWords(['cold']);" in linked["two.js"]


def test_two_scripts_without_a_base_may_both_bring_a_piece():
    linked = linked_words(
        scripts={"every.js": ["catalog.js"], "one.js": ["b.js"], "two.js": ["c.js"]},
        everywhere=["every.js"],
    )
    assert "addWords(['hot', 'cold']);" in linked["one.js"]
    assert "addWords(['cold']);" in linked["two.js"]
