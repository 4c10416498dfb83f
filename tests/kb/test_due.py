"""What waits for the keeper: every reason, its order, and that a build asks no clock."""

from __future__ import annotations

import datetime
from pathlib import Path

import pytest

from generators.make import make_entry
from generators.pages.due import make_due
from generators.pages.slip import slip_fold
from generators.site_context import SiteContext
from kb.catalog import Catalog
from kb.check import check_notes
from kb.check.publishing import refused_by_pack, unknown_number
from kb.due import Due, Keeping, waiting_as_built
from kb.model import KINDS, Case, Code, Curve, Entry, Family, Sensor, Slip
from kb.model.case import Cause, Reading
from kb.model.entry import Checked
from kb.model.slip import Settled
from kb.notes.load import Notes
from kb.notes.problem import Problem

TOP = Path(__file__).resolve().parents[2]
SENSOR = "quellmark-coil-in"
CODE = "quellmark-k6-2"
DAY = datetime.date(2026, 3, 4)


@pytest.fixture(scope="module")
def demo() -> Notes:
    return check_notes(TOP)


@pytest.fixture()
def notes(demo: Notes) -> Notes:
    """The demo, to be changed by one test."""
    entries = {kind: dict(found) for kind, found in demo.entries.items()}
    return Notes(folder=TOP, entries=entries, texts=demo.texts, team=demo.team)


def changed(notes: Notes, entry: Entry, **fields: object) -> Entry:
    new = entry.model_copy(update=fields)
    notes.entries[entry.kind][entry.id] = new
    return new


def due(notes: Notes, *, on: datetime.date = DAY) -> list[Due]:
    return Keeping(Catalog(notes), on).all()


def reasons(notes: Notes, entry: Entry, *, on: datetime.date = DAY) -> set[str]:
    key = (entry.kind, entry.id)
    return {item.reason for item in due(notes, on=on) if (item.entry.kind, item.entry.id) == key}


def add_case(notes: Notes, case_id: str, **fields: object) -> None:
    pattern = next(iter(notes.of(Case).values()))
    # What other tests put in stands in no file: its text is the pattern's.
    notes.texts = {**notes.texts, ("cases", case_id): notes.texts[("cases", pattern.id)]}
    blank = {"readings": [], "code": None, "family": "quellmark-rooftop"}
    notes.entries["cases"][case_id] = pattern.model_copy(update={**blank, **fields, "id": case_id})


def test_a_draft_is_due_and_a_checked_entry_is_not(notes):
    sensor = notes.of(Sensor)[SENSOR]
    assert reasons(notes, sensor) == set()
    assert reasons(notes, changed(notes, sensor, checked=None)) == {"unchecked"}


def test_a_check_is_old_one_day_after_the_team_s_limit(notes):
    sensor = notes.of(Sensor)[SENSOR]
    changed(notes, sensor, checked=Checked(by="XY", on=DAY))
    limit = datetime.timedelta(days=notes.team.check_again_after_days)
    assert "old" not in reasons(notes, sensor, on=DAY + limit)
    assert "old" in reasons(notes, sensor, on=DAY + limit + datetime.timedelta(days=1))


def test_a_sensor_without_pin_and_one_that_meets_temperatures_without_curve(notes):
    sensor = notes.of(Sensor)[SENSOR]
    assert reasons(notes, changed(notes, sensor, pinned=None)) == {"no-pin"}
    assert reasons(notes, changed(notes, sensor, curve=None)) == {"no-curve"}
    # A contact meets none.
    assert reasons(notes, changed(notes, sensor, curve=None, meets_c=None)) == set()


def test_a_family_without_drawing_or_with_sketches_only(notes):
    family = notes.of(Family)["quellmark-rooftop"]
    assert reasons(notes, family) == {"no-photo"}
    assert reasons(notes, changed(notes, family, drawings=[])) == {"no-drawing"}


def test_a_curve_without_tolerance(notes):
    curve = next(
        curve for curve in notes.of(Curve).values() if curve.tolerance and curve.law == "table"
    )
    assert reasons(notes, curve) == set()
    assert reasons(notes, changed(notes, curve, tolerance=None)) == {"no-tolerance"}


