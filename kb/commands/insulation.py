"""`ohmfolio insulation`: a part's insulation to earth, by its own limit and by the standard's."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from pathlib import Path

import click

from kb.model import Instrument, Part
from kb.model.instrument import InsulationTest
from kb.notes.load import Notes, load_notes
from kb.notes.problem import nearest
from kb.numbers.insulation import HIGH_C, LOW_C, InsulationVerdict, LimitCheck, judge_insulation
from kb.numbers.rounding import format_ohm, format_percent

from .asking import NoAnswer, NotUnderstood, json_option, notes_option, read_entry, say_json
from .judge_words import VERDICT, wrapped
from .part_asked import caution_lines, cautions_of, find_part
from .typed import Temperature, at_option, typed_reading

WOUND = ("motor", "compressor", "fan")
"""Parts with a motor winding: IEEE 43 is about those, and says nothing of heaters or valves."""

OWN_CAUTIONS = (
    "Never on a sensor, a board, a PTC loop or anything with electronics in it: one forgotten plug "
    "is one board.",
    "Never on a compressor under vacuum.",
    "The winding holds charge after the test: leave the tester on until it shows zero, then earth "
    "it.",
    "Nobody touches the far end while the button is down.",
)


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


@click.command()
@click.argument("part", metavar="PART")
@click.option("--reading", metavar="R", required=True, help="After one minute: 45M, 1.2G, OL.")
@click.option("--volts", type=float, metavar="V", required=True, help="Direct test voltage used.")
@at_option(required=True, help="The winding's temperature, 10 to 85 °C.")
@click.option(
    "--tester", metavar="ID", help="The insulation tester used, to count its error; by default "
    "the notes' only one of that voltage.",
)
@notes_option
@json_option
def insulation(
    part: str, reading: str, volts: float, at: Temperature, tester: str | None, notes: Path,
    as_json: bool,
) -> None:  # fmt: skip
    """Say whether a part's insulation to earth is good, brought to 40 °C.

    By the part's own limit first, then by the standard's minimum. A test above the part's own
    test voltage gets no verdict.

    Example: ohmfolio insulation quellmark-fan-motor --reading 45M --volts 500 --at 22
    """
    r_ohm = typed_reading(reading)
    loaded = load_notes(notes)
    found = find_part(loaded, part, has=lambda one: one.insulation, what="insulation limit")
    one = judged(loaded, found, r_ohm=r_ohm, volts=volts, at=at, tester=tester)
    say_json(as_dict(one)) if as_json else click.echo(words(one))


def judged(
    notes: Notes, part: Part, *, r_ohm: float, volts: float, at: Temperature, tester: str | None
) -> Insulated:
    """Return the verdict on an insulation reading.

    Raises
    ------
    NotUnderstood
        When the voltage or the tester is none.
    NoAnswer
        When the part may not be tested so, or no correction holds at that temperature.
    """
    limit = part.insulation
    if not 0 < volts < math.inf:
        raise NotUnderstood(f"{volts:g} is no test voltage; give direct volts above zero")
    if part.is_a == "board":
        raise NoAnswer(f"'{part.id}' is a board: an insulation test destroys it. Do not test it.")
    if volts > limit.test_v:
        raise NoAnswer(
            f"{part.name} is tested at {limit.test_v:g} V at most, and {volts:g} V may break its "
            "insulation down: no verdict is given on that. Do not repeat it; discharge the "
            f"winding, and test at {limit.test_v:g} V."
        )
    for t_c, whose in ((at.t_c, "the winding"), (limit.at_c, "the limit in its entry")):
        if not LOW_C <= t_c <= HIGH_C:
            raise NoAnswer(
                f"{whose} is at {at.degrees(t_c)}, and insulation is brought to 40 °C from "
                f"{at.degrees(LOW_C)} to {at.degrees(HIGH_C)} only; let the winding warm or cool"
            )
    used = _tester(notes, tester, volts=volts)
    over = math.isinf(r_ohm) or (used is not None and r_ohm > used[1].max_ohm)
    most_ohm = used[1].max_ohm if used else math.inf
    verdict = judge_insulation(
        most_ohm if over else r_ohm, t_c=at.t_c, material=limit.material,
        percent=0.0 if over or used is None else used[1].percent,
        part_min_ohm=limit.min_ohm, part_limit_c=limit.at_c,
    )  # fmt: skip
    checks = verdict.checks if part.is_a in WOUND else verdict.checks[:1]
    if over:
        # It is at least what the tester can show: that may be too little to tell, never too low.
        checks = tuple(
            replace(one, state="within" if one.state == "within" else "undecided")
            for one in checks
        )
    own = [f"Disconnect first: {limit.disconnect}", f"At most {limit.test_v:g} V."]
    return Insulated(
        part=part, r_ohm=math.inf if over else r_ohm, volts=volts, at=at, tester=used,
        verdict=replace(verdict, checks=checks, state=checks[0].state),
        cautions=tuple(
            cautions_of(notes, part, judges="insulation", own=[*own, *OWN_CAUTIONS])
        ),
    )  # fmt: skip


def _tester(
    notes: Notes, told: str | None, *, volts: float
) -> tuple[Instrument, InsulationTest] | None:
    testers = [one for one in notes.of("instruments").values() if one.insulation]
    if told is not None:
        if not notes.knows("instruments", told):
            raise NotUnderstood(
                f"no instrument is called '{told}'; {nearest(told, [one.id for one in testers])}"
            )
        entry = read_entry(notes, "instruments", told)
        testers = [one for one in testers if one.id == entry.id]
        if not testers:
            raise NotUnderstood(f"{entry.name} is no insulation tester")
    found = [(one, test) for one in testers for test in one.insulation if test.volts == volts]
    if told is not None and not found:
        has = ", ".join(f"{test.volts:g}" for test in testers[0].insulation)
        raise NotUnderstood(f"{testers[0].name} tests at {has} V, not at {volts:g} V")
    return found[0] if len(found) == 1 else None


def as_dict(one: Insulated) -> dict[str, object]:
    """Return the answer for machines; over range is null, and at least what `checks` say."""
    over = math.isinf(one.r_ohm)
    return {
        "part": one.part.id,
        "verdict": one.verdict.state,
        "over_range": over,
        "r_ohm": None if over else one.r_ohm,
        "at_40_ohm": _finite(one.verdict.at_40_ohm),
        "checks": [
            {
                "whose": check.whose,
                "limit_ohm": check.limit_ohm,
                "limit_c": check.limit_c,
                "reading_ohm": _finite(check.reading_ohm),
                "state": check.state,
            }
            for check in one.verdict.checks
        ],
        "cautions": list(one.cautions),
    }


def words(one: Insulated) -> str:
    """Return the whole answer for a terminal."""
    parts = [
        wrapped(_headline(one)),
        "\n".join(_check_line(one, check) for check in one.verdict.checks),
        "\n".join(wrapped(line) for line in _footing(one)),
        caution_lines(one.cautions),
    ]
    return "\n\n".join(part for part in parts if part)


def _headline(one: Insulated) -> str:
    own, *standard = one.verdict.checks
    at_40 = f"{_shown(one, one.verdict.at_40_ohm)} at 40 °C"
    said = {
        "within": f"the part's own limit is met, {at_40}.",
        "outside": f"less than the part's own limit, {at_40}.",
        "undecided": f"too close to the part's own limit to call, {at_40}.",
    }[own.state]
    for check in standard:
        if own.state == "within" and check.state != "within":
            said += f" But {check.whose} asks for {format_ohm(check.limit_ohm, digits=2)}"
            said += " and this is less." if check.state == "outside" else ": too close to call."
        if own.state == "outside" and check.state == "within":
            said += f" {check.whose} alone would pass it; the part's own limit stands first."
    return f"{VERDICT[own.state]}: {said}"


def _check_line(one: Insulated, check: LimitCheck) -> str:
    whose = "The part's own limit" if check.whose == "part" else f"{check.whose}, least value"
    return (
        f"{whose}: at least {format_ohm(check.limit_ohm, digits=2)} at "
        f"{one.at.degrees(check.limit_c)}; here {_shown(one, check.reading_ohm)}: {VERDICT[check.state].lower()}"
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
    said = [f"{read} and {one.volts:g} V{how}."]
    if one.part.is_a in WOUND:
        said.append(f"Brought to 40 °C as {limit.material} insulation (IEEE 43).")
    else:
        said.append(
            f"Brought to 40 °C as {limit.material} insulation. IEEE 43 is about motor windings and "
            f"sets no least value for a {one.part.is_a}."
        )
    if one.volts < limit.test_v:
        said.append(
            f"It was read below the part's {limit.test_v:g} V: a bad figure counts, a good one "
            "proves less."
        )
    if one.verdict.state != "within":
        said.append(
            "Damp, dirt or liquid refrigerant read low as well: clean, dry or warm it for some "
            "hours and repeat before you condemn it."
        )
    return said


def _finite(value: float) -> float | None:
    return value if math.isfinite(value) else None
