"""What the sensors of one place say together, and what to do next there."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from kb.numbers.at_rest import FEWEST
from kb.numbers.machine_standing import PlaceStanding, Split, Standing

from .round_rows import BROKEN, NAMED, RoundRow, over_range, steps_of
from .statement import Statement


@dataclass(frozen=True, kw_only=True)
class PlaceAnswer:
    """What the sensors of one place say together.

    Parameters
    ----------
    place : str
        Its key; `round_places.OWN_PLACE` and an id where it belongs to one sensor alone.
    outcome : str
        The title in the catalogue has that name.
    state : str
        "within", "outside" or "undecided".
    title : Statement
        The same in few words.
    at_c, centre_c : float or None
        What a thermometer showed there; how warm it is there by all together.
    statements : tuple of Statement
        Who is faulty by itself, who stands out, who agrees.
    next : tuple of Statement
        What to do next: with each sensor that asks for something, then with the place.
    """

    place: str
    outcome: str
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
    held : PlaceStanding
    at_c : float or None
        What a thermometer showed there.
    company : int
        How many sensors of the family rest there, read or not.
    meter : str
        Its name.
    """

    place: str
    rows: Sequence[RoundRow]
    held: PlaceStanding
    at_c: float | None
    company: int
    meter: str

    @property
    def names(self) -> Mapping[str, str]:
        """Return what to call each sensor."""
        return {row.sensor: row.name for row in self.rows}

    @property
    def sound(self) -> dict[str, Standing]:
        """Return those that read as a temperature."""
        return {
            sensor: stands
            for sensor, stands in self.held.standing.items()
            if stands.t_implied_c is not None
        }

    def in_state(self, *states: str) -> list[str]:
        """Return the names of those that stand so."""
        standing = self.held.standing.items()
        return [self.names[sensor] for sensor, stands in standing if stands.state in states]


