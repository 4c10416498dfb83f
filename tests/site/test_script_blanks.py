"""Scripts and styles are sent without blanks and comments, and say all that their sources say."""

from __future__ import annotations

import json
import subprocess
from pathlib import Path

import yaml
from rjsmin import jsmin

from tests.site.node_answers import ASSETS

LEAVES = Path(__file__).with_name("script_leaves.js")


def leaves_of(*scripts: str) -> list[list[str]]:
    """Return the leaves of each script's syntax tree, by Debian's own reader of the language."""
    ran = subprocess.run(
        ["node", str(LEAVES)],
        input=json.dumps(scripts),
        capture_output=True,
        encoding="utf-8",
        check=True,
    )
    return list(json.loads(ran.stdout))


def test_no_script_loses_a_word_or_a_blank_inside_one():
    texts = {path: path.read_text(encoding="utf-8") for path in sorted(ASSETS.rglob("*.js"))}
    whole = leaves_of(*texts.values())
    sent = leaves_of(*map(jsmin, texts.values()))
    lost = {
        path.name: [(was, is_) for was, is_ in zip(before, after, strict=True) if was != is_]
        for path, before, after in zip(texts, whole, sent, strict=True)
        if before != after
    }
    assert lost == {}
    assert sum(map(len, whole)) > 10_000


def test_a_template_inside_a_template_is_what_would_lose_one():
    nested = "const words = `release ${1}${day ? ` of ${day}` : ''}`;"
    whole, sent = leaves_of(nested, jsmin(nested))
    assert whole != sent


RULES = """(text) => {
  const sheet = new CSSStyleSheet();
  sheet.replaceSync(text);
  // A property of our own is kept to the letter, also between the families of letters that it lists.
  return Array.from(sheet.cssRules, (rule) => rule.cssText.replace(/, /g, ","));
}"""


def test_a_sheet_as_sent_has_the_rules_of_its_sources(browser: object, site: Path) -> None:
    joined = yaml.safe_load((ASSETS.parent / "mkdocs.yml").read_text("utf-8"))["extra"]["joined"]
    sheets = {"ohmfolio.css": joined["ohmfolio.css"], "dark.css": ["dark.css"]}
    page = browser.new_page()
    for name, parts in {**sheets, "print.css": ["print.css"]}.items():
        written = "".join((ASSETS / part).read_text("utf-8") for part in parts)
        sent = (site / "assets" / name).read_text("utf-8")
        rules = page.evaluate(RULES, written)
        assert rules == page.evaluate(RULES, sent)
        assert rules
        assert rules != page.evaluate(RULES, sent.replace(":", ": x", 3))
    page.close()
