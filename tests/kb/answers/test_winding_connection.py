"""What a reading says where the entry says how windings are joined, and of leads without names."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from kb.answers.instruments import NamedMeter
from kb.answers.statement import Refusal
from kb.answers.winding import WindingQuestion, answer_windings
from kb.answers.winding_reading import WindingFacts
from kb.numbers.meter import Meter, OhmRange
from kb.words.phrase import sentence

BENCH = NamedMeter(
    id="bench",
    name="Bench",
    meter=Meter(ranges=(OhmRange(span_ohm=4000.0, resolution_ohm=0.01, percent=0.2, digits=3),)),
)
PAIRS = ("U-V", "V-W", "W-U")
STAR = WindingFacts(
    pairs=dict.fromkeys(PAIRS, 2.42),
    tolerance_share=0.07,
    balance_share=0.03,
    connection="star",
    wound=True,
)
DELTA = replace(STAR, connection="delta", tolerance_share=None)
MOTOR = WindingFacts(
    pairs={"C-R": 2.1, "C-S": 5.2, "R-S": 7.3},
    tolerance_share=0.1,
    connection="single-phase",
    wound=True,
)


def _asked(*texts: str, part: WindingFacts = STAR, names: tuple[str, ...] = PAIRS, at: str = ""):
    readings = tuple(zip(names, texts, strict=False))
    return answer_windings(WindingQuestion(part=part, readings=readings, at=at, meter=BENCH))


def _first(answer: object) -> str:
    return sentence(answer.headline).replace("\u00a0", " ")


def _fault(answer: object) -> str:
    return _first(answer).partition("is allowed. ")[2]


@pytest.mark.parametrize("at", ["", "20"])
def test_in_a_star_the_low_winding_is_named_and_not_the_sound_pair(at):
    # By its entry alone the two lower pairs would be sound: a star cannot have one bad pair.
    answer = _asked("2.30", "2.42", "2.30", at=at)
    assert _fault(answer) == (
        "Read V-W again. If it stays, turns of the winding at U are shorted: in this star it has "
        "1.09 Ω, and the others 1.21 Ω."
    )
    assert answer.solved_ohm == pytest.approx({"U": 1.09, "V": 1.21, "W": 1.21})
    solved = next(note for note in answer.notes if note.id == "winding.solved-star")
    # A digit of 0.01 Ω on each of three pairs: U = 2 √(3 (0.01/2)²/3), 0.01 Ω of about 1.1.
    assert answer.solved_u_ohm == pytest.approx(dict.fromkeys("UVW", 0.01))
    assert sentence(solved).replace("\u00a0", " ") == (
        "Each winding by itself, as a star: U 1.09 Ω ± 0.92 %, V 1.21 Ω ± 0.83 %, "
        "W 1.21 Ω ± 0.83 %."
    )


def test_in_a_star_the_joint_of_the_high_winding_comes_first():
    assert _fault(_asked("1.42", "1.43", "1.02", part=replace(STAR, tolerance_share=None))) == (
        "Remake the joint of V first, and read again: in this star it has 0.915 Ω, and the others "
        "0.510 Ω. If it stays, strands of its winding are broken."
    )


def test_in_a_delta_a_high_pair_is_its_own_winding():
    # 3, 3 and 5 Ω around.
    assert _fault(_asked("2.18", "2.18", "2.73", part=DELTA)) == (
        "Read W-U again. If it stays, the winding across W-U has a bad joint inside or broken "
        "strands: in this delta it has 5.02 Ω, and the others 2.99 Ω."
    )


def test_in_a_delta_twice_the_others_is_a_broken_winding():
    answer = _asked("6.00", "3.00", "3.00", part=DELTA)
    assert _fault(answer) == (
        "Read U-V again. If it stays, the winding across U-V is broken: in this delta it is then "
        "read through the two others."
    )
    assert answer.solved_ohm["U-V"] == math.inf


def test_in_a_delta_a_low_pair_sends_to_the_joint_unless_the_others_are_sound():
    assert _fault(_asked("1.60", "2.40", "2.40", part=DELTA)) == (
        "Remake the joint of W first, which the two higher pairs share, and read again. If it "
        "stays, turns of the winding across U-V are shorted: in this delta it has 2.00 Ω, and the "
        "others 4.00 Ω."
    )
    sound = _asked("1.60", "2.40", "2.40", part=replace(DELTA, tolerance_share=0.1), at="20")
    assert _fault(sound).startswith("Turns of the winding across U-V are shorted: in this delta")


@pytest.mark.parametrize("part", [STAR, DELTA])
def test_of_two_faults_no_winding_is_named(part):
    assert "turns" not in _first(_asked("2.2", "2.4", "2.6", part=part))


@pytest.mark.parametrize(
    ("connection", "what"),
    [
        ("star", "the winding at V or its lead is broken"),
        ("delta", "the lead of V itself is broken, outside of the delta"),
        ("unknown", "its lead is broken, or in a star the winding at it"),
    ],
)
def test_two_open_pairs_name_the_lead_that_they_share(connection, what):
    answer = _asked("OL", "OL", "2.42", part=replace(STAR, connection=connection))
    assert (answer.state, what in _first(answer)) == ("open", True)
    assert "both share V:" in _first(answer)
    three = _asked("OL", "OL", "OL", part=replace(STAR, connection=connection))
    assert three.headline.id == "winding.open-many"


def test_a_common_lead_that_is_open_may_be_the_protector():
    answer = _asked("OL", "OL", "7.3", part=MOTOR, names=("C-R", "C-S", "R-S"))
    assert (
        "both share C: its lead or the winding at it is broken, or, if it is the common one, "
        in (_first(answer))
    )


UNNAMED = ("1-2", "2-3", "1-3")


def test_three_unnamed_leads_are_told_by_their_readings():
    answer = _asked("7.31", "2.1", "5.21", part=MOTOR, names=UNNAMED, at="20")
    assert sentence(answer.names) == (
        "Lead 3 is C, the common one; 2 is R, usually run; 1 is S, usually start."
    )
    assert (answer.state, answer.headline.id) == ("within", "winding.within-entry")
    assert "winding.names-rule" in [note.id for note in answer.notes]


def test_the_pair_across_both_windings_need_not_be_noted():
    part = replace(MOTOR, pairs={"blue-black": 131.0, "blue-brown": 96.0})
    answer = _asked("131", "96.4", "227", part=part, names=UNNAMED, at="20")
    assert sentence(answer.names) == (
        "Lead 2 is blue, the common one; 3 is brown, usually run; 1 is black, usually start."
    )
    assert answer.state == "within"


def test_two_equal_windings_do_not_tell_run_from_start():
    part = replace(MOTOR, pairs={"C-R": 20.0, "C-S": 20.0})
    answer = _asked("40.0", "20.0", "20.0", part=part, names=UNNAMED, at="20")
    assert sentence(answer.names) == (
        "Lead 3 is C, the common one. 1 and 2 read alike to it: these ohms do not tell run from "
        "start."
    )


def test_nearly_equal_readings_do_not_tell_the_common_lead():
    answer = _asked("0.01", "5.00", "5.01", part=MOTOR, names=UNNAMED)
    assert answer.names.id == "winding.names-none"


def test_readings_that_do_not_add_up_name_no_lead_and_say_why():
    answer = _asked("6.0", "2.1", "5.2", part=MOTOR, names=UNNAMED)
    assert answer.names is None
    assert sentence(answer.advice[0]).replace("\u00a0", " ") == (
        "2-3, 1-3 make 7.30 Ω together, and 1-2 reads only 6.00 Ω: something is still connected "
        "across it, or a contact was bad. Take off relay and capacitor, and read all three again."
    )
    more = _asked("8.0", "2.1", "5.2", part=MOTOR, names=UNNAMED)
    assert more.advice[0].id == "winding.sum-more"
    named = _asked("2.1", "5.2", "6.0", part=MOTOR, names=("C-R", "C-S", "R-S"))
    assert named.advice[0].id == "winding.sum-less"


def test_fewer_than_three_unnamed_readings_are_waited_for():
    with pytest.raises(Refusal) as refused:
        _asked("7.3", "2.1", part=MOTOR, names=UNNAMED)
    assert (refused.value.statement.id, refused.value.missing) == ("winding.needs-three", True)


def test_an_open_unnamed_winding_is_open_and_names_nobody():
    answer = _asked("OL", "2.1", "OL", part=MOTOR, names=UNNAMED, at="20")
    assert (answer.state, answer.names) == ("open", None)
    assert _first(answer).startswith("1-2, 1-3 are over range, and both share 1:")


def test_equal_windings_need_no_names():
    answer = _asked("2.42", "2.42", "2.42", names=UNNAMED)
    assert (answer.state, answer.names, list(answer.pairs)) == ("within", None, list(UNNAMED))


def test_leads_that_are_called_so_in_the_entry_are_no_strangers():
    part = replace(MOTOR, pairs={"1-2": 2.1, "1-3": 5.2})
    assert _asked("2.1", "5.2", part=part, names=("1-2", "1-3"), at="20").state == "within"
    with pytest.raises(Refusal):
        _asked("7.3", part=part, names=("2-3",))


def test_repeats_stand_in_one_field_or_under_the_same_pair_again():
    together = _asked("2.31 2.29 2.33", "2.42")
    assert together.pairs["U-V"].r_ohm == pytest.approx(2.31)
    again = _asked("2.31", "2.29; 2,33", "2.42", names=("U-V", "v-u", "V-W"))
    assert again.pairs["U-V"] == together.pairs["U-V"]
    assert (again.pairs["U-V"].repeats, again.pairs["V-W"].repeats) == (3, 1)


@pytest.mark.parametrize(
    ("text", "r_ohm", "repeats"),
    [
        ("480 482", 481.0, 2),
        ("1 200", 1200.0, 1),
        ("0.5 k", 500.0, 1),
        ("480 482 478", 480.0, 3),
        ("2.31, 2.29, 2.33", 2.31, 3),
        ("480 Ω 482 Ω", 481.0, 2),
    ],
)
def test_a_space_for_thousands_is_no_repeat(text, r_ohm, repeats):
    reading = _asked(text).pairs["U-V"]
    assert (reading.r_ohm, reading.repeats) == (pytest.approx(r_ohm), repeats)


def test_a_contact_that_moves_is_counted_and_widens_what_is_told():
    steady = _asked("2.42 2.42 2.42", "2.42", "2.42").balances[0].windings["V-W"]
    moved = _asked("2.42 2.40 2.44", "2.42", "2.42").balances[0].windings["V-W"]
    assert moved.uncertainty_share > 2 * steady.uncertainty_share
    one = _asked("2.42 2.40 2.44", at="20").pairs["U-V"]
    assert one.uncertainty_share > _asked("2.42", at="20").pairs["U-V"].uncertainty_share


def test_what_the_contact_leaves_open_is_not_blamed_on_the_meter():
    answer = _asked("2.42 2.31 2.52", "2.42", "2.42")
    assert (answer.state, answer.headline.id) == ("undecided", "winding.contact-coarse")
    assert answer.better == ()
    assert [step.id for step in answer.advice][:1] == ["winding.contact-wide"]
    assert "winding.no-better" not in [step.id for step in answer.advice]


def test_repeats_closer_than_the_balance_limit_raise_no_caution():
    answer = _asked("2.42 2.41 2.43", "2.42", "2.42")
    assert "winding.contact-wide" not in [step.id for step in answer.advice]


def test_a_contact_that_breaks_is_told_and_not_averaged():
    with pytest.raises(Refusal) as refused:
        _asked("2.42 OL")
    assert (refused.value.statement.id, refused.value.field) == ("winding.contact-breaks", "U-V")
    assert _asked("OL OL").state == "open"


@pytest.mark.parametrize(
    ("texts", "part", "once"),
    [
        (("2.40", "2.41", "2.40"), STAR, True),
        (("2.40 2.41", "2.41", "2.40"), STAR, False),
        # 3 % of 48 Ω is more than any contact.
        (("48.0", "48.1", "48.0"), replace(STAR, pairs=dict.fromkeys(PAIRS, 48.0)), False),
        (("2.40", "2.41", "2.40"), replace(STAR, balance_share=None), False),
    ],
)
def test_read_once_where_the_contact_may_decide_says_that_it_is_not_counted(texts, part, once):
    notes = [note.id for note in _asked(*texts, part=part).notes]
    assert ("winding.contact-once" in notes) is once
