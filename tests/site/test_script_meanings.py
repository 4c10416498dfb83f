"""In a linked script every name means what it meant in its module, and nothing else is other."""

from __future__ import annotations

import json
import subprocess
from collections.abc import Mapping
from pathlib import Path

import pytest

from generators.browser_catalog import rules_modules
from generators.link_scripts import link_scripts
from tests.site.node_answers import ASSETS

MEANINGS = Path(__file__).with_name("script_meanings.js")


def compared(modules: Mapping[str, str], *, linked: str) -> dict[str, object]:
    """Return what Debian's own reader of the language finds different, and how many names it asked."""
    ran = subprocess.run(
        ["node", str(MEANINGS)],
        input=json.dumps({"modules": modules, "entries": list(modules), "linked": linked}),
        capture_output=True,
        encoding="utf-8",
        check=True,
    )
    return dict(json.loads(ran.stdout))


def linked(modules: Mapping[str, str]) -> str:
    return link_scripts(modules, scripts={"all.js": list(modules)}, shorter=True)["all.js"]


def test_every_name_of_every_module_means_the_same_in_one_scope() -> None:
    texts = {path.relative_to(ASSETS).as_posix(): path for path in sorted(ASSETS.rglob("*.js"))}
    modules = {name: path.read_text("utf-8") for name, path in texts.items()} | rules_modules()
    found = compared(modules, linked=linked(modules))
    assert found["faults"] == []
    assert int(str(found["names"])) > 20_000


MODULES = {
    "a.js": "const at = 1;\nexport function a({ at: b, c = at }) { return [b, c, name]; }\n",
    "b.js": 'import { a } from "./a.js";\nconst at = 2;\n'
    "class Row { get at() { return at; } put(at) { this.at = a({ at, at2: at }); } }\n"
    "const rows = (d) => (d ? { ...d, at } : { at: (e) => e + d });\n"
    "for (const name of [1]) rows(new Row(), `${name} ${`${at}`} at`, /at/g.test(at / 2 / at));\n"
    "export const done = function () { try { rows(); } catch { at; } label: for (;;) break label; };\n",
}


def test_modules_with_every_turn_of_the_language_mean_the_same() -> None:
    assert compared(MODULES, linked=linked(MODULES))["faults"] == []


@pytest.mark.parametrize(
    ("right", "wrong"),
    [
        ("const e=2", "const e=3"),
        ("const e=2", "const n=2"),
        ("this.at=a({at:e", "this.at=a({an:e"),
        (".at=", ".an="),
        ("return[", "return e,["),
        ("name]", "window]"),
        (">r+n", ">n+n"),
    ],
)
def test_a_name_that_means_something_else_is_noticed(right: str, wrong: str) -> None:
    text = linked(MODULES)
    assert right in text, text
    assert compared(MODULES, linked=text.replace(right, wrong, 1))["faults"] != []
