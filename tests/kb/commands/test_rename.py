"""Another id follows every place that names it, at once or not at all; what is named is not removed."""

from __future__ import annotations

import html
import json
from pathlib import Path

import pytest

from generators.make import make_site
from generators.plan import plan_site
from generators.release.coming_release import coming_release
from generators.site_context import SiteContext
from kb import writer
from kb.catalog import Catalog
from kb.check import check_notes
from kb.model import Family, Sensor

SENSOR = "docs_data/sensors/unit-a/suction-a.yaml"


def _files(notes: Path) -> dict[str, bytes]:
    return {
        path.relative_to(notes).as_posix(): path.read_bytes()
        for path in sorted(notes.rglob("*"))
        if path.is_file()
    }


def _append(notes: Path, file: str, text: str) -> None:
    with (notes / file).open("a", encoding="utf-8") as opened:
        opened.write(text)


def test_every_place_follows_and_all_else_stays_as_it_was_typed(run, notes):
    _append(notes, "content/safety.md", "\nSee [it](sensors/suction-a.md), not suction-a.\n")
    _append(notes, "docs_data/lessons/first.yaml", "# about suction-a\n")
    lesson = notes / "docs_data/lessons/first.yaml"
    text = lesson.read_text().replace("codes/a-k4-2,", "'sensors/suction-a',")
    lesson.write_text(text)
    before = _files(notes)
    told = run("rename", "suction-a", "gas-a", "--notes", notes)
    assert told.exit_code == 0, told.output
    after = _files(notes)
    changed = {path for path in before.keys() | after.keys() if before.get(path) != after.get(path)}
    new = SENSOR.replace("suction-a", "gas-a")
    assert changed == {
        SENSOR,
        new,
        "content/safety.md",
        "docs_data/cases/2026-02-01-suction.yaml",
        "docs_data/codes/unit-a/a-k4-2.yaml",
        "docs_data/lessons/first.yaml",
        "docs_data/parts/board-a.yaml",
    }
    assert SENSOR not in after
    assert after[new] == before[SENSOR] + b"was: [suction-a]\n"
    for path in changed - {SENSOR, new, "content/safety.md", "docs_data/lessons/first.yaml"}:
        assert after[path] == before[path].replace(b"suction-a", b"gas-a")
    assert b"(sensors/gas-a.md), not suction-a." in after["content/safety.md"]
    assert b"'sensors/gas-a'," in after["docs_data/lessons/first.yaml"]
    assert after["docs_data/lessons/first.yaml"].endswith(b"# about suction-a\n")
    assert check_notes(notes).problems == []
    assert told.output.startswith(
        "'suction-a' is 'gas-a' now, in 6 files; sensors/suction-a.html will lead to its new page.\n"
    )


def test_a_slip_of_the_team_follows_and_keeps_its_entry_from_being_removed(run, notes):
    slip = notes / "docs_data/slips/wrong-plug.yaml"
    slip.parent.mkdir()
    slip.write_text("entry: sensors/suction-a\nwrong: It is on X9.\nby: AB\n'on': 2026-01-02\n")
    refused = run("remove", "sensors/suction-a", "--notes", notes)
    assert (refused.exit_code, "docs_data/slips/wrong-plug.yaml:1:8" in refused.output) == (1, True)
    assert run("rename", "suction-a", "gas-a", "--notes", notes).exit_code == 0
    assert slip.read_text().startswith("entry: sensors/gas-a\n")
    assert check_notes(notes).problems == []


def test_a_source_and_the_teams_meter_follow_too(run, notes):
    assert run("rename", "bench-sheet", "our-sheet", "--notes", notes).exit_code == 0
    assert run("rename", "instruments/bench-meter", "pocket-meter", "--notes", notes).exit_code == 0
    assert check_notes(notes).problems == []
    assert "meter: pocket-meter" in (notes / "docs_data/team.yaml").read_text()


def test_the_old_address_leads_to_the_new_page(run, notes):
    run("rename", "suction-a", "gas-a", "--notes", notes)
    read = check_notes(notes)
    context, plan = SiteContext(Catalog(read)), plan_site(read)
    coming = coming_release(context, history=[], pages=plan.pages)
    pages = make_site(context, plan, charts={}, curves={}, coming=coming).pages
    page = pages["sensors/suction-a.md"]
    assert "moved_to: ../sensors/gas-a.html\n" in page
    assert 'This page has another address now: <a href="../sensors/gas-a.html">' in page
    assert plan.pages == len(pages)


