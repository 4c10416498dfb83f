"""One place of a resting machine: who rests with whom, and what its sensors say together."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from kb.numbers.at_rest import AtRest, Standing

from .reading import Curve
from .statement import Statement

BROKEN = ("open", "short", "off-curve")
"""Standings of a sensor that is faulty by itself."""
FEWEST = 3
"""Fewer than these cannot say who is right without a thermometer."""


@dataclass(frozen=True, kw_only=True)
class RestingSensor:
    """What an entry says of a sensor at rest.

    Parameters
    ----------
    id : str
    name : str
        What to call it.
    curve : Characteristic or Grid
    curve_id : str
    allow_k : float
        What the machine tolerates in K; 0 for no word on it.
    place : str
        Where it rests, as the entry says; "" where nobody noted it.
    instructions : tuple of str
        Which of when_good, when_bad, when_open, when_short the entry has.
    """

    id: str
    name: str
    curve: Curve
    curve_id: str
    allow_k: float = 0.0
    place: str = ""
    instructions: tuple[str, ...] = ()


@dataclass(frozen=True, kw_only=True)
class PlaceAnswer:
    """What the sensors of one place say together.

    Parameters
    ----------
    place : str
        "" where no place is noted.
    state : str
        "within", "outside" or "undecided".
    title : Statement
        The same in few words.
    centre_c : float or None
        What they are held against: the middle of them, or the thermometer.
    statements : tuple of Statement
        Who is broken, who stands out, who agrees.
    next : Statement or None
        What to do next with all of them.
    """

    place: str
    state: str
    title: Statement
    centre_c: float | None
    statements: tuple[Statement, ...]
    next: Statement | None


def why_kept_out(
    sensor: RestingSensor, *, sensors: Sequence[RestingSensor], by_thermometer: bool
) -> str:
    """Return why a sensor is held against nobody: "no-place", "alone", or "" where it is held.

    Parameters
    ----------
    sensors : sequence of RestingSensor
        All of the family that can take part.
    by_thermometer : bool
        True where all are held against a thermometer: nobody needs company then.

    Notes
    -----
    Those that rest with the same words are held against each other. Where nobody's place is noted
    all rest together; where anyone's is, a sensor without one is held against nobody.
    """
    if by_thermometer or not any(other.place for other in sensors):
        return ""
    if not sensor.place:
        return "no-place"
    company = [other for other in sensors if other.place == sensor.place]
    return "" if len(company) > 1 else "alone"


def over_range(standing: Standing) -> bool:
    """Return True for a reading over range that a good part may give."""
    return standing.state == "undecided" and standing.t_implied_c is None


def answer_place(place: str, *, names: Mapping[str, str], rest: AtRest, meter: str) -> PlaceAnswer:
    """Return what the sensors of a place say together.

    Parameters
    ----------
    names : mapping of sensor id to its name
    rest : AtRest
    meter : str
        Its name.
    """
    standing = rest.standing
    by_state = {
        state: [names[sensor] for sensor, stands in standing.items() if stands.state == state]
        for state in ("stands-out", "undecided", "agrees")
    }
    broken = [stands for stands in standing.values() if stands.state in BROKEN]
    sound = [stands for stands in standing.values() if stands.t_implied_c is not None]
    few = (
        not rest.by_thermometer
        and len(sound) < FEWEST
        and any(stands.state != "agrees" for stands in sound)
    )
    state, title = _outcome(by_state, broken=bool(broken), few=few)
    statements = [*faulty(standing, names=names), *_over_range(standing, names=names, meter=meter)]
    if few:
        statements.append(Statement(id="round.few"))
    else:
        statements += _together(rest, names=names)
    return PlaceAnswer(
        place=place,
        state=state,
        title=title,
        centre_c=rest.centre_c,
        statements=tuple(statements),
        next=_next(by_state, broken=bool(broken), few=few),
    )


def _outcome(
    by_state: Mapping[str, Sequence[str]], *, broken: bool, few: bool
) -> tuple[str, Statement]:
    out = by_state["stands-out"]
    if len(out) == 1:
        return "outside", Statement(id="round.title-stands-out", figures={"sensor": out[0]})
    if out:
        return "outside", Statement(id="round.title-stand-out", figures={"count": len(out)})
    if broken and (few or not by_state["agrees"]):
        return "outside", Statement(id="round.title-faulty")
    if few:
        return "undecided", Statement(id="round.title-few")
    if by_state["undecided"]:
        return "undecided", Statement(id="round.title-undecided")
    if broken:
        return "outside", Statement(id="round.title-others-agree")
    return "within", Statement(id="round.title-agree")


def _next(by_state: Mapping[str, Sequence[str]], *, broken: bool, few: bool) -> Statement | None:
    """Return the next step for the place; who stands out or is broken has a step of its own."""
    if few:
        return Statement(id="round.next-few")
    if by_state["stands-out"] or broken:
        return None
    return Statement(id="round.next-undecided" if by_state["undecided"] else "round.next-agree")


def faulty(standing: Mapping[str, Standing], *, names: Mapping[str, str]) -> list[Statement]:
    """Return who is faulty by itself, whatever the others read."""
    return [
        Statement(id=f"round.{stands.state}", figures={"sensor": names[sensor]})
        for sensor, stands in standing.items()
        if stands.state in BROKEN
    ]


def _over_range(
    standing: Mapping[str, Standing], *, names: Mapping[str, str], meter: str
) -> list[Statement]:
    return [
        Statement(id="round.over-range", figures={"sensor": names[sensor], "instrument": meter})
        for sensor, stands in standing.items()
        if over_range(stands)
    ]


def _together(rest: AtRest, *, names: Mapping[str, str]) -> list[Statement]:
    whom = "-thermometer" if rest.by_thermometer else ""
    statements, undecided, agreeing_k = [], [], []
    for sensor, stands in rest.standing.items():
        if stands.off_k is None:
            continue
        if stands.state == "stands-out":
            side = "colder" if stands.off_k < 0 else "hotter"
            figures = {"sensor": names[sensor], "off_k": abs(stands.off_k)}
            statements.append(Statement(id=f"round.stands-out-{side}{whom}", figures=figures))
        elif stands.state == "undecided":
            undecided.append(names[sensor])
        else:
            agreeing_k.append(abs(stands.off_k))
    if undecided:
        statements.append(Statement(id="round.undecided", figures={"names": undecided}))
    if agreeing_k:
        whole = len(agreeing_k) == len(rest.standing)
        figures = {"count": len(agreeing_k), "most_k": max(agreeing_k), "centre_c": rest.centre_c}
        statements.append(
            Statement(id=f"round.{_agreeing(len(agreeing_k), whole=whole)}{whom}", figures=figures)
        )
    return statements


def _agreeing(count: int, *, whole: bool) -> str:
    if count == 1:
        return "it-agrees" if whole else "other-agrees"
    if not whole:
        return "others-agree"
    return "both-agree" if count == 2 else "all-agree"
