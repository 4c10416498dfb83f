"""Hand-written pages keep every word; on the Safety page the team's own words stand first."""

from __future__ import annotations

from pathlib import Path

import pytest
from mkdocs.utils.meta import get_data

from generators.components import family_cautions, method_cautions
from generators.pages.own import make_own, own_title
from generators.site_context import SiteContext
from kb.catalog import Catalog
from kb.check import check_notes
from kb.model import Family, Method

GOOD = Path(__file__).resolve().parents[1] / "data" / "entries" / "good"
WORDS = "Nobody works alone.\n\nRing the office & wait."


def context_with(safety: str | None) -> SiteContext:
    notes = check_notes(GOOD)
    assert notes.team is not None
    notes.team = notes.team.model_copy(update={"safety": safety})
    return SiteContext(Catalog(notes), root="")


HEAD = "---\nkind: page\n---\n\n"
BOX = (
    '<aside class="ohm-caution" aria-label="The rules of Test bench">'
    '<h2><span aria-hidden="true">⚠</span> The rules of Test bench</h2>'
    "<p>Nobody works alone.</p><p>Ring the office &amp; wait.</p></aside>"
)


@pytest.mark.parametrize(
    ("written", "made"),
    [
        ("# Safety\n\nIsolate.\n", f"{HEAD}# Safety\n\n{BOX}\n\n\nIsolate.\n"),
        ("Isolate.\n", f"{HEAD}{BOX}\n\nIsolate.\n"),
        (
            "---\ntitle: Safety\n---\nIsolate.\n",
            f'---\nkind: page\ntitle: "Safety"\n---\n\n{BOX}\n\nIsolate.\n',
        ),
    ],
    ids=["under its heading", "without a heading", "after its front matter"],
)
def test_the_teams_words_come_before_ours_on_the_safety_page(written, made):
    assert make_own(context_with(WORDS), "safety", markdown=written) == made


@pytest.mark.parametrize(("name", "safety"), [("safety", None), ("roofs", WORDS)])
def test_any_other_page_and_a_team_without_words_change_nothing(name, safety):
    assert make_own(context_with(safety), name, markdown="# Page\r\n") == f"{HEAD}# Page\r\n"


LOST = "Warning: never work alone on the roof.\nDate: of the last check\n"


@pytest.mark.parametrize(
    "written",
    [
        LOST,
        f"\n{LOST}",
        f"---\n{LOST}---\n",
        "---\nNever work alone.\n---\n",
        "---\ntemplate: other.html\n---\n",
        "---\nkind: [a]\ntrail: [{title: x, href: <b>}]\n---\n",
        "---\ntitle: [Never, alone]\n---\n",
        "---\n: {\n---\n",
        "---\nRoof\n",
    ],
)
def test_no_word_before_the_text_is_taken_for_a_head(written):
    made = make_own(context_with(None), "roofs", markdown=written)
    text, head = get_data(made)
    assert text.strip() == written.strip()
    assert head == {"kind": "page"}


def test_a_title_and_a_summary_are_a_page_s_head():
    written = '---\ntitle: "Roofs: flat"\nsummary: yes\n---\nIsolate.\n'
    text, head = get_data(make_own(context_with(None), "roofs", markdown=written))
    assert text == "Isolate.\n"
    assert head == {"kind": "page", "title": "Roofs: flat", "summary": "yes"}
    assert own_title(written) == "Roofs: flat"


def test_the_teams_words_come_first_wherever_the_rules_are_summed_up():
    context = context_with(WORDS)
    family = context.catalog.get(Family, "unit-a")
    method = context.catalog.get(Method, "ohms")
    first = "<ul><li>Nobody works alone.</li><li>Ring the office &amp; wait.</li><li>"
    whole, folded = family_cautions(context, family, whole=True), family_cautions(context, family)
    assert f"Before you measure</h2>{first}<strong>Isolate, lock off" in whole
    assert f"what else on this machine</summary>{first}Isolate: " in folded
    assert f"Before you start</h2>{first}Isolate and lock off" in method_cautions(context, method)
