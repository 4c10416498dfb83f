"""Stickers: where each sits on its sheet, what its code may hold, what is refused."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path

import pytest
import segno

from generators.labels.label_page import label_page, sheets_needed
from generators.labels.qr_code import (
    LEAST_MODULE_MM,
    LEAST_SIDE_MM,
    LEVEL,
    MOST_BYTES,
    TooLong,
    held_to,
    qr_code,
)
from generators.labels.sticker import Sticker, TooManyWords, code_room, side_of, sticker
from generators.publish.label_files import NoAddress, WhichMachine, make_labels, sheet_named
from kb.catalog import Catalog
from kb.check import check_notes
from kb.label_sheets import MEASURED, PAPERS_MM, SHEETS, USUAL, NotASheet, measured_sheet
from kb.model.team import web_address
from kb.model.words import Fault

TOP = Path(__file__).resolve().parents[2]
ADDRESS = "https://notes.larkmoor.example/team/families/quellmark-rooftop.html"


def of(address: str = ADDRESS, *, lines: tuple[str, ...] = (), name: str = "Roof unit") -> Sticker:
    return Sticker(code=qr_code(address), name=name, lines=lines, team="Larkmoor Cooling")


@pytest.mark.parametrize("name", SHEETS)
def test_every_sheets_stickers_lie_on_its_paper_and_apart(name: str) -> None:
    sheet = SHEETS[name]
    wide, high = PAPERS_MM[sheet.paper]
    places = list(sheet.places())
    assert len({*places}) == sheet.stickers == sheet.columns * sheet.rows
    assert min(min(place) for place in places) >= 0
    assert places[-1][0] + sheet.wide + sheet.left == pytest.approx(wide)
    assert places[-1][1] + sheet.high + sheet.top == pytest.approx(high)
    assert side_of(qr_code(ADDRESS), sheet=sheet) >= 20
    assert code_room(qr_code(ADDRESS), side_mm=20) == pytest.approx(20 * 49 / 41)


def test_a_sheet_is_taken_as_somebody_measured_it() -> None:
    sheet = measured_sheet(MEASURED.replace("63.5", "63,5 mm,"), paper="a4")
    assert (sheet.columns, sheet.rows, sheet.wide, sheet.across) == (3, 7, 63.5, 66.0)
    assert list(sheet.places())[4] == pytest.approx((7.2 + 66, 15.1 + 38.1))


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("columns=3 rows=7", "missing: wide, high, left, top, across, down"),
        (f"{MEASURED} depth=3", "no such length: depth"),
        (MEASURED.replace("=63.5", "=a lot"), "'wide=a lot high=38.1 left=7.2 top=15.1"),
        (MEASURED.replace("rows=7", "rows=8"), "ends at 202.7 × 319.9 mm, and a4 is 210.0 × 297.0"),
        (MEASURED.replace("across=66", "across=60"), "stickers may not overlap"),
        (MEASURED.replace("rows=7", "rows=6.5"), "columns and rows are whole numbers"),
        (MEASURED.replace("rows=7", "rows=0"), "a sheet has a sticker at least"),
    ],
)
def test_lengths_that_describe_no_sheet_are_refused(text: str, why: str) -> None:
    with pytest.raises(NotASheet, match=re.escape(why)):
        measured_sheet(text, paper="a4")


def test_the_table_of_what_a_code_holds_is_that_of_the_standard() -> None:
    for version, most in MOST_BYTES.items():
        made = [
            segno.make("a" * n, error=LEVEL, mode="byte", micro=False) for n in (most, most + 1)
        ]
        assert [code.version for code in made] == [version, version + 1]


def test_an_address_is_refused_when_its_modules_would_be_too_fine() -> None:
    root = "https://notes.example/"
    longest = root + "a" * (MOST_BYTES[8] - len(root))
    # ISO/IEC 18004: version 8 has 49 modules on a side.
    assert held_to(qr_code(longest), side_mm=49 * LEAST_MODULE_MM).modules == 49
    with pytest.raises(TooLong, match=r"has 109 signs \(https.*a code of 20 mm holds 108\."):
        held_to(qr_code(longest + "a"), side_mm=20)
    with pytest.raises(TooLong, match="the code would be 17 mm wide on such a sticker"):
        held_to(qr_code(root), side_mm=LEAST_SIDE_MM - 1)


def test_words_that_do_not_fit_are_refused_and_those_that_do_are_as_large_as_they_go() -> None:
    small = SHEETS["letter-3x10"]
    with pytest.raises(TooManyWords, match="shorten Roof unit / a / b / c / d / e / f"):
        sticker(of(lines=tuple("abcdef")), sheet=small)

    def size_pt(sheet: str) -> float:
        made = sticker(of(lines=tuple("abc")), sheet=SHEETS[sheet])
        return float(re.findall(r"font-size:([\d.]+)pt", made)[0])

    assert size_pt("letter-3x10") < size_pt("a4-2x4") == 13


def test_stickers_begin_where_a_used_sheet_is_still_whole() -> None:
    sheet = SHEETS["a4-3x7"]
    page = label_page([of()] * 3, sheet=sheet, first=20)
    assert page.count('class="sheet"') == sheets_needed(3, sheet=sheet, first=20) == 2
    at = re.findall(r"left:([\d.]+)mm;top:([\d.]+)mm", page)
    places = [tuple(f"{x:.2f}" for x in place) for place in sheet.places()]
    assert at == [places[19], places[20], places[0]]
    assert "@page { size: A4; margin: 0; }" in page
    assert "<script" not in page and "http" not in page.replace("http-equiv", "").replace(
        "http://www.w3.org", ""
    ).replace(ADDRESS, "")


def test_a_sticker_needs_an_address_and_a_machine_of_its_own() -> None:
    notes = check_notes(TOP)
    assert notes.team is not None
    asked = {"copies": 1, "sheet": sheet_named(None, measured=None, team=notes.team), "first": 1}
    ours = {"families": ["quellmark-rooftop"], "texts": ["Roof east; 4711", "Roof west"]}
    labels = make_labels(notes, **asked, **ours, address=None)
    assert labels.addresses == (ADDRESS,)
    assert labels.stickers == 2 and labels.sheets == 1
    assert ">Roof east<" in labels.page and ">4711<" in labels.page
    with pytest.raises(WhichMachine, match="name the one family"):
        make_labels(notes, **asked, families=[], texts=["Roof"], address=None)
    with pytest.raises(NotASheet, match="the places 1 to 21: there is no 22"):
        make_labels(notes, **{**asked, **ours, "first": 22}, address=None)
    team = notes.team.model_copy(update={"address": None})
    notes = replace(notes, team=team)
    with pytest.raises(NoAddress, match=re.escape("'address: https://notes.example/")):
        make_labels(notes, **asked, **ours, address=None)
    team = team.model_copy(update={"published": "https://notes.example/other"})
    notes = replace(notes, team=team)
    assert make_labels(notes, **asked, **ours, address=None).addresses == (
        "https://notes.example/other/families/quellmark-rooftop.html",
    )


@pytest.mark.parametrize(
    "address",
    ["notes.example", "/srv/www", "https:///team", "https://a b/", "https://n/?x=1", "ftp://n/"],
)
def test_what_no_browser_opens_is_no_address(address: str) -> None:
    with pytest.raises(Fault, match="is no address that a browser opens"):
        web_address(address)


def test_each_paper_has_a_usual_sheet() -> None:
    team = Catalog(check_notes(TOP)).team
    for paper, name in USUAL.items():
        on = team.model_copy(update={"paper": paper})
        assert sheet_named(None, measured=None, team=on) is SHEETS[name]
        shorter = MEASURED.replace("rows=7", "rows=6")
        assert sheet_named(None, measured=shorter, team=on).paper == paper