def test_two_jobs_that_ended_in_something_else_speak_against_a_code_and_one_does_not(notes):
    code = notes.of(Code)[CODE]
    add_case(notes, "odd-1", code=CODE, cause=Cause(what="A leaf in the fan"))
    assert "other-cause" not in reasons(notes, code)
    add_case(notes, "odd-2", code=CODE, cause=Cause(what="Two leaves in the fan"))
    assert "other-cause" in reasons(notes, code)


@pytest.mark.parametrize(
    ("off_k", "against"), [((6, 7, 5), True), ((6, 7, -5), False), ((1, 2, 1), False)]
)
def test_three_sound_readings_off_one_way_speak_against_a_curve(notes, off_k, against):
    sensor = notes.of(Sensor)[SENSOR]
    curve = Catalog(notes).characteristic_of_sensor(sensor)
    for i, off in enumerate(off_k):
        reading = Reading(sensor=SENSOR, r=str(curve.r_ohm(10.0 + off)), t_c="10", after="after")
        add_case(notes, f"sound-{i}", readings=[reading], cause=Cause(what="A fan"))
    for case in list(notes.of(Case).values()):
        if not case.id.startswith("sound-"):
            changed(notes, case, readings=[])
    assert ("off-curve" in reasons(notes, sensor)) is against


def test_what_check_warns_of_is_due_at_its_line(notes):
    sensor = notes.of(Sensor)[SENSOR]
    file = notes.texts[("sensors", SENSOR)].file
    notes.problems = [
        Problem(file, 7, 1, "odd", "this is odd", warning=True),
        Problem(file, 9, 1, "bad", "this is bad"),
    ]
    assert [(item.reason, item.line) for item in due(notes) if item.entry.id == sensor.id] == [
        ("warned", 7)
    ]


def test_what_check_warns_of_in_no_entry_is_due_by_its_file(notes):
    notes.problems = [Problem("content/safety.md", 3, 1, "odd", "this is odd", warning=True)]
    (item,) = [item for item in due(notes) if item.entry is None]
    assert (item.file, item.line, item.reason) == ("content/safety.md", 3, "warned")
    # The team's page is about entries.
    context = SiteContext(Catalog(notes), root="")
    assert item in context.waiting
    assert "this is odd" not in str(make_due(context).body)


def test_a_slip_about_an_entry_that_is_gone_is_due_with_what_it_says(notes):
    add_slip(notes, entry="sensors/gone")
    file = "docs_data/slips/a.yaml"
    notes.problems = [
        Problem(file, 1, 8, "unknown-entry", "there is no sensor 'gone'", warning=True)
    ]
    (item,) = [item for item in due(notes) if item.entry is None]
    assert (item.file, item.slip.slip.wrong) == (file, "The plug is CN3")


def test_what_pack_refuses_stands_first_and_an_unknown_number_is_due(notes):
    team = notes.team.model_copy(update={"published": None})
    notes.team, notes.release, notes.release_text = team, None, None
    sensor = notes.texts[("sensors", SENSOR)].file
    refused = [
        Problem("docs_data/team.yaml", 2, 1, "private", "'a@b.example' is no", warning=True),
        Problem(sensor, 4, 1, "to-come", "2062-01-01 is still to come", warning=True),
    ]
    found = Keeping(Catalog(notes), DAY, [*refused, *unknown_number(notes)]).all()
    assert [(item.file, item.line, item.reason) for item in found[:2]] == [
        (sensor, 4, "refused"),
        ("docs_data/team.yaml", 2, "refused"),
    ]
    assert [item.reason for item in found].count("no-number") == 1
    notes.team = team.model_copy(update={"published": "https://notes.example/"})
    assert [*unknown_number(notes)] == []


def test_a_build_works_out_what_is_due_once(notes, monkeypatch):
    context = SiteContext(Catalog(notes))
    asked = []
    whole = Keeping.all
    monkeypatch.setattr(Keeping, "all", lambda self: asked.append(self) or whole(self))
    assert context.at_root().waiting is context.waiting
    assert len(asked) == 1


