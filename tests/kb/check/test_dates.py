"""Dates that are still to come are for `check` alone: what a build makes never asks the clock."""

from __future__ import annotations

import datetime

from kb.check import check_notes
from kb.check.dates import dates_to_come, years_to_come


def test_a_date_of_today_is_no_fault_and_one_of_tomorrow_is(good):
    notes = check_notes(good)
    newest = datetime.date(2026, 2, 4)
    assert list(dates_to_come(notes, today=newest)) == []
    before = [one.headline() for one in dates_to_come(notes, today=datetime.date(2026, 2, 3))]
    assert before == [
        "docs_data/cases/2026-02-03-motor.yaml:10:23: warning: to-come: 2026-02-04 is still to "
        "come, and a phone would never call its copy old"
    ]


def test_what_a_build_asks_for_knows_no_dates_to_come(notes):
    path = notes / "docs_data" / "cases" / "2026-02-03-motor.yaml"
    path.write_text(path.read_text().replace("on: 2026-02-04", "on: 2999-02-04"))
    assert check_notes(notes).problems == []


def test_a_release_of_a_day_to_come_and_a_year_of_a_source_are_asked_about(notes):
    (notes / "docs_data/release.yaml").write_text("number: 3\ndate: 2062-01-05\n")
    sheet = notes / "docs_data/sources/bench-sheet.yaml"
    sheet.write_text(sheet.read_text().replace("year: 2026", "year: 2062"))
    read, today = check_notes(notes), datetime.date(2026, 11, 27)
    assert [one.headline() for one in dates_to_come(read, today=today)] == [
        "docs_data/release.yaml:2:7: warning: to-come: 2062-01-05 is still to come, and a phone "
        "would never call its copy old"
    ]
    assert [one.headline() for one in years_to_come(read, today=today)] == [
        "docs_data/sources/bench-sheet.yaml:5:7: warning: year-to-come: 2062 is still to come"
    ]
