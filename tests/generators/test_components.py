"""What many pages say alike: how long to wait for stored charge, or why there is none."""

import shutil
from pathlib import Path

import pytest

from generators.components import family_cautions
from generators.site_context import SiteContext
from kb.catalog import Catalog
from kb.check import check_notes
from kb.model import Family

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
