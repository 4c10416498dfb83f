"""Standard resistors in place of a sensor: what should the board then show, and how surely?"""

from __future__ import annotations

from dataclasses import dataclass

from kb.numbers.divider import volts_at_plug
from kb.numbers.e_series import PRINTED_DIGITS, TOLERANCE
from kb.numbers.ohm_digits import ohm_digits
from kb.numbers.stand_in import StandIn, stand_ins

from .curve_lookup import temperature_on
from .sensor_facts import Curve
from .statement import Statement

CAUTIONS = ("stand-in-plug", "stand-in-mains", "stand-in-live", "stand-in-out", "maker-first")
"""What stands beside every stand-in, by id: isolating comes first."""


@dataclass(frozen=True, kw_only=True)
class BoardSide:
    """The board's side of the plug: volts through a pull-up in Ω."""

    supply_v: float
    pull_up_ohm: float


@dataclass(frozen=True, kw_only=True)
class StandInQuestion:
    """Which temperature to stand for, out of which drawer.

    Parameters
    ----------
    at : str
        As typed.
    unit : str
        What a bare temperature is in: "C" or "F".
    series : str
        One of kb.numbers.e_series.SERIES.
    board : BoardSide or None
        Where the sensor's entry knows it.
    """

    curve: Curve
    curve_id: str
    at: str
    unit: str = "C"
    series: str
    board: BoardSide | None = None


@dataclass(frozen=True, kw_only=True)
class StoodIn:
    """One resistor, or two together, with the volts at the plug and the words for it."""

    stand_in: StandIn
    volts: float | None
    statement: Statement


@dataclass(frozen=True, kw_only=True)
class StandInAnswer:
    """Resistors that stand for a sensor at a temperature.

    Parameters
    ----------
    unit : str
        "C" or "F": the unit to answer in.
    r_ohm : float
        What the sensor itself reads there.
    volts : float or None
        At the plug with that; None where the board's side is not known.
    headline : Statement
        The nearest, or that there is none.
    reads, board : Statement or None
        What the sensor itself reads; what the board feeds it.
    singles, pairs : tuple of StoodIn
        The nearest first.
    spread : Statement or None
        How far the resistor's own tolerance may move what the board shows.
    """

    unit: str
    digits: int
    t_c: float
    series: str
    r_ohm: float
    volts: float | None
    headline: Statement
    reads: Statement
    board: Statement | None
    singles: tuple[StoodIn, ...]
    pairs: tuple[StoodIn, ...]
    spread: Statement | None
    spread_k: float | None
    cautions: tuple[str, ...] = CAUTIONS


def answer_stand_in(question: StandInQuestion) -> StandInAnswer:
    """Return the resistors nearest to a temperature.

    Raises
    ------
    Refusal
        If the temperature is missing, unreadable, or not one the curve holds for.
    """
    curve, series = question.curve, question.series
    at = temperature_on(question.at, curve=curve, curve_id=question.curve_id, unit=question.unit)
    found = stand_ins(curve, t_c=at.t_c, series=series)
    singles, pairs = (tuple(_stood_in(each, question) for each in kind) for kind in found)
    r_ohm = float(curve.r_ohm(at.t_c))
    volts = _volts(r_ohm, board=question.board)
    best = next(iter((*singles, *pairs)), None)
    spread_k = None if best is None else _spread_k(best.stand_in, question)
    return StandInAnswer(
        unit=at.unit,
        digits=ohm_digits(curve),
        t_c=at.t_c,
        series=series,
        r_ohm=r_ohm,
        volts=volts,
        headline=_headline(best, question, t_c=at.t_c),
        reads=_with_volts("stand-in.reads", {"t_c": at.t_c, "r_ohm": r_ohm}, volts=volts),
        board=None
        if question.board is None
        else Statement(id="stand-in.board", figures=vars(question.board)),
        singles=singles,
        pairs=pairs,
        spread=_spread(series, spread_k),
        spread_k=spread_k,
    )


def _volts(r_ohm: float, *, board: BoardSide | None) -> float | None:
    if board is None:
        return None
    return float(volts_at_plug(r_ohm, supply_v=board.supply_v, pull_up_ohm=board.pull_up_ohm))


def _with_volts(statement_id: str, figures: dict[str, object], *, volts: float | None) -> Statement:
    if volts is None:
        return Statement(id=statement_id, figures=figures)
    return Statement(id=f"{statement_id}-volts", figures=figures | {"plug_v": volts})


def _stood_in(each: StandIn, question: StandInQuestion) -> StoodIn:
    volts = _volts(each.r_ohm, board=question.board)
    figures = {
        "resistors": _resistors(each, series=question.series),
        "shows_c": each.shows_c,
        "error_k": each.error_k,
    }
    return StoodIn(
        stand_in=each, volts=volts, statement=_with_volts("stand-in.row", figures, volts=volts)
    )


def _resistors(each: StandIn, *, series: str) -> Statement:
    """Return the values as they are printed on the parts: two digits, or three in a fine series."""
    parts = [
        Statement(id=f"stand-in.printed-{PRINTED_DIGITS[series]}", figures={"part_ohm": part_ohm})
        for part_ohm in each.parts_ohm
    ]
    names = ("first", "second")[: len(parts)]
    figures = dict(zip(names, parts, strict=True))
    return Statement(id=f"stand-in.{each.wired}", figures=figures)


def _headline(best: StoodIn | None, question: StandInQuestion, *, t_c: float) -> Statement:
    if best is None:
        return Statement(id="stand-in.none", figures={"series": question.series})
    figures = {
        "resistors": _resistors(best.stand_in, series=question.series),
        "t_c": t_c,
        "shows_c": best.stand_in.shows_c,
    }
    return _with_volts("stand-in.best", figures, volts=best.volts)


def _spread_k(best: StandIn, question: StandInQuestion) -> float:
    """Return how far the resistor's own tolerance may move what the board shows, in K."""
    share = TOLERANCE[question.series]
    ends = [
        float(question.curve.beyond_c(best.r_ohm * (1 + off))) - best.shows_c
        for off in (-share, share)
    ]
    return max(abs(end) for end in ends)


def _spread(series: str, spread_k: float | None) -> Statement | None:
    if spread_k is None:
        return None
    figures = {"series": series, "tolerance_share": TOLERANCE[series], "spread_k": spread_k}
    return Statement(id="stand-in.spread", figures=figures)
