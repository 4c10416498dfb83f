"""`ohmfolio add`: by flags where nobody can be asked; it writes a tidy entry, and nothing over."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from kb.check import check_notes
from kb.commands import add as add_module
from kb.commands import add_answers, asking
from kb.commands.add_questions import board_of, free_plugs
from kb.model import Part, Sensor
from kb.notes.load import load_notes

TOP = Path(__file__).resolve().parents[3]
FLAGS = {
    "source": ["--title", "Bench sheet two", "--publisher", "Nobody", "--year", "2020"],
    "family": [
        "--name", "Unit C", "--source", "bench-sheet", "--maker", "Nobody", "--does", "Cools.",
        "--supply", "230 V", "--isolate-at", "the switch", "--minutes-to-drain", "5",
        "--drained-below", "30", "--drain-at", "the posts",
    ],
    "sensor": [
        "--family", "unit-a", "--source", "bench-sheet, page 2", "--label", "S1", "--senses",
        "the pipe", "--place", "On it.", "--reach", "open", "--curve", "table-ten", "--coldest",
        "-5", "--hottest", "30",
    ],
    "code": [
        "--family", "unit-a", "--source", "bench-sheet", "--shown", "E9", "--meaning", "Too cold.",
        "--suspect", "T1", "--minutes", "5", "--suspect-2", "oil", "--minutes-2", "9", "--share",
        "3", "--share-2", "1", "--clear", "Off", "--clear", "On again",
    ],
    "part": [
        "--families", "unit-a", "--source", "bench-sheet", "--name", "Valve", "--what-it-is",
        "valve", "--does", "Opens.",
    ],
    "curve": [
        "--law", "beta", "--name", "Ours", "--source", "bench-sheet", "--coldest", "-20",
        "--hottest", "60", "--R25", "10k", "--B", "3435",
    ],
    "method": [
        "--name", "Look twice", "--source", "habit", "--judges", "plain look", "--tools", "Lamp",
        "--cautions", "Isolate, lock off, prove dead.", "--steps", "Look", "--steps", "Look again",
        "--judge", "By eye.",
    ],
    "instrument": [
        "--name", "Second meter", "--source", "bench-sheet", "--what-it-is", "meter",
        "--range-up-to", "40k", "--one-digit", "10", "--percent-of-reading", "1", "--digits", "2",
    ],
}  # fmt: skip


@pytest.mark.parametrize("kind", FLAGS)
def test_with_every_flag_it_writes_what_check_accepts(run, notes, kind):
    before = set(notes.rglob("*.yaml"))
    result = run("add", kind, *FLAGS[kind], "--notes", notes)
    assert result.exit_code == 0, result.output
    (path,) = set(notes.rglob("*.yaml")) - before
    text = path.read_text()
    assert text.startswith(("# A ", "# An "))
    assert "# checked: {by: AB, on: 2026-03-14}\n" in text
    assert [fault for fault in check_notes(notes).problems if not fault.warning] == []
    assert "Written, as a draft. Next: ohmfolio" in result.output
    again = run("add", kind, *FLAGS[kind], "--notes", notes)
    assert (again.exit_code, path.read_text()) == (2, text)
    assert "already, and nothing is written over; say another with --id" in again.output


@pytest.mark.parametrize("kind", [kind for kind in FLAGS if kind not in ("method", "instrument")])
def test_without_flags_and_terminal_it_says_which_are_missing(run, notes, kind):
    result = run("add", kind, "--notes", notes)
    assert result.exit_code == 2
    named = {word for word in FLAGS[kind][::2] if word in result.output}
    assert named, result.output
    assert "see ohmfolio fields" in result.output.replace("\n", " ")


def test_the_file_of_a_sensor_is_tidy(run, notes):
    run("add", "sensor", *FLAGS["sensor"], "--notes", notes)
    assert (notes / "docs_data/sensors/unit-a/unit-a-s1.yaml").read_text() == (
        "# A sensor: one measuring element at one place on a family.\n"
        "name: S1 the pipe\n"
        "source: {id: bench-sheet, at: page 2}\n"
        "# Once somebody has held it against its source, add who and when; until then it is a "
        "draft:\n"
        "# checked: {by: AB, on: 2026-03-14}\n"
        "family: unit-a\n"
        "label: S1\n"
        "senses: the pipe\n"
        "place: On it.\n"
        "reach: open                  # open, behind a panel or built in\n"
        "curve: table-ten\n"
        "meets_c: [-5, 30]\n"
    )


def test_a_label_names_the_sensor_and_other_words_stay_words(run, notes):
    run("add", "code", *FLAGS["code"], "--notes", notes)
    text = (notes / "docs_data/codes/unit-a/unit-a-e9.yaml").read_text()
    assert "- {sensor: suction-a, share: 3, minutes: 5}\n" in text
    assert "- {what: oil, share: 1, minutes: 9}\n" in text
    assert "clear:\n- Off\n- On again\n" in text


def test_like_another_it_takes_all_but_what_is_its_own(run, notes):
    result = run(
        "add", "sensor", "--like", "suction-a", "--label", "S9", "--senses", "x", "--place",
        "There.", "--notes", notes,
    )  # fmt: skip
    assert result.exit_code == 0, result.output
    text = (notes / "docs_data/sensors/unit-a/unit-a-s9.yaml").read_text()
    assert "curve: table-ten\n" in text and "methods: [ohms]\n" in text
    assert "plug" not in text and "pinned" not in text and "checked: {by: AA" not in text


def test_a_table_makes_a_curve(run, notes, tmp_path):
    table = tmp_path / "t.csv"
    table.write_text("t_c;r_ohm\n-10;55,3k\n0;32,7k\n25;10,0k\n50;3,60k\n")
    result = run(
        "add", "curve", "--points", table, "--name", "Ours", "--source", "bench-sheet",
        "--tolerance-percent", "1", "--notes", notes,
    )  # fmt: skip
    assert result.exit_code == 0, result.output
    text = (notes / "docs_data/curves/ours.yaml").read_text()
    assert "range_c: [-10, 50]\ntolerance: {r_percent: 1}\npoints:\n  -10: 55,3k\n" in text


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (["sensr"], "there is no kind 'sensr'; did you mean 'sensor'?"),
        (["case"], "ohmfolio case add FILE"),
        (["sensor", "--lable", "T9"], "there is no --lable; did you mean '--label'?"),
        (["sensor", "--label"], "--label needs a value behind it"),
        (["sensor", "T9"], "'T9' stands without a flag"),
        (["sensor", "--reach", "opne"], "'opne' is not one of the words for reach; there is: open"),
        (["sensor", "--coldest", "cold"], "--coldest-c: 'cold' is not a temperature"),
        (["sensor", "--like", "suction-x"], "there is no sensor 'suction-x'; did you mean 'suction-"),
        (["curve", "--law", "betta"], "there is no law 'betta'; did you mean 'beta'?"),
        (["sensor", "--points", "x.csv"], "--points is for a curve"),
        (["curve", "--points", "x.csv"], "x.csv cannot be read"),
    ],
)  # fmt: skip
def test_a_wrong_word_says_what_would_work(run, notes, words, says):
    result = run("add", *words, "--notes", notes)
    assert result.exit_code == 2
    assert says in " ".join(result.output.split())


def test_what_check_refuses_is_not_written(run, notes):
    flags = [*FLAGS["sensor"][:-1], "300"]
    before = set(notes.rglob("*.yaml"))
    result = run("add", "sensor", *flags, "--notes", notes)
    assert result.exit_code == 1
    assert "curve-too-short" in result.output
    assert result.output.endswith("Nothing was written.\n")
    assert set(notes.rglob("*.yaml")) == before


def test_machines_are_told_what_was_written(run, notes):
    answer = json.loads(run("add", "part", *FLAGS["part"], "--json", "--notes", notes).output)
    assert answer["files"] == ["docs_data/parts/unit-a/unit-a-valve.yaml"]
    wrong = run("add", "part", *FLAGS["part"], "--id", "board-a", "--json", "--notes", notes)
    assert wrong.exit_code == 2


@pytest.fixture
def typed(monkeypatch):
    """Return a function that answers the questions, and says which were asked."""

    def answers(*lines):
        waiting, asked = list(lines), []

        def answer(prompt, *, default=""):
            asked.append(prompt)
            return waiting.pop(0) or default

        monkeypatch.setattr(add_module, "at_terminal", lambda: True)
        monkeypatch.setattr(add_answers, "answer", answer)
        return asked

    return answers


def test_it_asks_only_what_is_needed_and_not_given(run, notes, typed):
    asked = typed("unit-a", "bench-sheet", "the pipe", "On it.", "1", "table-t", "-5", "30", "")
    result = run("add", "sensor", "--label", "S1", "--notes", notes)
    assert result.exit_code == 0, result.output
    assert asked == [
        "family", "source", "senses", "place", "reach", "curve", "coldest °C", "hottest °C", "plug",
    ]  # fmt: skip


def test_a_slip_is_mended_where_it_was_typed(run, notes, typed):
    asked = typed(
        "unit-a", "bench-sheet", "the pipe", "", "On it.", "low", "2", "-", "off", "0 V", ""
    )
    result = run("add", "sensor", "--label", "S1", "--notes", notes)
    assert result.exit_code == 0, result.output
    assert [prompt for prompt in asked if asked.count(prompt) > 1] == ["place"] * 2 + ["reach"] * 2
    assert "this cannot be left out; Where it sits, in words." in result.output
    assert "'low' is not one of the words for reach; there is: open" in result.output
    assert "healthy: [{when: off, reads: 0 V}]" in result.output or "- {when: off, reads: 0 V}" in (
        result.output
    )


def test_a_drawing_gets_its_pins(run, notes):
    photo = notes / "docs_data/drawings/unit-a/front.png"
    photo.parent.mkdir()
    photo.write_bytes((notes / "docs_data/drawings/unit-b-front.png").read_bytes())
    result = run(
        "add", "drawing", "--family", "unit-a", "--source", "bench-sheet", "--name", "The front",
        "--described", "A box.", "--photo", "front.png", "--pins", "X1: 28 40,5 Low, left.",
        "--pins", "X2: 60 10 High.", "--notes", notes,
    )  # fmt: skip
    assert result.exit_code == 0, result.output
    text = (notes / "docs_data/drawings/unit-a/the-front.yaml").read_text()
    assert '  X1: {x: 28, y: 40.5, where: "Low, left."}\n' in text
    assert "X2: {x: 60, y: 10, where: High.}\n" in text


def test_a_pin_that_cannot_be_read_says_how_one_is_written(run, notes):
    result = run("add", "drawing", "--pins", "T1 left", "--notes", notes)
    assert (result.exit_code, "'T1 left' is no pin; write its name" in result.output) == (2, True)


def test_free_plugs_of_the_familys_boards_are_offered_and_lead_to_their_board():
    demo = load_notes(TOP)
    value = {"family": "quellmark-rooftop"}
    offered = [offer.written for offer in free_plugs(value, notes=demo)]
    taken = [
        sensor.plug.mark
        for sensor in demo.of(Sensor).values()
        if sensor.family == "quellmark-rooftop" and sensor.plug is not None
    ]
    assert offered and "X24" in taken
    assert set(offered).isdisjoint(taken)
    assert {board_of(mark, value=value, notes=demo) for mark in offered} <= {
        part.id for part in demo.of(Part).values() if part.is_a == "board"
    }


def test_a_plug_takes_its_board_with_it(run, notes, typed):
    board = notes / "docs_data/parts/board-a.yaml"
    board.write_text(
        board.read_text().replace("refit:\n", "refit:\n- {what: Spare, is_a: plug, mark: X77}\n")
    )
    typed("unit-a", "bench-sheet", "the pipe", "On it.", "1", "table-t", "-5", "30", "X77")
    result = run("add", "sensor", "--label", "S1", "--notes", notes)
    assert result.exit_code == 0, result.output
    assert "X77  Spare (board-a)" in result.output
    assert (
        "plug: {board: board-a, mark: X77}\n"
        in (notes / "docs_data/sensors/unit-a/unit-a-s1.yaml").read_text()
    )


def test_what_is_missing_is_begun_on_the_way(run, tmp_path, typed):
    run("start", tmp_path / "ours", "--empty")
    typed(
        "Ours", "Nobody", "", "2020",  # the source
        "Nobody", "Cools.", "230 V", "the switch", "5", "30", "the posts",
    )  # fmt: skip
    result = run("add", "family", "--name", "Unit C", "--notes", tmp_path / "ours")
    assert result.exit_code == 0, result.output
    assert "First the source." in result.output
    assert (tmp_path / "ours/docs_data/sources/ours.yaml").is_file()
    assert "source: ours\n" in (tmp_path / "ours/docs_data/families/unit-c.yaml").read_text()


def test_nobody_is_asked_where_no_terminal_is():
    assert asking.at_terminal() is False


def test_a_photo_before_its_folder_is_named_as_missing(run, notes):
    result = run(
        "add", "drawing", "--family", "unit-a", "--id", "a-front", "--name", "Front", "--source",
        "bench-sheet", "--described", "A box.", "--photo", "front.png", "--pins", "X1: 28 40 Low.",
        "--notes", notes,
    )  # fmt: skip
    assert result.exit_code == 1
    assert "there is no file 'front.png' beside the entry" in result.output
