"""Notes that are read as they are asked answer as notes that are read whole."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from kb.catalog import Catalog
from kb.code_facts import known_families
from kb.model import KINDS, Case, Code, Family, Instrument, Method, Part, Sensor
from kb.notes import late
from kb.notes.late import LateNotes, open_notes
from kb.notes.load import load_notes

TOP = Path(__file__).resolve().parents[3]
BAD = TOP / "tests" / "data" / "entries" / "bad"
MODELS = (Case, Code, Family, Instrument, Method, Part, Sensor)


@pytest.fixture(scope="module")
def whole() -> Catalog:
    return Catalog(load_notes(TOP))


@pytest.fixture
def opened() -> Catalog:
    return Catalog(open_notes(TOP))


@pytest.mark.parametrize("kind", KINDS)
def test_going_over_a_kind_reads_all_of_it(whole: Catalog, opened: Catalog, kind: str) -> None:
    assert list(opened.notes.of_kind(kind).items()) == list(whole.notes.of_kind(kind).items())
    assert opened.notes.ids(kind) == whole.notes.ids(kind)


@pytest.mark.parametrize("model", MODELS)
def test_whoever_names_an_entry_is_found(whole: Catalog, opened: Catalog, model: type) -> None:
    for target in (Sensor, Part, Code, Family, Method, Instrument):
        for entry_id, entry in whole.all(target).items():
            found = opened.users_of(opened.get(target, entry_id), model)
            assert found == whole.users_of(entry, model), entry_id


def test_families_codes_and_past_jobs_are_the_same(whole: Catalog, opened: Catalog) -> None:
    assert known_families(opened) == known_families(whole)
    for code in whole.all(Code).values():
        assert opened.cases_of(code) == whole.cases_of(code)
    for family_id in whole.all(Family):
        assert opened.of_family(Part, family_id) == whole.of_family(Part, family_id)


def test_one_question_reads_few_files(monkeypatch: pytest.MonkeyPatch) -> None:
    read: list[str] = []
    real = late.load_entry
    monkeypatch.setattr(
        late, "load_entry", lambda raw, **how: (read.append(how["file"]), real(raw, **how))[1]
    )
    catalog = Catalog(open_notes(TOP))
    sensor = next(iter(load_notes(TOP).of(Sensor)))
    catalog.codes_accusing(catalog.get(Sensor, sensor))
    assert 1 < len(read) < 20


def test_an_id_written_with_escapes_is_not_passed_over(tmp_path: Path) -> None:
    shutil.copytree(TOP / "docs_data", tmp_path / "docs_data")
    whole = load_notes(tmp_path)
    case = next(iter(whole.of(Case).values()))
    file = tmp_path / whole.texts[("cases", case.id)].file
    code = Catalog(whole).get(Code, case.code)
    escaped = '"' + "".join(f"\\x{ord(sign):02x}" for sign in code.id) + '"'
    text = file.read_text(encoding="utf-8").replace(f"code: {code.id}", f"code: {escaped}")
    file.write_text(text, encoding="utf-8")
    assert escaped in text
    assert case.id in {found.id for found in Catalog(open_notes(tmp_path)).cases_of(code)}


@pytest.mark.parametrize("folder", sorted(path.name for path in BAD.iterdir() if path.is_dir()))
def test_what_cannot_be_read_is_broken_here_too(folder: str) -> None:
    whole, opened = load_notes(BAD / folder), open_notes(BAD / folder)
    assert isinstance(opened, LateNotes)
    for kind in KINDS:
        assert list(opened.of_kind(kind)) == list(whole.of_kind(kind))
    assert opened.broken == whole.broken
