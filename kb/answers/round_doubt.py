"""When a round may accuse nobody: the readings of a place fall apart, or its temperature does."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from kb.numbers.at_rest import AtRest, Resting, Standing, at_rest

from .round_places import PlaceReference, spread_half_k


@dataclass(frozen=True, kw_only=True)
class PlaceRest:
    """The readings of one place, held against each other or against its temperature.

    Parameters
    ----------
    rest : AtRest
        As the numbers have it.
    standing : mapping of sensor id to Standing
        The same; where there is doubt nobody stands out, who did is undecided.
    doubt : str
        "split" where no two stand together, "temperature" where all stand together and none with
        the thermometer, or "".
    middle_c : float or None
        Where there is doubt of the temperature: what the sensors agree on.
    """

    rest: AtRest
    standing: Mapping[str, Standing]
    doubt: str = ""
    middle_c: float | None = None


def place_rest(
    place: str,
    *,
    readings: Mapping[str, Resting],
    reference: PlaceReference | None,
    short_ohm: float | None,
) -> PlaceRest:
    """Return how the readings of a place stand.

    Notes
    -----
    Somebody can only stand out from others that stand together. Where fewer than two do not stand
    out there is no majority, as in a place whose sensors show two temperatures by halves. Where
    they all agree with each other and none with the thermometer, the temperature is the one that
    stands out: it was typed for another place, or the machine has not come to rest.
    """
    t_c = reference.t_c if reference else None
    rest = at_rest(
        readings,
        t_c=t_c,
        thermometer_half_k=reference.half_k if reference else 0.0,
        spread_half_k=spread_half_k(place),
        short_ohm=short_ohm,
    )
    if not any(stands.state == "stands-out" for stands in rest.standing.values()):
        return PlaceRest(rest=rest, standing=rest.standing)
    if t_c is None:
        split = sum(stands.state in ("agrees", "undecided") for stands in _sound(rest)) < 2
        return (
            _doubted(rest, doubt="split") if split else PlaceRest(rest=rest, standing=rest.standing)
        )
    together = at_rest(readings, short_ohm=short_ohm)
    if (
        len(_sound(rest)) < 2
        or any(stands.state == "agrees" for stands in rest.standing.values())
        or any(stands.state != "agrees" for stands in _sound(together))
    ):
        return PlaceRest(rest=rest, standing=rest.standing)
    return _doubted(rest, doubt="temperature", middle_c=together.centre_c)


def _sound(rest: AtRest) -> list[Standing]:
    return [stands for stands in rest.standing.values() if stands.t_implied_c is not None]


def _doubted(rest: AtRest, *, doubt: str, middle_c: float | None = None) -> PlaceRest:
    standing = {
        sensor: replace(stands, state="undecided") if stands.state == "stands-out" else stands
        for sensor, stands in rest.standing.items()
    }
    return PlaceRest(rest=rest, standing=standing, doubt=doubt, middle_c=middle_c)
