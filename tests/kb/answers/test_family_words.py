"""Words that name a family are told from those that say how a code is shown."""

from __future__ import annotations

import pytest

from kb.answers.family_words import KnownNames, families_named

FAMILIES = (
    KnownNames(id="roof", names=("Marl RT rooftop heat pump", "RT 045", "Marl packaged unit")),
    KnownNames(id="split", names=("Orrin wall split", "Orrin wall unit", "red lamp unit")),
    KnownNames(id="cold", names=("Tarn CR cold room set", "2000")),
)


@pytest.mark.parametrize(
    ("text", "family_ids", "rest"),
    [
        ("rooftop flashes 4 long 2 short", ("roof",), "flashes 4 long 2 short"),
        ("K4-2 ROOFTOP", ("roof",), "k4-2"),
        ("k42 roof", ("roof",), "k42"),
        ("roftop 42", ("roof",), "42"),
        ("rooftop ---- ..", ("roof",), "---- .."),
        ("heat-pump: 4-2", ("roof",), "4-2"),
        ("rt 42", ("roof",), "42"),
        ("rt 045 42", ("roof",), "42"),
        ("RT045 42", ("roof",), "42"),
        ("cold room 012", ("cold",), "012"),
        # Most words win; where as many name two, both are meant.
        ("Orrin heat 4-2", ("roof", "split"), "4-2"),
        ("Orrin wall heat 4-2", ("split",), "heat 4-2"),
        ("split", ("split",), ""),
        ("wall unit 4-2", ("split",), "4-2"),
        ("the board of the rooftop machine: 4-2", ("roof",), "the of the machine: 4-2"),
        # What stands beside any machine names none, nor does a number alone.
        ("4 long 2 short (lamp on the unit board)", (), "4 long 2 short (lamp on the unit board)"),
        ("red lamp 4 2", (), "red lamp 4 2"),
        ("045", (), "045"),
        ("2000", (), "2000"),
        ("ro 42", (), "ro 42"),
        ("rook 42", (), "rook 42"),
        ("k4-2", (), "k4-2"),
        ("", (), ""),
        ("Gerät Rooftop, viermal lang 2 kurz", ("roof",), "viermal lang 2 kurz"),
        ("lang kurz rot zweimal", (), "lang kurz rot zweimal"),
    ],
)
def test_what_names_a_family_is_taken_out(
    text: str, family_ids: tuple[str, ...], rest: str
) -> None:
    named = families_named(text, families=FAMILIES)
    assert (named.family_ids, named.rest) == (family_ids, rest)


def test_no_family_is_named_where_there_is_none() -> None:
    assert families_named("rooftop 42", families=()).family_ids == ()
