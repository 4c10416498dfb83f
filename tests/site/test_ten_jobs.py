"""Ten whole jobs on a phone without network, from what the machine shows to the case in the notes."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from kb.model.case import Cause

from .engineer import Engineer, beside, shown

MOST_TAPS = 3
"""From the code to the verdict, besides typing code, temperature and reading."""


@pytest.fixture()
def engineer(phone: object, home_file: str) -> Iterator[Engineer]:
    """Somebody who has never been at this machine; no job may leave a complaint behind."""
    someone = Engineer(phone, home_file)
    yield someone
    someone.went_quietly()


def test_a_drifted_sensor_is_told_in_ice_water_without_a_thermometer(
    engineer: Engineer, tmp_path: Path
) -> None:
    sensor = "quellmark-coil-in"
    engineer.find("6-2", takes="K6-2")
    engineer.open("Measure R3 indoor coil")
    drifted = shown(engineer.machine.ohm(sensor, -4.5))
    found = engineer.measure(drifted, how="Ice water")
    assert engineer.taps <= MOST_TAPS
    assert found.verdict == "Outside limits"
    assert found.why == (
        "It reads as at −4.5 °C, 4.5 K colder than the 0.0 °C measured; more than is allowed."
    )
    # Nothing that cannot be in a bath: neither a plug of another place nor the board beside it.
    assert "tag on the plug" not in found.next_step and "plugged in" not in found.reasons
    # By chance it is what another part of the notes would read: that is told first.
    assert "Hold the part against its order text" in found.next_step
    assert "read R1" not in found.next_step
    assert engineer.machine.words(sensor, "when_bad") in found.reasons
    sound = shown(engineer.machine.ohm(sensor, 0.1))
    again = engineer.measure(sound, how="Ice water", after=True)
    assert again.verdict == "Within limits"
    engineer.job_page()
    text = engineer.hand_over(
        found="Frost by the hour. R3 four kelvin cold in the cup.",
        cause=f"sensor:{sensor}",
        done="New sensor, paste, spring back in.",
    )
    assert "K6-2 (indoor coil freezing)" in text
    assert f"R3 indoor coil: {drifted} at 0.0 °C, in stirred ice water: outside limits" in text
    assert f"after the repair: {sound} at 0.0 °C, in stirred ice water: within limits" in text
    assert "R3 indoor coil: in, and proved." in text and "What is needed" not in text
    case = engineer.case_file(tmp_path)
    assert (case.code, case.cause) == ("quellmark-k6-2", Cause(sensor=sensor))
    assert [reading.t_c for reading in case.readings] == [0.0, 0.0]
    engineer.clear()


def test_an_open_sensor_needs_no_temperature_and_is_sought_at_the_plug_first(
    engineer: Engineer, tmp_path: Path
) -> None:
    sensor = "quellmark-coil-out"
    engineer.find("rooftop flashes 4 long 2 short", takes="K4-2")
    engineer.open("Measure R4 outdoor coil")
    found = engineer.measure("OL")
    assert engineer.taps <= MOST_TAPS
    assert found.verdict == "Open circuit"
    assert "no thermometer is needed for it" in found.reasons
    assert found.next_step == f"Next: {engineer.machine.words(sensor, 'when_open')}"
    good = shown(engineer.machine.ohm(sensor, 7.2))
    assert engineer.measure(good, at="7", how="Strapped", after=True).verdict == "Within limits"
    engineer.job_page()
    text = engineer.hand_over(
        found="No heat since six. R4 open at its own tails.",
        cause=f"sensor:{sensor}",
        done="New sensor with paste, drip loop tied.",
    )
    # No thermometer was used for the first, and none is named.
    assert "R4 outdoor coil: OL, no temperature taken: open circuit. Taken with Pocket meter. " in (
        text.replace("- ", " ").replace("  ", " ") + " "
    )
    assert f"{good} at 7.0 °C, strapped and lagged: within limits" in text
    assert "R4 must climb above 12 °C" in text
    case = engineer.case_file(tmp_path)
    assert case.cause == Cause(sensor=sensor)
    assert [reading.t_c for reading in case.readings] == [None, 7.0]
    engineer.clear()


def test_a_shorted_sensor_is_dried_and_bent_before_it_is_replaced(
    engineer: Engineer, tmp_path: Path
) -> None:
    sensor = "brenholt-discharge"
    engineer.find("wall split 2 3", takes="TM")
    engineer.open("Measure T5 discharge gas")
    found = engineer.measure("3.1")
    assert engineer.taps <= MOST_TAPS
    assert found.verdict == "Short circuit"
    assert "Two wires touch, or water bridges them." in found.why
    assert "Look at the display again" in found.next_step
    own = found.reasons.index(engineer.machine.words(sensor, "when_short"))
    assert found.reasons.index("If it stays so:") < own
    assert engineer.machine.words(sensor, "when_bad") not in found.reasons
    good = shown(engineer.machine.ohm(sensor, 11.0))
    assert engineer.measure(good, at="11", how="Held on", after=True).verdict == "Within limits"
    engineer.job_page()
    text = engineer.hand_over(
        found="T5 short at its tails, lead chafed bare under the collar.",
        cause=f"sensor:{sensor}",
        done="New sensor with its clip, collar back.",
    )
    assert "TM (discharge sensor)" in text
    assert "3.1, no temperature taken: short circuit" in text
    case = engineer.case_file(tmp_path)
    assert (case.family, case.cause) == ("brenholt-split", Cause(sensor=sensor))
    engineer.clear()


def test_a_sensor_that_is_still_plugged_in_is_not_condemned(
    engineer: Engineer, tmp_path: Path
) -> None:
    sensor, pull_up_ohm = "quellmark-coil-in", 10e3
    engineer.find("quellmark 41", takes="K4-1")
    engineer.open("Measure R3 indoor coil")
    ohm = engineer.machine.ohm(sensor, 20)
    found = engineer.measure(shown(beside(ohm, pull_up_ohm)), at="20", how="Held on")
    assert engineer.taps <= MOST_TAPS
    assert found.verdict == "Outside limits"
    assert "Still plugged in: 12.0" in found.reasons and "10.00 kΩ pull-up" in found.reasons
    assert found.next_step.startswith("Next: Take the plug off the board and read again.")
    good = shown(ohm)
    unplugged = engineer.measure(good, again=True)
    assert unplugged.verdict == "Within limits"
    # Under this code a sound sensor means its plug, and not the air.
    assert "K4-1" in unplugged.reasons
    assert "Push the blue plug home at X23" in unplugged.next_step
    engineer.job_page()
    text = engineer.hand_over(
        found="Blue plug half home at X23 after a board change.",
        cause="what:blue plug half home at X23",
        done="Plug home.",
        minutes=15,
    )
    assert text.index("outside limits") < text.index("within limits")
    case = engineer.case_file(tmp_path)
    assert case.cause == Cause(what="blue plug half home at X23")
    assert len(case.readings) == 2
    engineer.clear()


def test_a_wrong_spare_is_named_by_whose_curve_it_has(engineer: Engineer, tmp_path: Path) -> None:
    sensor = "veldane-discharge-1"
    engineer.find("117", takes="C-17")
    engineer.open("Measure")
    fitted = shown(engineer.machine.ohm("veldane-outdoor", 24))
    found = engineer.measure(fitted, at="24", how="Held on")
    assert engineer.taps <= MOST_TAPS
    assert found.verdict == "Outside limits"
    assert "hotter than the 24.0 °C measured" in found.why
    assert (
        "The curve of T7 (ntc-50k-3950): wrong part, or plugs exchanged: 24.0 °C" in found.reasons
    )
    assert found.next_step.startswith("Next: Hold the part against its order text, and read T7 too")
    right = shown(engineer.machine.ohm(sensor, 24.4))
    assert engineer.measure(right, at="24", how="Held on", after=True).verdict == "Within limits"
    engineer.job_page()
    text = engineer.hand_over(
        found="The outdoor sensor's spare in the clip of T5.",
        cause=f"sensor:{sensor}",
        done="The right one by its number.",
    )
    assert "C-17 (Discharge gas of compressor 1 too hot)" in text
    assert engineer.case_file(tmp_path).cause == Cause(sensor=sensor)
    engineer.clear()


def test_exchanged_plugs_of_one_curve_are_looked_for_before_a_sensor_is_ordered(
    engineer: Engineer, tmp_path: Path
) -> None:
    engineer.find("K2-5", takes="K2-5")
    engineer.open("Measure R4 outdoor coil")
    # At X24 hangs the sensor of the indoor coil: as warm as the building.
    indoors = shown(engineer.machine.ohm("quellmark-coil-in", 21))
    found = engineer.measure(indoors, at="6", how="Held on")
    assert engineer.taps <= MOST_TAPS
    assert found.why == (
        "It reads as at 21.0 °C, 15 K hotter than the 6.0 °C measured; more than is allowed."
    )
    assert found.next_step.endswith(
        "Read the tag on the plug, and read R3 too: on one curve, an exchanged plug shows the "
        "other's place."
    )
    engineer.find("X23", takes="R3 indoor coil")
    outdoors = shown(engineer.machine.ohm("quellmark-coil-out", 6))
    other = engineer.measure(outdoors, at="21", how="Air")
    assert "as at 6.0 °C" in other.why
    assert "read R4, R6, R8 too" in other.next_step
    # Each plug into its own socket: both read what they should.
    assert engineer.measure(indoors, at="21", how="Strapped", after=True).verdict == "Within limits"
    engineer.find("X24", takes="R4 outdoor coil")
    assert engineer.measure(outdoors, at="6", how="Strapped", after=True).verdict == "Within limits"
    engineer.job_page()
    text = engineer.hand_over(
        found="R3 and R4 in each other's sockets.",
        cause="what:R3 and R4 plugs exchanged",
        done="Changed over by their tags.",
    )
    assert text.count("outside limits") == 2 and text.count("within limits") == 2
    case = engineer.case_file(tmp_path)
    assert case.cause == Cause(what="R3 and R4 plugs exchanged")
    engineer.clear()


def test_a_board_is_blamed_last_written_down_put_back_whole_and_proved(
    engineer: Engineer, tmp_path: Path
) -> None:
    engineer.find("k42", takes="K4-2")
    engineer.open("Measure R4 outdoor coil")
    sound = shown(engineer.machine.ohm("quellmark-coil-out", 9))
    found = engineer.measure(sound, at="9", how="Strapped")
    assert engineer.taps <= MOST_TAPS
    assert found.verdict == "Within limits"
    assert "test the board's input before you say the word board" in found.next_step
    # Live: what the board feeds has broken down, with the plug in and with it off.
    fed_v, notes_v, pull_up_ohm = 0.7, 5.0, 10e3
    ohm = engineer.machine.ohm("quellmark-coil-out", 9)
    left_v = fed_v * ohm / (ohm + pull_up_ohm)
    assert left_v < notes_v / 5
    side = engineer.volts(f"{left_v:.3f}", plug_off=f"{fed_v:.2f}")
    assert "With the plug off 0.70 V stand here, and 5.00 V in the notes" in side
    assert "Where none of them pulls it down, it is the board." in side
    engineer.open("Main board A1")
    engineer.settings({"S2 size plug": "060", "SET 1 setting": "60", "SET 4 setting": "21"})
    assert engineer.put_back() == "✓ Complete: all 24 put back."
    proved = engineer.prove({"R4 in LIVE": "9 °C", "Size shown under SET item 1": "060"})
    assert proved == "✓ Complete: all 4 proved."
    engineer.job_page()
    text = engineer.hand_over(
        found="R4 sound, 0.7 V at X24 with nothing in it, all other plugs off.",
        cause="part:quellmark-main-board",
        done="New board, settings in.",
        minutes=95,
    )
    assert "Main board A1: S2 Size of the machine: 060" in text
    assert f"{left_v:.3f} V at the plug, 0.70 V with it off. Taken with Pocket meter. " in text
    assert "Main board A1: in, and proved." in text
    assert "(read: 9 °C)" in text and "What is needed" not in text
    case = engineer.case_file(tmp_path)
    assert case.cause == Cause(part="quellmark-main-board")
    assert ["0.70 V with it off" in line for line in case.measured] == [True]
    engineer.clear()


def test_a_compressor_falls_by_its_windings_and_its_insulation(
    engineer: Engineer, tmp_path: Path
) -> None:
    engineer.find("8 long 1 short", takes="K8-1")
    engineer.open("To Compressor C1")
    found = engineer.windings({"U-V": "0.51", "V-W": "0.44", "U-W": "0.51"}, at="20", how="Held on")
    assert engineer.taps <= MOST_TAPS
    # Half an ohm is beyond the meter in the pocket, and the page says which to fetch.
    assert (found.verdict, found.why) == (
        "Not decided",
        "Pocket meter is too coarse to tell at these ohms.",
    )
    assert "Take Bench meter." in found.reasons
    assert engineer.take_meter("Bench meter").verdict == "Outside limits"
    earth = engineer.insulation("0.3M", volts="500", at="20", how="Held on")
    assert earth.verdict == "Outside limits"
    assert engineer.put_back() == "✓ Complete: all 7 put back."
    proved = engineer.prove({"R7 after 20 minutes": "78 °C"})
    assert proved.startswith("✓ Complete")
    engineer.job_page()
    text = engineer.hand_over(
        found="Trips at the start. One winding low, 0.3 M to earth.",
        cause="part:quellmark-compressor",
        done="New compressor, drier, charge by weight.",
        minutes=420,
    )
    assert "windings: U-V 0.51, V-W 0.44, U-W 0.51 at 20.0 °C, held on: outside limits." in text
    assert "insulation to earth: 0.3M with 500 V at 20.0 °C, held on: outside limits." in text
    assert "Compressor C1: in, and proved." in text and "(read: 78 °C)" in text
    case = engineer.case_file(tmp_path)
    assert case.cause == Cause(part="quellmark-compressor") and case.minutes == 420
    assert len(case.measured) == 2
    engineer.clear()


def test_a_motor_loop_is_open_at_the_guard_and_whole_at_the_box(
    engineer: Engineer, tmp_path: Path
) -> None:
    engineer.find("chiller 1 1", takes="C-11")
    engineer.open("Measure M1")
    found = engineer.loop("OL", at="18", how="Held on")
    assert engineer.taps <= MOST_TAPS
    assert found.verdict == "Open circuit"
    assert "at the tabs in the terminal box. Whole there is the cable" in found.next_step
    whole = engineer.loop("182", again=True)
    assert whole.verdict == "Within limits"
    engineer.job_page()
    text = engineer.hand_over(
        found="Loop open at K11, 182 ohms at the tabs. S1 green.",
        cause="what:Loop wires or tabs at the terminal box",
        done="New tabs, crimped and greased.",
    )
    assert "C-11 (Motor protection, compressor 1)" in text
    first = text.index("loop: OL at 18.0 °C, held on: open circuit.")
    assert first < text.index("loop: 182 at 18.0 °C, held on: within limits.")
    case = engineer.case_file(tmp_path)
    assert case.cause == Cause(what="Loop wires or tabs at the terminal box")
    assert len(case.measured) == 2
    engineer.clear()


def test_two_machines_of_one_family_share_nothing(engineer: Engineer, tmp_path: Path) -> None:
    engineer.find("rooftop 4 2", takes="K4-2")
    engineer.start_job("left of the lift")
    engineer.open("Measure R4 outdoor coil")
    engineer.measure("OL")
    engineer.find("A1", takes="Main board A1")
    engineer.settings({"S2 size plug": "045"})
    # Down the other side of the roof.
    engineer.find("rooftop 5 1", takes="K5-1")
    engineer.start_job("by the stairs")
    engineer.taps = 1
    engineer.open("Measure R6 suction pipe")
    low = shown(engineer.machine.ohm("quellmark-suction", 19))
    found = engineer.measure(low, at="7", how="Strapped")
    assert engineer.taps <= MOST_TAPS
    assert found.verdict == "Outside limits"
    engineer.find("X24", takes="R4 outdoor coil")
    assert engineer.earlier() == []
    engineer.find("A1", takes="Main board A1")
    assert engineer.setting("S2 size plug") == ""
    engineer.job_page()
    second = engineer.hand_over(found="R6 warm.", cause="sensor:quellmark-suction", done="New R6.")
    assert "by the stairs" in second and "R4" not in second and "K4-2" not in second
    case = engineer.case_file(tmp_path)
    assert [reading.sensor for reading in case.readings] == ["quellmark-suction"]
    engineer.clear("by the stairs", others=1)
    engineer.choose_job("left of the lift")
    first = engineer.hand_over(found="R4 open.", cause="sensor:quellmark-coil-out", done="New R4.")
    assert "left of the lift" in first and "R6" not in first and "045" in first
    case = engineer.case_file(tmp_path)
    assert [reading.sensor for reading in case.readings] == ["quellmark-coil-out"]
    engineer.clear()