def test_a_build_finds_what_pack_refuses_without_a_clock(notes):
    changed(notes, notes.of(Sensor)[SENSOR], checked=Checked(by="XY", on=datetime.date(2062, 1, 1)))
    assert refused_by_pack(notes, today=datetime.date.max) == []
    assert [fault.rule for fault in refused_by_pack(notes, today=DAY)].count("to-come") >= 1


def test_first_stands_what_most_past_jobs_came_by_over_codes_sensors_and_curves(notes):
    code = notes.of(Code)[CODE]
    assert any(suspect.key == ("sensor", SENSOR) for suspect in code.suspects)
    sensor = notes.of(Sensor)[SENSOR]
    changed(notes, sensor, checked=None)
    before = next(item.jobs for item in due(notes) if item.entry.id == SENSOR)
    for i in range(30):
        # The case names the code alone: its suspects, and their curves, are used by it.
        add_case(notes, f"more-{i}", code=CODE, cause=Cause(what="A leaf"))
    found = [item for item in due(notes) if item.entry.kind != "families"]
    waiting = next(item for item in found if item.entry.id == SENSOR)
    assert waiting.jobs == before + 30
    assert found[0].jobs >= found[-1].jobs
    assert [item.jobs for item in found] == sorted((item.jobs for item in found), reverse=True)
    assert found.index(waiting) < 3


def test_a_build_counts_ages_to_the_newest_day_of_the_notes(notes):
    sensor = notes.of(Sensor)[SENSOR]
    newest = Catalog(notes).newest_day
    assert newest >= max(case.on for case in notes.of(Case).values())
    changed(notes, sensor, checked=Checked(by="XY", on=newest + datetime.timedelta(days=1)))
    assert Catalog(notes).newest_day == newest + datetime.timedelta(days=1)
    assert waiting_as_built(Catalog(notes)) == due(notes, on=Catalog(notes).newest_day)


def test_the_page_names_each_entry_with_its_reason(notes):
    changed(notes, notes.of(Sensor)[SENSOR], pinned=None)
    text = str(make_due(SiteContext(Catalog(notes), root="")).body)
    assert f'href="sensors/{SENSOR}.html"' in text
    assert "No pin on a drawing: nobody sees where it sits." in text
    assert "no pin: 1" in text


def add_slip(notes: Notes, **fields: object) -> None:
    text = {"entry": f"sensors/{SENSOR}", "wrong": "The plug is CN3", "by": "ZQ", "on": DAY}
    notes.slips["docs_data/slips/a.yaml"] = Slip(**{**text, **fields})


def test_an_open_slip_stands_first_among_what_is_due_of_its_entry(notes):
    changed(notes, notes.of(Sensor)[SENSOR], checked=None, pinned=None)
    add_slip(notes)
    assert [item.reason for item in due(notes) if item.entry.id == SENSOR] == [
        "slip",
        "no-pin",
        "unchecked",
    ]
    add_slip(notes, settled=Settled(by="XY", on=DAY))
    assert "slip" not in reasons(notes, notes.of(Sensor)[SENSOR])


def test_the_team_sees_that_there_is_a_slip_and_neither_by_whom_nor_its_words(notes):
    add_slip(notes)
    context = SiteContext(Catalog(notes))
    text = str(make_due(context.at_root()).body)
    assert "told by the team: 1" in text
    assert "Somebody of the team says that something here is wrong." in text
    fold = str(slip_fold(context, notes.of(Sensor)[SENSOR]))
    assert "Already told, and not settled yet: 1." in fold
    assert "ZQ" not in text + fold
    assert "CN3" not in text + fold


def test_a_slip_may_be_about_any_entry_and_its_form_names_entry_and_file(notes):
    context = SiteContext(Catalog(notes))
    for kind in KINDS:
        entry = next(iter(notes.of_kind(kind).values()))
        page = str(make_entry(context, entry, charts={}, curves={}).body)
        read = notes.texts[(kind, entry.id)]
        assert page.count(f"<pre>entry: {kind}/{entry.id}\nwrong: …\n") == 1
        assert f"\nversion: {read.version}\n</pre>" in page
        assert f"It is about {read.file}." in page
