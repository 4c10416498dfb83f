"""What a terminal says of a part's insulation: the verdict first, what to do, then the figures."""

from __future__ import annotations

import math
from dataclasses import dataclass

from kb.model import Instrument, Part
from kb.model.instrument import InsulationTest
from kb.numbers.insulation import HIGH_C, LOW_C, InsulationVerdict, LimitCheck
from kb.numbers.rounding import format_ohm, format_percent, format_plain
from kb.words.catalogue import name_of

from .arguments import Temperature
from .part_lookup import caution_lines
from .terminal import wrapped

WOUND = ("motor", "compressor", "fan")
"""Parts with a motor winding: IEEE 43 is about those, and says nothing of heaters or valves."""


@dataclass(frozen=True, kw_only=True)
class Insulated:
    """A part's insulation as read after one minute.

    Parameters
    ----------
    r_ohm : float
        Infinity for over range; then the verdict counts with the most that the tester can show.
    tester : (Instrument, InsulationTest) or None
        What it was read with, where the notes have a tester of that voltage.
    verdict : InsulationVerdict
        By the part's own limit first, then by the standard where it applies.
    """

    part: Part
    r_ohm: float
    volts: float
    at: Temperature
    tester: tuple[Instrument, InsulationTest] | None
    verdict: InsulationVerdict
    cautions: tuple[str, ...]


def words(one: Insulated) -> str:
    """Return the whole answer for a terminal."""
    parts = [
        wrapped(_headline(one)),
        "\n".join(wrapped(_check_line(one, check)) for check in one.verdict.checks),
        "\n".join(wrapped(line) for line in _footing(one)),
        caution_lines(one.cautions),
    ]
    return "\n\n".join(part for part in parts if part)


def _headline(one: Insulated) -> str:
    own, *standard = one.verdict.checks
    if one.verdict.beyond:
        return f"{name_of('verdict', own.state)}: {_as_read(one, own)}"
    if one.verdict.at_40_ohm is None:
        reads = f"{_shown(one, own.reading_ohm)} as read"
    else:
        reads = f"{_shown(one, one.verdict.at_40_ohm)} at 40 °C"
    said = {
        "within": f"the part's own limit is met, {reads}.",
        "outside": f"less than the part's own limit, {reads}.",
        "undecided": f"too close to the part's own limit to call, {reads}.",
    }[own.state]
    for check in standard:
        if own.state == "within" and check.state != "within":
            said += f" For comparison, {check.whose} asks for "
            said += format_ohm(check.limit_ohm, digits=2)
            said += " and this is less." if check.state == "outside" else ": too close to call."
        if own.state == "outside" and check.state == "within":
            said += f" {check.whose} alone would pass it; the part's own limit stands first."
    return f"{name_of('verdict', own.state)}: {said}"


def _as_read(one: Insulated, own: LimitCheck) -> str:
    """Say what a reading tells where no correction holds, and what to do."""
    read = f"{_shown(one, own.reading_ohm)} as read at {one.at}"
    low, high = one.at.degrees(LOW_C), one.at.degrees(HIGH_C)
    if own.state == "outside":
        return (
            f"{read} is less than the part's own limit already, and the cold only flatters: "
            f"brought to {one.at.degrees(own.limit_c)} it would be lower still."
        )
    if own.state == "within":
        return f"{read} meets the part's own limit already; cooler it would read more."
    if one.verdict.beyond == "hot":
        return (
            f"{read} does not clear the part's own limit, but heat lowers it, and above {high} no "
            "correction holds. Let it cool, and read again."
        )
    against = "; nothing speaks against it" if math.isinf(one.r_ohm) else ""
    heater = "its crankcase heater or by " if one.part.is_a == "compressor" else ""
    return (
        f"{read}{against}. But the cold flatters, and below {low} no correction holds. Warm it by "
        f"{heater}standing indoors until it is warm and dry, isolate it again, and read again."
    )


def _check_line(one: Insulated, check: LimitCheck) -> str:
    whose = "The part's own limit"
    if check.whose != "part":
        hermetic = ", not for hermetic compressors" if one.part.is_a == "compressor" else ""
        whose = f"For comparison, {check.whose} (written for machines{hermetic})"
    return (
        f"{whose}: at least {format_ohm(check.limit_ohm, digits=2)} at "
        f"{one.at.degrees(check.limit_c)}; here {_shown(one, check.reading_ohm)}: "
        f"{name_of('verdict', check.state).lower()}"
    )


def _shown(one: Insulated, r_ohm: float) -> str:
    if math.isinf(r_ohm):
        return "over range"
    return f"{'more than ' if math.isinf(one.r_ohm) else ''}{format_ohm(r_ohm, digits=3)}"


def _footing(one: Insulated) -> list[str]:
    limit = one.part.insulation
    read = f"{one.part.name} ({one.part.id}): {format_ohm(one.r_ohm, digits=3)} at {one.at}"
    if one.tester:
        tool, test = one.tester
        how = f" with {tool.name}, ± {format_percent(test.percent / 100)}"
    else:
        how = ", its tester's error not counted (name it with --tester)"
    said = [f"{read} and {format_plain(one.volts)} V{how}."]
    if one.part.is_a not in WOUND:
        said.append(
            "Held against its limit as read: IEEE 43 is about motor windings and sets no least "
            f"value and no correction for a {one.part.is_a}."
        )
    elif one.verdict.beyond:
        said.append(f"As read: no correction for {limit.material} insulation holds (IEEE 43).")
    else:
        said.append(f"Brought to 40 °C as {limit.material} insulation (IEEE 43).")
    if one.volts < limit.test_v:
        said.append(
            f"It was read below the part's {format_plain(limit.test_v)} V: a bad figure counts, a "
            "good one "
            "proves less."
        )
    if one.verdict.state == "outside" or (
        one.verdict.state == "undecided" and not one.verdict.beyond
    ):
        said.append(
            "Damp, dirt or liquid refrigerant read low as well: clean, dry or warm it for some "
            "hours and repeat before you condemn it."
        )
    return said