def answer_place(place: PlaceRound) -> PlaceAnswer:
    """Return what the sensors of a place say together."""
    few = _few(place)
    outcome = _outcome(place, few=few)
    return PlaceAnswer(
        place=place.place,
        outcome=outcome,
        state=_STATES.get(outcome, "undecided"),
        title=_title(outcome, place=place),
        at_c=place.at_c,
        centre_c=place.held.centre_c,
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
    """Return why the one that was read is held against nothing, or ""."""
    states = [stands.state for stands in place.sound.values()]
    if place.at_c is not None or states != ["undecided"]:
        return ""
    return next((row.kept_out for row in place.rows if row.kept_out), "") or "one-read"


def _outcome(place: PlaceRound, *, few: str) -> str:
    """Return which outcome a place has; its title in the catalogue has that name."""
    states = [stands.state for stands in place.held.standing.values()]
    broken = any(state in BROKEN for state in states)
    found = [
        ("temperature", place.held.doubtful),
        ("stands-out", states.count("stands-out") == 1),
        ("stand-out", states.count("stands-out") > 1),
        ("exchanged", "exchanged" in states),
        ("suspicious", "suspicious" in states),
        ("faulty", broken and (bool(few) or "agrees" not in states or "undecided" in states)),
        ("split", place.held.split is not None),
        (few, bool(few)),
        ("undecided", "undecided" in states),
        ("others-agree", broken),
    ]
    return next((outcome for outcome, holds in found if holds), "agree")


def _title(outcome: str, *, place: PlaceRound) -> Statement:
    out = place.in_state("stands-out")
    figures: dict[str, dict[str, object]] = {
        "stands-out": {"sensor": out[0] if out else ""},
        "stand-out": {"count": len(out)},
        "suspicious": {"names": place.in_state("suspicious")},
        "faulty": {"names": place.in_state(*BROKEN)},
        "others-agree": {"names": place.in_state(*BROKEN)},
        "exchanged": {"names": place.in_state("exchanged")},
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
    if few:
        return [
            Statement(
                id=f"round.{few}",
                figures={"sensor": place.names[sensor], "t_implied_c": stands.t_implied_c},
            )
            for sensor, stands in place.sound.items()
        ]
    statements = [
        _named(place, sensor=sensor) for sensor in place.sound if _is_named(place, sensor=sensor)
    ]
    if place.held.doubtful:
        figures = {"centre_c": place.held.centre_c, "at_c": place.at_c}
        return [Statement(id="round.all-but-temperature", figures=figures), *statements]
    if place.held.split is not None:
        statements.append(_split(place, split=place.held.split))
    return [*statements, *_rest(place)]


def _is_named(place: PlaceRound, *, sensor: str) -> bool:
    stands = place.held.standing[sensor]
    return stands.state in NAMED and stands.off_k is not None


def _named(place: PlaceRound, *, sensor: str) -> Statement:
    """Return who stands out, or is suspicious, and which way."""
    stands = place.held.standing[sensor]
    off_k = stands.off_k or 0.0
    side = "colder" if off_k < 0 else "hotter"
    figures = {
        "sensor": place.names[sensor],
        "off_k": abs(off_k),
        "uncertainty_k": stands.uncertainty_k,
    }
    return Statement(id=f"round.{stands.state}-{side}", figures=figures)


def _split(place: PlaceRound, *, split: Split) -> Statement:
    """Return the two explanations, and how warm it would be there by each."""

    def called(sensors: Sequence[str]) -> list[object]:
        return [place.names.get(sensor) or Statement(id="round.thermometer") for sensor in sensors]

    figures = {
        "first": called(split.first),
        "first_c": split.first_c,
        "second": called(split.second),
        "second_c": split.second_c,
    }
    return Statement(id="round.split", figures=figures)


def _rest(place: PlaceRound) -> list[Statement]:
    """Return who is not decided, and who agrees within what."""
    undecided = [
        place.names[sensor]
        for sensor, stands in place.sound.items()
        if stands.state == "undecided" and sensor not in place.held.torn
    ]
    agreeing_c = [
        stands.t_implied_c
        for stands in place.sound.values()
        if stands.state == "agrees" and stands.t_implied_c is not None
    ]
    statements = []
    if undecided:
        statements.append(Statement(id="round.undecided", figures={"names": undecided}))
    if agreeing_c:
        whole = len(agreeing_c) == len(place.held.standing) and (
            place.at_c is not None or len(agreeing_c) > 1
        )
        which = _agreeing(len(agreeing_c), whole=whole)
        agreement = {
            "count": len(agreeing_c),
            "within_k": max(agreeing_c) - min(agreeing_c),
            "centre_c": place.held.centre_c,
        }
        if place.at_c is not None:
            agreement["at_c"] = place.at_c
        statements.append(Statement(id=f"round.{which}", figures=agreement))
    return statements


def _agreeing(count: int, *, whole: bool) -> str:
    if count == 1:
        return "it-agrees" if whole else "other-agrees"
    if not whole:
        return "others-agree"
    return "both-agree" if count == 2 else "all-agree"


def _next(place: PlaceRound, *, outcome: str, few: str) -> list[Statement]:
    """Return the place's own next step, beside those of its sensors."""
    unread = place.company - len(place.rows)
    if few and any(row.next for row in place.rows if row.sensor in place.sound):
        return []
    if few in ("alone", "no-place"):
        return [Statement(id="round.next-alone", figures={"sensor": place.rows[0].name})]
    if few:
        enough = len(place.sound) + unread >= FEWEST
        return [Statement(id="round.next-read-more" if enough else "round.next-temperature")]
    if place.held.doubtful:
        return [Statement(id="round.next-temperature-again")]
    if place.held.split is not None and place.held.split.beside:
        more = "-or-read" if unread and place.at_c is None else ""
        beside = place.names[place.held.split.beside]
        return [Statement(id=f"round.next-tell{more}", figures={"sensor": beside})]
    if any(row.state == "undecided" and row.next is None for row in place.rows):
        return [Statement(id="round.next-undecided")]
    return [Statement(id="round.next-agree")] if outcome == "agree" else []