def test_the_page_of_a_familys_jobs_moves_with_it_and_the_phone_is_told_its_former_name(run, notes):
    family = next(iter(check_notes(notes).of(Family)))
    assert run("rename", f"families/{family}", "our-roof", "--notes", notes).exit_code == 0
    read = check_notes(notes)
    context, plan = SiteContext(Catalog(read)), plan_site(read)
    coming = coming_release(context, history=[], pages=plan.pages)
    pages = make_site(context, plan, charts={}, curves={}, coming=coming).pages
    page = pages[f"jobs/{family}.md"]
    assert "moved_to: ../jobs/our-roof.html\n" in page
    assert '<a href="../jobs/our-roof.html">' in page
    assert (
        f"- id: our-roof\n  name: {read.of(Family)['our-roof'].name}\n  was: {family}\n"
        in (pages["sensors/suction-a.md"])
    )
    assert f'"{family}":' in html.unescape(pages["index.md"])
    assert plan.pages == len(pages)


def test_going_back_keeps_both_addresses_alive(run, notes):
    run("rename", "suction-a", "gas-a", "--notes", notes)
    assert run("rename", "gas-a", "suction-a", "--notes", notes).exit_code == 0
    assert check_notes(notes).of(Sensor)["suction-a"].was == ["gas-a"]
    assert check_notes(notes).problems == []


@pytest.mark.parametrize(
    ("words", "message"),
    [
        (("suction-a", "air-a"), "'air-a' is taken by another sensor; choose another id"),
        (
            ("suction-a", "Gas A"),
            "'Gas A' cannot be an id; use small letters, digits and single hyphens, such as gas-a",
        ),
        (("suctoin-a", "gas-a"), "there is no entry 'suctoin-a'; did you mean 'suction-a'?"),
        (("sensor/suction-a", "gas-a"), "there is no kind 'sensor'; did you mean 'sensors'?"),
    ],
)
def test_what_cannot_be_renamed_changes_nothing(run, notes, words, message):
    before = _files(notes)
    told = run("rename", *words, "--notes", notes)
    assert (told.exit_code, told.output) == (2, f"Error: {message}\n")
    assert _files(notes) == before


def test_a_file_that_cannot_be_read_may_name_it_and_nothing_is_changed(run, notes):
    (notes / "docs_data/codes/unit-a/a-no.yaml").write_text("name: [")
    before = _files(notes)
    told = run("rename", "suction-a", "gas-a", "--notes", notes)
    assert told.exit_code == 1
    assert told.output.startswith("Error: a file cannot be read, so not every place is known")
    assert _files(notes) == before


def test_a_disk_that_refuses_half_way_leaves_every_file_as_it_was(run, notes, monkeypatch):
    before, writes, whole = _files(notes), [], writer._arriving_beside

    def full_at_the_third(path, content, **more):
        writes.append(path)
        if len(writes) == 3:
            raise OSError(28, "No space left on device", str(path))
        return whole(path, content, **more)

    monkeypatch.setattr(writer, "_arriving_beside", full_at_the_third)
    told = run("rename", "suction-a", "gas-a", "--notes", notes)
    assert told.exit_code == 1
    assert "nothing was changed" in told.output
    assert _files(notes) == before


def test_nothing_is_removed_while_something_names_it(run, notes):
    before = _files(notes)
    told = run("remove", "sensors/suction-a", "--notes", notes)
    assert told.exit_code == 1
    assert told.output == (
        "Error: 6 places still name the sensor 'suction-a'; nothing was removed. Take it out there "
        "first:\n"
        "  docs_data/cases/2026-02-01-suction.yaml:8:12\n"
        "  docs_data/cases/2026-02-01-suction.yaml:9:12\n"
        "  docs_data/cases/2026-02-01-suction.yaml:11:17\n"
        "  docs_data/codes/unit-a/a-k4-2.yaml:12:12\n"
        "  docs_data/codes/unit-a/a-k4-2.yaml:15:12\n"
        "  docs_data/parts/board-a.yaml:21:60\n"
    )
    assert _files(notes) == before


def test_what_nothing_names_is_removed(run, notes):
    told = run("remove", "2026-02-01-suction", "--notes", notes, "--json")
    assert json.loads(told.output) == {
        "kind": "cases",
        "removed": "2026-02-01-suction",
        "file": "docs_data/cases/2026-02-01-suction.yaml",
    }
    assert not (notes / "docs_data/cases/2026-02-01-suction.yaml").exists()
