"""`ohmfolio stand-in`: standard resistors to plug in place of a sensor, to test the board."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

import click

from kb.model.sensor import BoardInput
from kb.notes.load import load_notes
from kb.numbers.characteristic import Characteristic
from kb.numbers.divider import volts_at_plug
from kb.numbers.e_series import SERIES, TOLERANCE
from kb.numbers.out_of_range import OutOfRange
from kb.numbers.rounding import format_ohm, format_percent, format_volts
from kb.numbers.stand_in import StandIn, stand_ins

from .arguments import Temperature, at_option
from .computing import computing
from .options import Asked, NoAnswer, find_curve, json_option, notes_option, say_json
from .part_lookup import caution_lines
from .terminal import wrapped

CAUTIONS = (
    "Isolate, lock off, prove dead and let the charge drain before the plug comes off and before "
    "the resistor goes in.",
    "The board is live while you read it: hands out, cover on where it has one.",
    "A stand-in is for a test and comes out again: with it in place the machine has lost that "
    "sensor's protection, so do not let it run.",
    "The maker's instructions, local codes and licensed practice come first.",
)
WIRED = {"single": "", "series": " in series", "parallel": " in parallel"}


@dataclass(frozen=True, kw_only=True)
class StandIns:
    """Resistors that stand for a sensor at a temperature.

    Parameters
    ----------
    r_ohm : float
        What the sensor reads there.
    singles, pairs : tuple of StandIn
        The nearest first.
    """

    asked: Asked
    curve: Characteristic
    at: Temperature
    series: str
    r_ohm: float
    singles: tuple[StandIn, ...]
    pairs: tuple[StandIn, ...]

    @property
    def board_input(self) -> BoardInput | None:
        """The board's side of the plug, where the sensor's entry knows it."""
        return self.asked.sensor.board_input if self.asked.sensor else None

    def volts(self, r_ohm: float) -> float | None:
        """Return direct volts at the plug with a resistance in it, or None if not known."""
        told = self.board_input
        if told is None:
            return None
        return float(volts_at_plug(r_ohm, supply_v=told.supply_v, pull_up_ohm=told.pull_up_ohm))

    def spread_k(self, one: StandIn) -> float:
        """Return how far the resistors' own tolerance may move what the board shows, in K."""
        share = TOLERANCE[self.series]
        ends = self.curve.beyond_c([one.r_ohm * (1 - share), one.r_ohm * (1 + share)])
        return float(max(abs(ends - one.shows_c)))


@click.command("stand-in")
@click.argument("name", metavar="CURVE|SENSOR")
@at_option(required=True, help="The temperature to stand for, such as 7, -10 or 45F.")
@click.option(
    "--series",
    type=click.Choice(SERIES),
    default="E24",
    show_default=True,
    help="What is in the drawer (IEC 60063).",
)
@notes_option
@json_option
def stand_in(name: str, at: Temperature, series: str, notes: Path, as_json: bool) -> None:
    """Say which standard resistors stand for a sensor at a temperature.

    Single ones and pairs, the nearest first, with what the board should then show. Of a SENSOR
    whose board input is known, the volts at the plug too.

    Example: ohmfolio stand-in ntc-10k-3435 --at 0 --series E12
    """
    one = chosen(find_curve(load_notes(notes), name=name), at=at, series=series)
    say_json(as_dict(one)) if as_json else click.echo(words(one))


def chosen(asked: Asked, *, at: Temperature, series: str) -> StandIns:
    """Return the resistors nearest to a temperature.

    Raises
    ------
    NoAnswer
        If the curve does not compute or does not hold at that temperature.
    """
    curve = computing(asked.curve)
    try:
        singles, pairs = stand_ins(curve, t_c=at.t_c, series=series)
    except OutOfRange as error:
        raise NoAnswer(
            f"the curve '{curve.id}' holds from {at.degrees(error.low)} to "
            f"{at.degrees(error.high)}, not at {at}; ask for a temperature inside"
        ) from None
    return StandIns(
        asked=asked,
        curve=curve,
        at=at,
        series=series,
        r_ohm=float(curve.r_ohm(at.t_c)),
        singles=singles,
        pairs=pairs,
    )


def as_dict(one: StandIns) -> dict[str, object]:
    """Return the answer for machines."""
    return {
        "curve": one.curve.id,
        "t_c": one.at.t_c,
        "r_ohm": one.r_ohm,
        "volts": one.volts(one.r_ohm),
        "singles": [_as_dict(one, each) for each in one.singles],
        "pairs": [_as_dict(one, each) for each in one.pairs],
        "cautions": list(CAUTIONS),
    }


def _as_dict(one: StandIns, each: StandIn) -> dict[str, object]:
    return {
        "parts_ohm": list(each.parts_ohm),
        "wired": each.wired,
        "r_ohm": each.r_ohm,
        "shows_c": each.shows_c,
        "error_k": each.error_k,
        "volts": one.volts(each.r_ohm),
    }


def words(one: StandIns) -> str:
    """Return the whole answer for a terminal."""
    at = one.at
    nearest = [*one.singles, *one.pairs]
    if not nearest:
        lead = f"No resistor of {one.series} is on this curve."
    else:
        best = nearest[0]
        lead = (
            f"{_parts(best)} stands for {at}: the board should show {at.degrees(best.shows_c)}"
            f"{_plug(one, best.r_ohm)}."
        )
    rows = [wrapped(lead), "\n".join(_asked(one))]
    for title, found in (("One resistor:", one.singles), ("Two together:", one.pairs)):
        if found:
            rows.append("\n".join([title, *(_row(one, each) for each in found)]))
    if nearest:
        share = format_percent(TOLERANCE[one.series])
        rows.append(
            wrapped(
                f"Measure the resistor first: {one.series} may be ± {share} off unless marked "
                f"better, and here that is ± {at.apart(one.spread_k(nearest[0]))}."
            )
        )
    rows.append(caution_lines(CAUTIONS))
    return "\n\n".join(rows)


def _asked(one: StandIns) -> list[str]:
    reads = f"At {one.at} it reads {format_ohm(one.r_ohm)}{_plug(one, one.r_ohm)}."
    told = one.board_input
    if told is None:
        return [one.asked.heading(), reads]
    board = (
        f"The board feeds {format_volts(told.supply_v, decimals=1)} through "
        f"{format_ohm(told.pull_up_ohm)}."
    )
    return [one.asked.heading(), reads, board]


def _parts(each: StandIn) -> str:
    return " and ".join(format_ohm(part, digits=3) for part in each.parts_ohm) + WIRED[each.wired]


def _plug(one: StandIns, r_ohm: float) -> str:
    volts = one.volts(r_ohm)
    return "" if volts is None else f", {format_volts(volts)} at the plug"


def _row(one: StandIns, each: StandIn) -> str:
    sign = "−" if each.error_k < 0 else "+"
    return (
        f"  {_parts(each)}: shows {one.at.degrees(each.shows_c)}, {sign}"
        f"{one.at.apart(each.error_k)}{_plug(one, each.r_ohm)}"
    )
