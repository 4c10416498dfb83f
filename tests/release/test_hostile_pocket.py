"""Hostile names and pages stay words in a family's single file; odd days still make a zip."""

from __future__ import annotations

import io
import re
import shutil
import zipfile
from pathlib import Path

import pytest

from generators.html_tags import read_tags
from generators.publish.pack import zipped
from generators.publish.pockets import write_pockets
from kb.release_format.head import Head

GOOD = Path(__file__).resolve().parents[1] / "data" / "entries" / "good"
NAME = "Meter </script><img/src=x/onerror=y>"
PAGE = """Warning: never work alone on the roof.

# Safety

Words </p></div></div> after it.
"""


def test_a_name_that_ends_scripts_and_a_page_that_ends_its_frame_stay_words(tmp_path):
    notes = Path(shutil.copytree(GOOD, tmp_path / "notes"))
    for path in [
        *(notes / "docs_data/instruments").iterdir(),
        *(notes / "docs_data/sensors").rglob("*.yaml"),
    ]:
        path.write_text(re.sub("(?m)^name: .*$", f'name: "{NAME}"', path.read_text()))
    (notes / "content/safety.md").write_text(PAGE.replace("</p></div></div> ", ""))
    (path, _), *_ = write_pockets(notes, families=("unit-a",), to=tmp_path / "pocket")
    text = path.read_text()
    assert "never work alone on the roof." in text
    assert text.lower().count("<script") == text.lower().count("</script>")
    assert [tag for tag in read_tags(text) if "onerror" in tag.attributes] == []


@pytest.mark.parametrize(
    ("date", "year"), [("2126-02-28", 2107), ("0001-01-01", 1980), ("", 1980), ("2026-02-28", 2026)]
)
def test_a_release_of_any_day_makes_a_zip(date, year):
    head = Head(number=1, date=date, title="A", team="B")
    packed = zipfile.ZipFile(io.BytesIO(zipped([("a", b"b")], head=head)))
    assert packed.infolist()[0].date_time[0] == year
