"""`serve` keeps what editors offer up to the notes, whether the notes are sound or not."""

from __future__ import annotations

import shutil
from pathlib import Path

from generators import site_commands
from generators.shown_site import ShownSite

GOOD = Path(__file__).resolve().parents[1] / "data" / "entries" / "good"


def test_a_rebuild_brings_the_ids_up_to_the_notes(tmp_path, monkeypatch):
    def faulty(folder, *, out, onlooker):
        raise site_commands.BUILD_REFUSALS[0]("two pages have one name")

    monkeypatch.setattr(site_commands, "build", faulty)
    notes = Path(shutil.copytree(GOOD, tmp_path / "notes"))
    (notes / ".build" / "schema").mkdir(parents=True)
    (notes / "docs_data/curves/beta-two.yaml").write_text("law: beta\n")
    assert site_commands._rebuild(notes, ShownSite(tmp_path / "site")) == "two pages have one name"
    assert '"beta-two"' in (notes / ".build/schema/sensors.json").read_text()
