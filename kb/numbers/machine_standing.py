"""How each sensor of a machine at rest stands, by all that explains the readings together."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from .at_rest import RestingPlace, Shown, broken_state, shown
from .machine_at_rest import LEAST_U_K, Weighed, Weighing, weigh
from .verdict import expanded_k

SURE = 0.95
"""Twenty to one, about: less sure than this nobody is named. Common practice, no source."""


LEAST_LEFT = 1e-6
"""With less than this share of its weight left, a place has no other witness."""


@dataclass(frozen=True, kw_only=True)
class Standing:
    """How one sensor stands.

    Parameters
    ----------
    state : str
        "agrees", "stands-out", "suspicious", "exchanged", "undecided", "open", "short" or
        "off-curve".
    t_implied_c, off_k, limit_k, uncertainty_k : float or None
        Its temperature in °C, how far that is from its place as the others have it, its limit and
        U, in K.
    out : float
        How likely it has drifted.
    """

    state: str
    t_implied_c: float | None = None
    off_k: float | None = None
    limit_k: float | None = None
    uncertainty_k: float | None = None
    out: float = 0.0


@dataclass(frozen=True, kw_only=True)
class Split:
    """Two explanations that are too near each other.

    Parameters
    ----------
    first, second : tuple of str
        Who is out by the likelier one, and by the next; "" is the thermometer.
    first_c, second_c : float
        The temperature of the place by each, in °C.
    beside : str
        The sensor beside which a temperature would tell best; "" where none would.
    """

    first: tuple[str, ...]
    second: tuple[str, ...]
    first_c: float
    second_c: float
    beside: str


@dataclass(frozen=True, kw_only=True)
class PlaceStanding:
    """What is known of one place.

    Parameters
    ----------
    standing : dict of sensor to Standing
    centre_c : float or None
        Its temperature in °C by all that explains it; None where one sensor says it alone.
    by_thermometer : bool
        True where a temperature was taken there.
    doubtful : bool
        True where the thermometer is surely what does not fit.
    split : Split or None
        Where two explanations are too near each other to name one.
    """

    standing: dict[str, Standing]
    centre_c: float | None
    by_thermometer: bool
    doubtful: bool = False
    split: Split | None = None

    @property
    def torn(self) -> frozenset[str]:
        """Those of either group of a split."""
        return frozenset((*self.split.first, *self.split.second) if self.split else ())


@dataclass(frozen=True, kw_only=True)
class MachineStanding:
    """The places in their order, and which plugs may be exchanged."""

    places: tuple[PlaceStanding, ...]
    exchanged: tuple[tuple[str, str], ...]
    exchanged_sure: bool


def machine_standing(
    places: Sequence[RestingPlace], *, short_ohm: float | None = None
) -> MachineStanding:
    """Return how the sensors of a machine at rest stand.

    Parameters
    ----------
    places : sequence of RestingPlace
    short_ohm : float, optional
        Below this a reading is a short, as for a verdict.

    Notes
    -----
    A sensor stands out where it is surely out (`SURE`) and further off than limit and uncertainty
    together; it is suspicious where it is surely out and further off than its limit. Up to the
    larger of the two it agrees, which says only that nothing speaks against it. In all other cases
    it is undecided.
    """
    weighing = weigh(places, short_ohm=short_ohm)
    pairs, sure = _pairs(weighing)
    return MachineStanding(
        places=tuple(
            _place(
                place,
                weighed=weighed,
                exchanged={name for pair in pairs for name in pair} if sure else set(),
                short_ohm=short_ohm,
            )
            for place, weighed in zip(places, weighing.places, strict=True)
        ),
        exchanged=pairs,
        exchanged_sure=sure,
    )


def _pairs(weighing: Weighing) -> tuple[tuple[tuple[str, str], ...], bool]:
    """Return the pairs that are exchanged as likely as not excluded, and whether one surely is."""
    every = sum(weighing.pairs.values())
    if every < 1 - SURE:
        return (), False
    likeliest = max(weighing.pairs.values())
    near = {
        pair: weight for pair, weight in weighing.pairs.items() if weight > likeliest * (1 - SURE)
    }
    return tuple(near), every >= SURE


def _place(
    place: RestingPlace, *, weighed: Sequence[Weighed], exchanged: set[str], short_ohm: float | None
) -> PlaceStanding:
    standing, own_u_k = {}, {}
    for name, reading in place.readings.items():
        broken = broken_state(reading, short_ohm=short_ohm)
        if broken:
            # Off its own curve, it may be on another's.
            state = "exchanged" if name in exchanged and broken == "off-curve" else broken
            standing[name] = Standing(state=state)
            continue
        shows = shown(reading, spread_half_k=place.spread_half_k)
        standing[name] = _standing(name, shows=shows, weighed=weighed, exchanged=exchanged)
        own_u_k[name] = shows.own_u_k
    centre_c = _centre_c(place, weighed=weighed, shows=len(own_u_k), exchanged=exchanged)
    if centre_c is None:
        standing = {name: _against_nobody(stands) for name, stands in standing.items()}
    return PlaceStanding(
        standing=standing,
        centre_c=centre_c,
        by_thermometer=place.t_c is not None,
        doubtful=_out(weighed, name="") >= SURE,
        split=_split(standing, weighed=weighed, own_u_k=own_u_k),
    )


def _against_nobody(stands: Standing) -> Standing:
    """Return a sensor without company: an exchange that might be is nobody to agree with."""
    if stands.state != "agrees":
        return stands
    return replace(stands, state="undecided", off_k=None, limit_k=None, uncertainty_k=None)


def _centre_c(
    place: RestingPlace, *, weighed: Sequence[Weighed], shows: int, exchanged: set[str]
) -> float | None:
    if place.t_c is None and shows < 2 and exchanged.isdisjoint(place.readings):
        return None
    return _Rest.of([found for found in weighed if found.centre_c is not None]).centre_c


@dataclass(frozen=True, kw_only=True)
class _Rest:
    """What some explanations say of a place together.

    `u_k` is what each leaves open, `between_k` how far they differ, both as standard uncertainties.
    """

    centre_c: float | None
    u_k: float = 0.0
    between_k: float = 0.0

    @classmethod
    def of(cls, weighed: Sequence[Weighed]) -> _Rest:
        every = sum(found.weight for found in weighed)
        if not every:
            return cls(centre_c=None)
        centre_c = sum(found.weight * (found.centre_c or 0.0) for found in weighed) / every
        return cls(
            centre_c=centre_c,
            u_k=math.sqrt(sum(found.weight * found.u_k**2 for found in weighed) / every),
            between_k=math.sqrt(
                sum(found.weight * ((found.centre_c or 0.0) - centre_c) ** 2 for found in weighed)
                / every
            ),
        )


def _out(weighed: Sequence[Weighed], *, name: str) -> float:
    return sum(found.weight for found in weighed if name in found.out)


def _standing(
    name: str, *, shows: Shown, weighed: Sequence[Weighed], exchanged: set[str]
) -> Standing:
    """Return how a sensor stands against its place."""
    out = _out(weighed, name=name)
    rest = _Rest.of(_others(name, shows=shows, weighed=weighed, out=out, exchanged=exchanged))
    known = Standing(state="undecided", t_implied_c=shows.t_implied_c, out=out)
    if rest.centre_c is None:
        return replace(known, state="exchanged") if name in exchanged else known
    off_k = shows.t_implied_c - rest.centre_c
    within_k = expanded_k(shows.own_u_k, rest.u_k)
    uncertainty_k = expanded_k(shows.own_u_k, rest.u_k, rest.between_k)
    state = "exchanged"
    if name not in exchanged:
        state = _state(abs(off_k), shows=shows, uncertainty_k=uncertainty_k, out=out)
        if state == "agrees" and expanded_k(rest.between_k) > max(shows.limit_k, within_k):
            # The others do not know themselves how warm it is there.
            state = "undecided"
    return replace(
        known, state=state, off_k=off_k, limit_k=shows.limit_k, uncertainty_k=uncertainty_k
    )


def _others(
    name: str, *, shows: Shown, weighed: Sequence[Weighed], out: float, exchanged: set[str]
) -> list[Weighed]:
    """Return what a sensor is held against: its place as the others have it.

    Where it is hardly out, by what explains all of them; where it may be, by what has it out. What
    has plugs exchanged counts where some surely are, and only there.
    """
    known = [
        found
        for found in weighed
        if found.centre_c is not None and bool(found.pair) == bool(exchanged)
    ]
    if name in exchanged:
        return [found for found in known if name in found.pair]
    if out >= 1 - SURE:
        return [found for found in known if name in found.out]
    if not shows.limit_known:
        return known
    apart = [
        _apart(found, shows=shows) for found in known if not {name} & {*found.out, *found.pair}
    ]
    return [found for found in apart if found is not None]


def _apart(found: Weighed, *, shows: Shown) -> Weighed | None:
    """Return an explanation without one of its sound witnesses; None where it was the only one."""
    own, whole = max(shows.sound_u_k, LEAST_U_K) ** -2, found.u_k**-2
    left = whole - own
    if left <= whole * LEAST_LEFT:
        return None
    centre_c = ((found.centre_c or 0.0) * whole - shows.t_implied_c * own) / left
    return replace(found, centre_c=centre_c, u_k=left**-0.5)


def _state(size_k: float, *, shows: Shown, uncertainty_k: float, out: float) -> str:
    if size_k <= max(shows.limit_k, uncertainty_k):
        return "agrees"
    if out < SURE or not shows.limit_known:
        return "undecided"
    return "stands-out" if size_k > shows.limit_k + uncertainty_k else "suspicious"


def _split(
    standing: Mapping[str, Standing], *, weighed: Sequence[Weighed], own_u_k: Mapping[str, float]
) -> Split | None:
    """Return the two explanations that somebody is torn between, or None."""
    if not any(
        stands.state == "undecided" and 1 - SURE <= stands.out < SURE
        for stands in standing.values()
    ):
        return None
    ways = _ways(weighed)
    if not ways:
        return None
    likeliest = _likeliest(ways)
    near = [
        way
        for way in ways
        if not (set(way.out) <= set(likeliest.out) or set(way.out) >= set(likeliest.out))
        and way.weight > likeliest.weight * (1 - SURE)
    ]
    if not near:
        return None
    next_likeliest = _likeliest(near)
    between = set(likeliest.out) ^ set(next_likeliest.out)
    return Split(
        first=likeliest.out,
        second=next_likeliest.out,
        first_c=likeliest.centre_c or 0.0,
        second_c=next_likeliest.centre_c or 0.0,
        beside=_sharpest({name: u_k for name, u_k in own_u_k.items() if name in between}),
    )


ALIKE = 1e-9
"""What differs by less than this share is alike: the earlier one is taken, here and on a page."""


def _likeliest(ways: Sequence[Weighed]) -> Weighed:
    likeliest = ways[0]
    for way in ways:
        if way.weight > likeliest.weight * (1 + ALIKE):
            likeliest = way
    return likeliest


def _sharpest(own_u_k: Mapping[str, float]) -> str:
    sharpest = ""
    for name, u_k in own_u_k.items():
        if not sharpest or u_k < own_u_k[sharpest] * (1 - ALIKE):
            sharpest = name
    return sharpest


def _ways(weighed: Sequence[Weighed]) -> list[Weighed]:
    """Return who may be out, each way once whatever is exchanged."""
    ways: dict[tuple[str, ...], Weighed] = {}
    for found in weighed:
        if found.centre_c is None or not found.out:
            continue
        known = ways.get(found.out)
        ways[found.out] = replace(known, weight=known.weight + found.weight) if known else found
    return list(ways.values())
