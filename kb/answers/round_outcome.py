"""What the sensors of one place say together, and what to do next there."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from kb.numbers.at_rest import FEWEST, Standing

from .round_doubt import PlaceRest
from .round_rows import BROKEN, RoundRow, over_range, steps_of
from .statement import Statement


@dataclass(frozen=True, kw_only=True)
class PlaceAnswer:
    """What the sensors of one place say together.

    Parameters
    ----------
    place : str
        Its key; `round_places.OWN_PLACE` and an id where it belongs to one sensor alone.
    state : str
        "within", "outside" or "undecided".
    title : Statement
        The same in few words.
    at_c, centre_c : float or None
        What a thermometer showed there; what they are held against, that or the middle of them.
    statements : tuple of Statement
        Who is faulty by itself, who stands out, who agrees.
    next : tuple of Statement
        What to do next: with each sensor that asks for something, then with the place.
    """

    place: str
    state: str
    title: Statement
    at_c: float | None
    centre_c: float | None
    statements: tuple[Statement, ...]
    next: tuple[Statement, ...]


@dataclass(frozen=True, kw_only=True)
class PlaceRound:
    """One place of a round, read and held.

    Parameters
    ----------
    place : str
    rows : sequence of RoundRow
        Those that could be read.
    held : PlaceRest
    company : int
        How many sensors of the family rest there, read or not.
    meter : str
        Its name.
    """

    place: str
    rows: Sequence[RoundRow]
    held: PlaceRest
    company: int
    meter: str

    @property
    def names(self) -> Mapping[str, str]:
        """Return what to call each sensor."""
        return {row.sensor: row.name for row in self.rows}

    @property
    def sound(self) -> list[Standing]:
        """Return those that read as a temperature."""
        return [stands for stands in self.held.standing.values() if stands.t_implied_c is not None]


def answer_place(place: PlaceRound) -> PlaceAnswer:
    """Return what the sensors of a place say together."""
    rest, few = place.held.rest, _few(place)
    outcome = _outcome(place, few=few)
    return PlaceAnswer(
        place=place.place,
        state=_STATES.get(outcome, "undecided"),
        title=_title(outcome, place=place),
        at_c=rest.centre_c if rest.by_thermometer else None,
        centre_c=rest.centre_c,
        statements=(*_by_themselves(place), *_together(place, few=few)),
        next=(*steps_of(place.rows), *_next(place, outcome=outcome, few=few)),
    )


_STATES = {
    "stands-out": "outside",
    "stand-out": "outside",
    "faulty": "outside",
    "others-agree": "outside",
    "agree": "within",
}
"""Outcome → its state; any other is undecided."""


def _few(place: PlaceRound) -> str:
    """Return why too few were read to say who is right, or "" where they are enough."""
    sound = place.sound
    if (
        place.held.rest.by_thermometer
        or len(sound) >= FEWEST
        or all(stands.state == "agrees" for stands in sound)
    ):
        return ""
    kept_out = next((row.kept_out for row in place.rows if row.kept_out), "")
    return kept_out or ("one-read" if len(sound) == 1 else "few")


def _outcome(place: PlaceRound, *, few: str) -> str:
    """Return which outcome a place has; its title in the catalogue has that name."""
    states = [stands.state for stands in place.held.standing.values()]
    broken = any(state in BROKEN for state in states)
    if place.held.doubt:
        return place.held.doubt
    if "stands-out" in states:
        return "stands-out" if states.count("stands-out") == 1 else "stand-out"
    if broken and (few or "agrees" not in states):
        return "faulty"
    if few:
        return few
    if "undecided" in states:
        return "undecided"
    return "others-agree" if broken else "agree"


def _title(outcome: str, *, place: PlaceRound) -> Statement:
    out = [
        place.names[sensor]
        for sensor, stands in place.held.standing.items()
        if stands.state == "stands-out"
    ]
    figures: dict[str, dict[str, object]] = {
        "stands-out": {"sensor": out[0] if out else ""},
        "stand-out": {"count": len(out)},
    }
    return Statement(id=f"round.title-{outcome}", figures=figures.get(outcome, {}))


def _by_themselves(place: PlaceRound) -> list[Statement]:
    """Return who is faulty by itself or over range, whatever the others read."""
    standing, names = place.held.standing, place.names
    faulty = [
        Statement(id=f"round.{stands.state}", figures={"sensor": names[sensor]})
        for sensor, stands in standing.items()
        if stands.state in BROKEN
    ]
    beyond = [
        Statement(
            id="round.over-range", figures={"sensor": names[sensor], "instrument": place.meter}
        )
        for sensor, stands in standing.items()
        if over_range(stands)
    ]
    return [*faulty, *beyond]


def _together(place: PlaceRound, *, few: str) -> list[Statement]:
    """Return what the readings that are temperatures say of each other."""
    if few == "few":
        return [Statement(id="round.few")]
    if few:
        return [
            Statement(
                id=f"round.{few}",
                figures={"sensor": place.names[sensor], "t_implied_c": stands.t_implied_c},
            )
            for sensor, stands in place.held.standing.items()
            if stands.t_implied_c is not None
        ]
    if place.held.doubt == "split":
        return [_split(place)]
    if place.held.doubt:
        figures = {
            "count": len(place.sound),
            "centre_c": place.held.middle_c,
            "at_c": place.held.rest.centre_c,
        }
        return [Statement(id="round.all-but-temperature", figures=figures)]
    return _stand(place)


def _split(place: PlaceRound) -> Statement:
    """Return who is colder and who is hotter, and how far the two sides are apart."""
    off_k = {
        sensor: stands.off_k
        for sensor, stands in place.held.rest.standing.items()
        if stands.state == "stands-out" and stands.off_k is not None
    }
    figures = {
        "colder": [place.names[sensor] for sensor, off in off_k.items() if off < 0],
        "hotter": [place.names[sensor] for sensor, off in off_k.items() if off >= 0],
        "apart_k": min(off for off in off_k.values() if off >= 0)
        - max(off for off in off_k.values() if off < 0),
    }
    return Statement(id="round.split", figures=figures)


def _stand(place: PlaceRound) -> list[Statement]:
    """Return who stands out, who is not decided and who agrees."""
    rest, names = place.held.rest, place.names
    whom = "-thermometer" if rest.by_thermometer else ""
    statements, undecided, agreeing_k = [], [], []
    for sensor, stands in place.held.standing.items():
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
        whole = len(agreeing_k) == len(place.held.standing)
        which = _agreeing(len(agreeing_k), whole=whole)
        agreement = {"count": len(agreeing_k), "most_k": max(agreeing_k), "centre_c": rest.centre_c}
        statements.append(Statement(id=f"round.{which}{whom}", figures=agreement))
    return statements


def _agreeing(count: int, *, whole: bool) -> str:
    if count == 1:
        return "it-agrees" if whole else "other-agrees"
    if not whole:
        return "others-agree"
    return "both-agree" if count == 2 else "all-agree"


def _next(place: PlaceRound, *, outcome: str, few: str) -> list[Statement]:
    """Return the place's own next step, beside those of its sensors."""
    if few in ("alone", "no-place"):
        return [Statement(id="round.next-alone", figures={"sensor": place.rows[0].name})]
    if few:
        unread = place.company - len(place.rows)
        enough = len(place.sound) + unread >= FEWEST
        return [Statement(id="round.next-read-more" if enough else "round.next-temperature")]
    if place.held.doubt:
        again = "-again" if place.held.doubt == "temperature" else ""
        return [Statement(id=f"round.next-temperature{again}")]
    if any(row.state == "undecided" and row.next is None for row in place.rows):
        return [Statement(id="round.next-undecided")]
    return [Statement(id="round.next-agree")] if outcome == "agree" else []
