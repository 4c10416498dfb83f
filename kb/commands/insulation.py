"""`ohmfolio insulation`: a part's insulation to earth, by its own limit first, at any warmth."""

from __future__ import annotations

import math
from dataclasses import replace
from pathlib import Path

import click

from kb.model import Instrument, Part
from kb.model.instrument import InsulationTest
from kb.notes.load import Notes, load_notes
from kb.notes.problem import nearest
from kb.numbers.insulation import HIGH_C, LOW_C, judge_insulation, parse_insulation
from kb.numbers.rounding import format_plain

from .arguments import Temperature, at_option
from .insulation_words import WOUND, Insulated, words
from .options import NoAnswer, NotUnderstood, json_option, notes_option, read_entry, say_json
from .part_lookup import cautions_of, find_part

OWN_CAUTIONS = (
    "Never on a sensor, a board, a PTC loop or anything with electronics in it: one forgotten plug "
    "is one board.",
    "Never on a compressor under vacuum.",
    "The winding holds charge after the test: leave the tester on until it shows zero, then earth "
    "it.",
    "Nobody touches the far end while the button is down.",
)


@click.command()
@click.argument("part", metavar="PART")
@click.option("--reading", metavar="R", required=True, help="After one minute: 45M, 1.2G, OL.")
@click.option("--volts", type=float, metavar="V", required=True, help="Direct test voltage used.")
@at_option(required=True, help="The winding's temperature; best between 10 and 85 °C.")
@click.option(
    "--tester",
    metavar="ID",
    help="The insulation tester used, to count its error; by default "
    "the notes' only one of that voltage.",
)
@notes_option
@json_option
def insulation(
    part: str,
    reading: str,
    volts: float,
    at: Temperature,
    tester: str | None,
    notes: Path,
    as_json: bool,
) -> None:
    """Say whether a part's insulation to earth is good, brought to 40 °C.

    By the part's own limit first, then for comparison by the standard's minimum. Colder than
    10 °C or hotter than 85 °C it is judged as read. A test above the part's own test voltage
    gets no verdict.

    Example: ohmfolio insulation quellmark-fan-motor --reading 45M --volts 500 --at 22
    """
    try:
        r_ohm = parse_insulation(reading)
    except ValueError as error:
        raise NotUnderstood(str(error)) from None
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
        When the part may not be tested so, or its limit holds where there is no correction.
    """
    limit = part.insulation
    if not 0 < volts < math.inf:
        raise NotUnderstood(
            f"{format_plain(volts)} is no test voltage; give direct volts above zero"
        )
    if part.is_a == "board":
        raise NoAnswer(f"'{part.id}' is a board: an insulation test destroys it. Do not test it.")
    if volts > limit.test_v:
        raise NoAnswer(
            f"{part.name} is tested at {format_plain(limit.test_v)} V at most, and "
            f"{format_plain(volts)} V may break its "
            "insulation down: no verdict is given on that. Do not repeat it; discharge the "
            f"winding, and test at {format_plain(limit.test_v)} V."
        )
    if not LOW_C <= limit.at_c <= HIGH_C:
        raise NoAnswer(
            f"the limit in the entry of '{part.id}' holds at {at.degrees(limit.at_c)}, and "
            f"insulation is brought to another temperature from {at.degrees(LOW_C)} to "
            f"{at.degrees(HIGH_C)} only; look the limit up again"
        )
    used = _tester(notes, tester, volts=volts)
    over = math.isinf(r_ohm) or (used is not None and r_ohm > used[1].max_ohm)
    most_ohm = used[1].max_ohm if used else math.inf
    wound = part.is_a in WOUND
    verdict = judge_insulation(
        most_ohm if over else r_ohm,
        # The correction is one for windings; a heater or a valve is held to its limit as read.
        t_c=at.t_c if wound else limit.at_c,
        material=limit.material,
        percent=0.0 if over or used is None else used[1].percent,
        part_min_ohm=limit.min_ohm,
        part_limit_c=limit.at_c,
    )
    checks = verdict.checks if wound else verdict.checks[:1]
    at_40_ohm = verdict.at_40_ohm if wound else None
    if over:
        # It is at least what the tester can show: that may be too little to tell, never too low.
        checks = tuple(
            replace(one, state="within" if one.state == "within" else "undecided") for one in checks
        )
    own = [f"Disconnect first: {limit.disconnect}", f"At most {format_plain(limit.test_v)} V."]
    return Insulated(
        part=part,
        r_ohm=math.inf if over else r_ohm,
        volts=volts,
        at=at,
        tester=used,
        verdict=replace(verdict, at_40_ohm=at_40_ohm, checks=checks, state=checks[0].state),
        cautions=tuple(cautions_of(notes, part, judges="insulation", own=[*own, *OWN_CAUTIONS])),
    )


def _tester(
    notes: Notes, told: str | None, *, volts: float
) -> tuple[Instrument, InsulationTest] | None:
    testers = [one for one in notes.of(Instrument).values() if one.insulation]
    if told is not None:
        if not notes.knows("instruments", told):
            raise NotUnderstood(
                f"no instrument is called '{told}'; {nearest(told, [one.id for one in testers])}"
            )
        entry = read_entry(notes, model=Instrument, entry_id=told)
        testers = [one for one in testers if one.id == entry.id]
        if not testers:
            raise NotUnderstood(f"{entry.name} is no insulation tester")
    found = [(one, test) for one in testers for test in one.insulation if test.volts == volts]
    if told is not None and not found:
        has = ", ".join(format_plain(test.volts) for test in testers[0].insulation)
        raise NotUnderstood(f"{testers[0].name} tests at {has} V, not at {format_plain(volts)} V")
    return found[0] if len(found) == 1 else None


def as_dict(one: Insulated) -> dict[str, object]:
    """Return the answer for machines; over range is null, and at least what `checks` say."""
    over = math.isinf(one.r_ohm)
    return {
        "part": one.part.id,
        "verdict": one.verdict.state,
        "beyond": one.verdict.beyond or None,
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


def _finite(value: float | None) -> float | None:
    return value if value is not None and math.isfinite(value) else None
