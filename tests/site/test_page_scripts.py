"""A page loads the scripts of the forms that it has, and those of no other."""

from __future__ import annotations

import re
from collections.abc import Mapping
from pathlib import Path

import yaml

ROOT = Path(__file__).resolve().parents[2]
CONFIG = ROOT / "site_config" / "mkdocs.yml"
BROUGHT = re.compile(r'formOf\("([\w-]+)"\)|data-calc="([\w-]+)"|"(\.ohm-tick)\[')
"""What a form's module looks for on its page."""
THERE = re.compile(r'data-calc="([\w-]+)"|class="ohm-tick" (data-list)')
LATE = re.compile(r'<script data-later="[^"]*assets/(form-[\w-]+\.js)"')
LOADED = re.compile(r'<script src="[^"]*assets/(form-[\w-]+\.js)" defer')


COMMON = ("form-base.js", "form-more.js")
"""What forms have in common, in the order in which pages load it."""


def _base(script: str) -> str:
    after = yaml.safe_load(CONFIG.read_text(encoding="utf-8"))["extra"]["after"]
    return after.get(script) or after["form-*.js"]


def _brought() -> Mapping[str, set[str]]:
    """Return what each form's script looks for, by the name of the script."""
    joined = yaml.safe_load(CONFIG.read_text(encoding="utf-8"))["extra"]["joined"]
    assets = CONFIG.parent / "assets"
    found = {}
    for script, modules in joined.items():
        if script.startswith("form-"):
            texts = [(assets / module).read_text(encoding="utf-8") for module in modules]
            marks = [mark for text in texts for mark in BROUGHT.finditer(text)]
            found[script] = {next(filter(None, mark.groups())) for mark in marks}
    return found


def test_every_page_loads_what_its_forms_need_and_nothing_else(site: Path) -> None:
    brought = _brought()
    with_forms = 0
    for page in sorted(site.rglob("*.html")):
        text = page.read_text(encoding="utf-8")
        there = {calc or ".ohm-tick" for calc, ticks in THERE.findall(text)}
        loaded = LOADED.findall(text)
        with_forms += bool(there)
        own = [script for script in loaded if script not in COMMON]
        # What comes when its fold is opened is there for its form as well.
        late = LATE.findall(text)
        name = page.relative_to(site).as_posix()
        assert len(loaded) == len(set(loaded)), name
        # Drills answer with what forms answer with, and have none of their own.
        needs = [*own, *(["drills.js"] if "assets/drills.js" in text else [])]
        common = {base for script in needs for base in (_base(script), "form-base.js")}
        assert loaded == [*(base for base in COMMON if base in common), *own], name
        assert {mark for script in (*own, *late) for mark in brought[script]} >= there, name
        assert [script for script in own if not brought[script] & there] == [], name
        assert [script for script in late if not brought[script] & there] == [], name
    assert with_forms > 50


def test_every_form_has_a_script_of_its_own() -> None:
    marks = sorted(mark for found in _brought().values() for mark in found)
    assert len(marks) == len(set(marks)) > 8
    assert not any(_brought()[base] for base in COMMON)
