"""Two curves side by side at a temperature: how wrong is a board that gets the other sensor?"""

from __future__ import annotations

from dataclasses import dataclass

from kb.numbers.curve_pair import ALIKE_K, Apart, apart, most_apart
from kb.numbers.ohm_digits import ohm_digits
from kb.numbers.out_of_range import OutOfRange

from .sensor_facts import Curve
from .statement import Refusal, Statement
from .typed import typed_temperature


@dataclass(frozen=True, kw_only=True)
class Comparison:
    """How far two curves are apart, here and at most.

    Parameters
    ----------
    unit : str
        "C" or "F": the unit to answer in.
    digits : int
        So many significant digits of ohms tell what a kelvin needs on both curves.
    difference : Statement
        In ohms, and which reads more.
    board : Statement
        What a board for the one shows on the other.
    furthest : Statement
        Where they differ most, and by how much.
    """

    unit: str
    digits: int
    here: Apart
    most: Apart
    difference: Statement
    board: Statement
    furthest: Statement


def compare_curves(text: str, *, curve: Curve, other: Curve, unit: str = "C") -> Comparison:
    """Return how far two curves are apart at the temperature typed.

    Raises
    ------
    Refusal
        If the curves share no temperature, or the one typed is missing, unreadable or not shared.
    """
    most = most_apart(curve, other=other)
    if most is None:
        raise Refusal(Statement(id="pair.no-shared"), field="other")
    if not text.strip():
        raise Refusal(Statement(id="curve.temperature-missing"), field="at", missing=True)
    at = typed_temperature(text, field="at", unit=unit)
    try:
        here = apart(curve, other=other, t_c=at.t_c)
    except OutOfRange:
        figures = {
            "t_c": at.t_c,
            "low_c": max(curve.low_c, other.low_c),
            "high_c": min(curve.high_c, other.high_c),
        }
        raise Refusal(Statement(id="pair.beyond", figures=figures), field="at") from None
    most_figures = {
        "by_k": abs(most.by_k),
        "at_c": most.at_c,
        "one_ohm": most.one_ohm,
        "other_ohm": most.other_ohm,
    }
    return Comparison(
        unit=at.unit,
        digits=max(ohm_digits(curve), ohm_digits(other)),
        here=here,
        most=most,
        difference=_difference(here),
        board=_board(here),
        furthest=Statement(id="pair.furthest", figures=most_figures),
    )


def _difference(here: Apart) -> Statement:
    if abs(here.by_k) <= ALIKE_K:
        return Statement(id="pair.no-difference")
    more = "higher" if here.other_ohm > here.one_ohm else "lower"
    figures = {"difference_ohm": abs(here.other_ohm - here.one_ohm)}
    return Statement(id=f"pair.difference-{more}", figures=figures)


def _board(here: Apart) -> Statement:
    if abs(here.by_k) <= ALIKE_K:
        return Statement(id="pair.board-right")
    side = "hot" if here.by_k > 0 else "cold"
    return Statement(id=f"pair.board-{side}", figures={"by_k": abs(here.by_k)})
