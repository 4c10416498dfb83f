"""A shared ground is no fault, and what is said to be meant is believed."""

from __future__ import annotations

from pathlib import Path

import pytest

from kb.check import check_notes

SENSORS = "docs_data/sensors/unit-a"


def _rules(notes: Path) -> list[str]:
    return [problem.rule for problem in check_notes(notes).problems]


def _changed(notes: Path, file: str, *, old: str, new: str) -> None:
    path = notes / file
    text = path.read_text(encoding="utf-8")
    assert old in text
    path.write_text(text.replace(old, new), encoding="utf-8")


@pytest.mark.parametrize(
    ("new", "rules"),
    [
        ('mark: T1, pins: ["1", "2"]', ["same-plug"]),
        ('mark: T1, pins: ["2", "1"]', ["same-plug"]),
        ('mark: T1, pins: ["1", "3"]', []),
        ('mark: T1, pins: ["1", "2"], shared_with: [suction-a]', []),
        ('mark: T1, pins: ["1", "2"], shared_with: [liquid-a]', ["same-plug"]),
    ],
)
def test_only_the_same_pair_of_pins_is_asked_about(notes: Path, new: str, rules: list[str]) -> None:
    _changed(notes, f"{SENSORS}/air-a.yaml", old='mark: T6, pins: ["1", "2"]', new=new)
    assert _rules(notes) == rules


def test_a_pin_may_be_said_to_hold_several_things(notes: Path) -> None:
    _changed(notes, f"{SENSORS}/air-a.yaml", old="pin: T6", new="pin: T1")
    assert _rules(notes) == ["same-pin"]
    drawing = "docs_data/drawings/unit-a-front.yaml"
    _changed(notes, drawing, old="where: Top left.", new="where: Top left., several: yes")
    assert _rules(notes) == []
