"""What many pages say alike: how long to wait for stored charge, or why there is none."""

import html
import re
import shutil
from pathlib import Path

import pytest

from generators.components import caution_line, family_cautions, fold, sentence
from generators.html import el
from generators.site_context import SiteContext
from kb.catalog import Catalog
from kb.check import check_notes
from kb.model import Family
from kb.words.catalogue import speaking

GOOD = Path(__file__).resolve().parents[1] / "data" / "entries" / "good"


@pytest.fixture
def good_copy(tmp_path: Path) -> Path:
    """Return a copy of the good notes, to change."""
    return Path(shutil.copytree(GOOD, tmp_path / "notes"))


def cautions(notes) -> str:
    loaded = check_notes(notes)
    assert loaded.problems == []
    return family_cautions(SiteContext(Catalog(loaded)), loaded.of(Family)["unit-a"])


def test_a_family_says_how_long_to_wait_and_what_to_measure(good_copy):
    assert (
        "<li><strong>Wait 5 minutes, then measure:</strong> below 30 V before you touch anything."
        "</li>"
    ) in cautions(good_copy)


def test_a_family_that_stores_nothing_says_why_and_has_it_measured_all_the_same(good_copy):
    path = good_copy / "docs_data" / "families" / "unit-a.yaml"
    path.write_text(
        path.read_text().replace("drain_min: 5", "drain_min: 0\nno_charge: It has <relays> only")
    )
    told = cautions(good_copy)
    assert (
        "<li><strong>Nothing is stored:</strong> It has &lt;relays&gt; only. Measure all the same: "
        "below 30 V before you touch anything.</li>"
    ) in told
    assert "Wait" not in told


def line_of_caution(notes) -> str:
    loaded = check_notes(notes)
    return str(caution_line(SiteContext(Catalog(loaded)), loaded.of(Family)["unit-a"]))


def summary_of(fold: str) -> str:
    summary = fold.partition("<summary>")[2].partition("</summary>")[0]
    return re.sub("<[^>]+>", "", summary).replace("\u00a0", " ")


def test_the_line_of_caution_says_what_to_do_and_unfolds_where_and_how(good_copy):
    line = line_of_caution(good_copy)
    assert (
        summary_of(line) == "⚠ Isolate, lock off, prove dead. Wait 5 min, then measure below 30 V."
    )
    family = check_notes(good_copy).of(Family)["unit-a"]
    for words in (family.supply.isolate_at, family.drain_at, *family.cautions):
        assert html.escape(sentence(words), quote=False) in line.partition("</summary>")[2]
    assert "never on sensors or boards" in line
    assert "The maker&#39;s instructions, local codes and licensed practice come first." in line


def test_the_line_of_a_family_that_stores_nothing_has_it_measured_all_the_same(good_copy):
    path = good_copy / "docs_data" / "families" / "unit-a.yaml"
    path.write_text(
        path.read_text().replace("drain_min: 5", "drain_min: 0\nno_charge: It has relays only")
    )
    line = line_of_caution(good_copy)
    assert summary_of(line).endswith("Nothing is stored: measure below 30 V all the same.")
    assert "It has relays only." in line


def test_a_fold_is_written_open_so_that_it_reads_without_scripts():
    folded = str(fold("Meters that judge it", el("p", "Any.")))
    assert folded == (
        '<details class="ohm-fold" open><summary><h2 id="meters-that-judge-it">'
        "Meters that judge it</h2></summary><p>Any.</p></details>"
    )
    assert fold("Past jobs", None) == ""


def test_the_five_rules_are_said_in_german_as_the_trade_says_them(good_copy):
    notes = check_notes(good_copy)
    with speaking("german"):
        shown = family_cautions(SiteContext(Catalog(notes)), notes.of(Family)["unit-a"])
    for words in (
        "Freischalten, gegen Wiedereinschalten sichern, Spannungsfreiheit feststellen.",
        "5 Minuten warten, dann messen.",
        "Unter 30 V müssen es sein, bevor du etwas berührst.",
        "nie an Fühlern oder Platinen",
        "Unter Spannung misst nur, wer dazu befugt ist.",
    ):
        assert words in shown
