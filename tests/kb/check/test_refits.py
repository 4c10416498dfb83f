"""Which lines of a refit list are the protective earth, and which are conductors."""

import pytest

from kb.model.part import Refit


def refit(what: str, is_a: str = "screw", mark: str | None = None) -> Refit:
    return Refit(what=what, is_a=is_a, mark=mark)


@pytest.mark.parametrize(
    ("what", "mark"),
    [
        ("Earth", None),
        ("Protective earth strap", None),
        ("Strap", "PE"),
        ("Mains terminals", "X1 PE"),
        ("Stud", "L1,L2,PE"),
        ("Ground wire to the stud", None),
        ("Protective conductor", "7"),
    ],
)
def test_words_or_mark_say_that_a_line_is_the_earth(what, mark):
    assert refit(what, mark=mark).earth


@pytest.mark.parametrize(
    ("what", "mark"),
    [
        ("Earth fault relay", None),
        ("Earth leakage sensor", "T3"),
        ("Screw near the ground", None),
        ("Pearl washer", "PEN2"),
        ("Mains", "L N"),
    ],
)
def test_other_lines_are_not(what, mark):
    assert not refit(what, mark=mark).earth


def test_what_carries_a_conductor_is_a_plug_a_tab_or_a_terminal():
    assert refit("Plug", "plug").connects and refit("Tab", "tab").connects
    assert refit("Mains", "screw", "X1").connects
    assert not refit("Board screws").connects
    assert not refit("Size", "setting", "S2").connects
