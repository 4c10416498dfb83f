"""From an empty folder to a phone's file, as a keeper does it at a terminal; what they type is counted.

A command is a line after the prompt, `cd` too; an answer is a line typed at a question, and Enter
alone is none. No typed line is wider than a terminal of 80 signs. The data sheet's table is a file.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from kb.check import check_notes
from kb.model import Code, Sensor

from .keeper import COLUMNS, Keeper

TABLE = """\
Temp [°C];R [kΩ]
-20;97,1
-10;55,3
0;32,7
10;19,9
25;10,0
40;5,33
60;2,49
80;1,26
"""
LABELS = [f"T{number}" for number in range(1, 9)]
SENSORS = "\n".join(
    [
        "Label;Measures;Location;Access;Curve;min °C;max °C",
        *(
            f"{label};pipe number {label[1:]};On pipe {label[1:]}, low.;Behind a panel;ntc-10k;-15;60"
            for label in LABELS
        ),
    ]
)
CODES = "\n".join(
    [
        "Code;Meaning;Cause;Minutes;Share;Cause 2;Minutes 2;Share 2;Reset",
        *(
            f"E{number};{label} is open or shorted.;{label};10;3;wet plug;5;2;Off | a minute | on"
            for number, label in enumerate(LABELS, start=1)
        ),
        *(
            f"E{number};The fan is {word}.;{word} fan;15;1;;;;Off | on"
            for number, word in enumerate(("stuck", "slow", "loud", "iced"), start=9)
        ),
    ]
)
FAMILY = 'ohmfolio add family --name "Dorrit roof unit" --supply "400 V 3N~ 50 Hz"'
FAMILY_ANSWERS = (
    "Dorrit service sheet",
    "Dorrit",
    "",
    "2019",
    "Dorrit",
    "Cools the halls of shops.",
    "Red switch beside the unit",
    "10",
    "50",
    "Studs P and N of the inverter",
)


def keeper(tmp_path: Path, **files: str) -> Keeper:
    for name, text in files.items():
        (tmp_path / f"{name}.csv").write_text(text, encoding="utf-8")
    return Keeper(tmp_path)


def sound(notes: Path) -> None:
    # Only the two instruments and their source are left to be filled in.
    assert [problem.rule for problem in check_notes(notes).problems] == ["examples-left"]


def fits_the_terminal(typing: Keeper) -> None:
    assert [line for line in [*typing.commands, *typing.answers] if len(line) > COLUMNS] == []


@pytest.mark.builds
def test_one_code_one_sensor_and_a_table_are_on_a_phone_after_eight_commands(
    tmp_path: Path,
) -> None:
    typing = keeper(tmp_path, table=TABLE)
    typing.types("ohmfolio start notes --bare")
    typing.types("cd notes")
    typing.types("ohmfolio examples --remove")
    shown = typing.types(FAMILY, *FAMILY_ANSWERS)
    questions = shown.partition("docs_data/")[0]
    assert [line for line in questions.splitlines() if len(line) > COLUMNS] == []
    typing.types(
        "ohmfolio add curve --points ../table.csv --name NTC-10k --tolerance-percent 1", ""
    )
    typing.types(
        'ohmfolio add sensor --label T1 --senses suction --coldest -15 --hottest 60',
        "", "", "On the suction pipe, before the compressor.", "2", "", "",
    )  # fmt: skip
    typing.types(
        "ohmfolio add code --shown E1 --suspect T1 --minutes 10",
        "", "", "The suction sensor is open or shorted.", "", "Off, a minute, on.",
    )  # fmt: skip
    typing.types("ohmfolio pocket")
    sound(typing.folder)
    page = (typing.folder / "pocket/dorrit-roof-unit.html").read_text(encoding="utf-8")
    assert "E1" in page and "On the suction pipe" in page and "NTC-10k" in page
    fits_the_terminal(typing)
    assert len(typing.commands) <= 8, typing.commands
    assert len(typing.answers) <= 15, typing.answers


@pytest.mark.builds
def test_eight_sensors_and_twelve_codes_from_two_sheets_are_there_after_six_commands(
    tmp_path: Path,
) -> None:
    typing = keeper(tmp_path, table=TABLE, sensors=SENSORS, codes=CODES)
    typing.types("ohmfolio start notes --empty")
    typing.types("cd notes")
    typing.types(FAMILY, *FAMILY_ANSWERS)
    typing.types("ohmfolio add curve --points ../table.csv --name NTC-10k", "", "1")
    shown = typing.types("ohmfolio bring ../sensors.csv ../codes.csv", "y")
    typing.types("ohmfolio pocket")
    assert "20 new.\n" in shown
    notes = check_notes(typing.folder)
    assert (len(notes.of(Sensor)), len(notes.of(Code))) == (8, 12)
    assert notes.of(Code)["dorrit-roof-unit-e3"].suspects[0].sensor == "dorrit-roof-unit-t3"
    sound(typing.folder)
    fits_the_terminal(typing)
    assert len(typing.commands) <= 6, typing.commands


@pytest.mark.builds
def test_a_question_that_is_broken_off_writes_nothing(tmp_path: Path) -> None:
    typing = keeper(tmp_path)
    typing.types("ohmfolio start notes --empty")
    typing.types("cd notes")
    shown = typing.types("ohmfolio add family", "Unit", "A sheet", code=130)
    assert shown.endswith("Stopped; nothing was written.\n")
    assert not (typing.folder / "docs_data/families").exists()
    assert sorted(path.stem for path in (typing.folder / "docs_data/sources").iterdir()) == [
        "example-sheet"
    ]
