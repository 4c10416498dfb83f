"""Outside limits: which faults make such readings, how likely each, from one to three readings."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace

from .divider import sensor_from_parallel_ohm
from .explanations import TIMES, Explanation, Figures, is_pull_up
from .held import Curve, Held, held
from .measured import Measured

WEIGHTS: Mapping[str, float] = {
    "unit-slip": 2.0,
    "factor-ten": 2.0,
    "fahrenheit": 2.0,
    "board-alone": 5.0,
    "plugged-in": 5.0,
    "family-curve": 3.0,
    "other-curve": 3.0,
    "drift": 8.0,
    "series-resistance": 4.0,
    "leak": 4.0,
    "warmer": 3.0,
    "exchanged": 2.0,
}
"""How often each is met among readings outside limits, in parts: common practice, no source. A slip
counts so each way, each curve of the family for itself; the others of the notes share theirs."""
STAYS: Mapping[str, float] = {
    "unit-slip": 0.5,
    "factor-ten": 0.5,
    "fahrenheit": 0.5,
    "plugged-in": 0.5,
    "series-resistance": 0.7,
    "leak": 0.7,
    "warmer": 0.5,
}
"""How likely it is also in another reading of the same visit: a slip is noticed, a plug is seated
again, a cloud comes. Those not named stay. Common practice, no source."""
HALF_K = 30.0
"""What has a size of its own moves half of its readings by less than so, half by more: a Cauchy
density, for it has no end. Common practice, no source."""
WARMEST_K = 15.0
"""Sun and heat of its own, all sizes alike up to so much. Common practice, no source."""
PLACES_K = 60.0
"""Other places of a machine are spread so wide, all alike. Common practice, no source."""
UNKNOWN = 1 / 100
"""What none of these explains, per K of each reading: common practice, no source."""
SERIES_SHARE_MAX = 2.0
"""A contact worse than twice the sensor's own resistance is as good as open. Common practice."""
PLACE_K = 2.0
"""So much another place's temperature moves while one reads, as a standard deviation. Common
practice, no source."""
LEAST_SHARE = 0.2
"""A line is said where it is at least so likely: common practice, no source."""
BESIDE_LEADER = 0.5
"""And at least so likely against the first. Common practice, no source."""
AMONG_CAUSES = 0.3
"""Causes are not told apart where one is so likely against the likeliest of them."""
MOST_LINES = 3
_NODES = tuple(k / 2 for k in range(-6, 7))
"""The true error of the first reading is tried at so many standard deviations from none."""

Undo = Callable[[Measured], Measured | None]


@dataclass(frozen=True, kw_only=True)
class Known:
    """What is known of a sensor whose readings are to be explained.

    Parameters
    ----------
    curve : Characteristic or Grid
        The curve that they were judged on.
    allow_k : float
        As for the verdict, in K.
    pull_up_ohm : float or None
        The board's pull-up in Ω, if known.
    family, others : mapping of name to curve
        Curves of this family's other sensors; those of the notes beyond.
    unit : str
        In which temperatures were typed, "C" or "F"; "" where nature sets them, as in ice.
    has_twins : bool
        Whether the family has sensors on this curve at other places.
    """

    curve: Curve
    allow_k: float = 0.0
    pull_up_ohm: float | None = None
    family: Mapping[str, Curve] = field(default_factory=dict)
    others: Mapping[str, Curve] = field(default_factory=dict)
    unit: str = "C"
    has_twins: bool = False


@dataclass(frozen=True, kw_only=True)
class Likely:
    """An explanation with how likely it is: parts of all that explain the readings.

    `among` says whose curve it is, where it is one: a name of WEIGHTS.
    """

    explanation: Explanation
    part: float
    among: str = ""


def explain(known: Known, *, readings: Sequence[Measured]) -> tuple[Explanation, ...]:
    """Return what else would make these readings, the likeliest first, at most MOST_LINES.

    Parameters
    ----------
    known : Known
    readings : sequence of Measured
        That which was found outside, off the curve or short, then others of the same sensor: at
        another temperature, unplugged, with another instrument.

    Returns
    -------
    tuple of Explanation
        Empty where the first reading stands as it is, or nothing plausible fits.

    Notes
    -----
    How likely a fault is: its weight, times the density of the errors in K that are left once it is
    undone, s as in `held`. What has a size of its own (ohms in series) is tried at each true error
    of the first reading (normal, ± 3 s) that its size would leave, and counts by the density of its
    sizes in K: so a free size costs what it can reach. In each other reading it is (STAYS) or is
    not. Readings are taken as independent, although one part and one thermometer lie under them.

    Source: Bayes' theorem, marginal likelihoods; weights and reaches as said beside them.
    """
    first = readings[0]
    if not 0 < first.r_ohm < math.inf:
        return ()
    own = held(known.curve, measured=first, allow_k=known.allow_k)
    if own and own.fits:
        return ()
    named = [*_named(known, readings=readings)]
    causes = [*_causes(known, own=own, readings=readings)] if own else []
    every = UNKNOWN ** len(readings) + sum(likely.part for likely in (*named, *causes))
    lines = [*_curves_together(named), *_together(causes, count=len(readings))]
    ranked = _ranked(lines)[:MOST_LINES]
    return tuple(
        likely.explanation
        for likely in ranked
        if likely.part >= max(LEAST_SHARE * every, BESIDE_LEADER * ranked[0].part)
    )


def _named(known: Known, *, readings: Sequence[Measured]) -> Iterator[Likely]:
    """Yield what has no size of its own: slips, the plug, another curve."""
    curve = known.curve
    for times, kind in TIMES.items():
        yield from _undone(
            known, kind=kind, undo=_slip(times), readings=readings, figures={"times": times}
        )
    if known.unit:
        yield from _undone(known, kind="fahrenheit", undo=_degrees(known.unit), readings=readings)
    if known.pull_up_ohm is not None:
        yield from _at_board(known, pull_up_ohm=known.pull_up_ohm, readings=readings)
    for prior, curves in (("family-curve", known.family), ("other-curve", known.others)):
        for name, other in sorted(curves.items()):
            if other is curve or (curve.id and name == curve.id):
                continue
            yield from _undone(
                replace(known, curve=other),
                kind="other-curve",
                undo=lambda measured: measured,
                readings=readings,
                figures={"curve": name},
                weight=WEIGHTS[prior] / (1 if curves is known.family else len(curves)),
                among=prior,
            )


def _at_board(
    known: Known, *, pull_up_ohm: float, readings: Sequence[Measured]
) -> Iterator[Likely]:
    """Yield that the sensor is still plugged in: alone beside the pull-up, or open."""
    first = readings[0]
    figures: Figures = {"pull_up_ohm": pull_up_ohm}
    if is_pull_up(first, pull_up_ohm=pull_up_ohm):
        if all(is_pull_up(other, pull_up_ohm=pull_up_ohm) for other in readings):
            alone = Explanation(kind="board-alone", figures=figures)
            yield Likely(explanation=alone, part=WEIGHTS["board-alone"])
        return
    undo = _plugged(pull_up_ohm)
    sensor = undo(first)
    if sensor is not None:
        figures = {"sensor_ohm": sensor.r_ohm, **figures}
        yield from _undone(known, kind="plugged-in", undo=undo, readings=readings, figures=figures)


def _undone(
    known: Known,
    *,
    kind: str,
    undo: Undo,
    readings: Sequence[Measured],
    figures: Figures | None = None,
    weight: float | None = None,
    among: str = "",
) -> Iterator[Likely]:
    """Yield a fault where the first reading, once it is undone, is not outside limits."""
    undone = undo(readings[0])
    fit = undone and held(known.curve, measured=undone, allow_k=known.allow_k)
    if not fit or not fit.fits:
        return
    stays, part = STAYS.get(kind, 1.0), fit.density
    for other in readings[1:]:
        part *= _either(known, undone=undo(other), other=other, stays=stays)
    explanation = Explanation(
        kind=kind, t_implied_c=fit.t_implied_c, error_k=fit.error_k, figures=figures or {}
    )
    weight = WEIGHTS[kind] if weight is None else weight
    yield Likely(explanation=explanation, part=part * weight, among=among)


def _either(
    known: Known, *, undone: Measured | None, other: Measured, stays: float, besides_k: float = 0.0
) -> float:
    """Return the density of another reading: with the fault, or without it."""
    with_it = undone and held(
        known.curve, measured=undone, allow_k=known.allow_k, besides_k=besides_k
    )
    without = stays < 1 and held(known.curve, measured=other, allow_k=known.allow_k)
    return (stays * with_it.density if with_it else 0.0) + (
        (1 - stays) * without.density if without else 0.0
    )


def _slip(times: float) -> Undo:
    def undo(measured: Measured) -> Measured:
        # The factor belongs to what was shown, leads and all; they come off once, afterwards.
        shown_ohm = (measured.r_ohm + measured.leads_ohm) * times
        r_ohm = max(shown_ohm - measured.leads_ohm, 0.0)
        return measured.read_as(r_ohm, meter_half_ohm=measured.meter_half_ohm * times)

    return undo


def _degrees(unit: str) -> Undo:
    def undo(measured: Measured) -> Measured:
        t_c = measured.t_c
        return replace(measured, t_c=(t_c - 32) / 1.8 if unit == "C" else 1.8 * t_c + 32)

    return undo


def _plugged(parallel_ohm: float) -> Undo:
    def undo(measured: Measured) -> Measured | None:
        r_ohm = sensor_from_parallel_ohm(measured.r_ohm, pull_up_ohm=parallel_ohm)
        if r_ohm is None:
            return None
        # The meter's error is stretched by the same curve that turns the reading into the sensor.
        stretch = (r_ohm / measured.r_ohm) ** 2
        return measured.read_as(r_ohm, meter_half_ohm=measured.meter_half_ohm * stretch)

    return undo


def _causes(known: Known, *, own: Held, readings: Sequence[Measured]) -> Iterator[Likely]:
    """Yield what has a size of its own: ohms in series or beside it, a drift, the sun, a plug."""
    first, curve = readings[0], known.curve
    error_k, nominal_ohm = own.error_k, float(curve.r_ohm(first.t_c))
    series_ohm = first.r_ohm - nominal_ohm
    # One side of a Cauchy density; a drift goes both ways.
    per_k = 2 / (math.pi * HALF_K * (1 + (error_k / HALF_K) ** 2))
    sizes = {
        "drift": per_k / 2,
        "series-resistance": per_k * (0 < series_ohm <= SERIES_SHARE_MAX * nominal_ohm),
        "leak": per_k * (series_ohm < 0),
        "warmer": (0 < error_k <= WARMEST_K) / WARMEST_K if known.unit else 0.0,
        "exchanged": 1 / PLACES_K if known.unit and known.has_twins else 0.0,
    }
    for kind, size_per_k in sizes.items():
        if size_per_k:
            yield from _sized(kind, per_k=size_per_k, known=known, own=own, readings=readings)


def _sized(
    kind: str, *, per_k: float, known: Known, own: Held, readings: Sequence[Measured]
) -> Iterator[Likely]:
    first, stays = readings[0], STAYS.get(kind, 1.0)
    besides_k = PLACE_K if kind == "exchanged" else 0.0
    total = every = best = 0.0
    figures: Figures = {}
    # One reading leaves a size as open as its own error.
    for node in _NODES if len(readings) > 1 else (0.0,):
        weight = math.exp(-node * node / 2)
        every += weight
        off_k = node * own.spread_k
        undo, size = _size_of(kind, known=known, own=own, first=first, off_k=off_k)
        if undo is None:
            continue
        for other in readings[1:]:
            weight *= _either(
                known, undone=undo(other), other=other, stays=stays, besides_k=besides_k
            )
        total += weight
        if weight > best:
            best, figures = weight, {**size}
    if total:
        part = WEIGHTS[kind] * per_k * total / every
        yield Likely(explanation=Explanation(kind=kind, figures=figures), part=part)


def _size_of(
    kind: str, *, known: Known, own: Held, first: Measured, off_k: float
) -> tuple[Undo | None, dict[str, float]]:
    """Return how a cause is undone, and its size, where the first reading is truly `off_k` off."""
    if kind == "warmer":
        warm_k = own.error_k - off_k
        return (lambda other: replace(other, t_c=other.t_c + warm_k)), {}
    if kind == "exchanged":
        at_c = own.t_implied_c - off_k
        return (lambda other: replace(other, t_c=at_c)), {"at_c": at_c}
    true_ohm = float(known.curve.beyond_ohm(first.t_c + off_k))
    more_ohm = first.r_ohm - true_ohm
    if kind == "series-resistance":
        return (_less(more_ohm) if more_ohm > 0 else None), {"series_ohm": more_ohm}
    if kind == "leak":
        leak_ohm = sensor_from_parallel_ohm(first.r_ohm, pull_up_ohm=true_ohm)
        return (_plugged(leak_ohm) if leak_ohm else None), {"leak_ohm": leak_ohm or 0.0}
    return _scaled(true_ohm / first.r_ohm), {}


def _less(series_ohm: float) -> Undo:
    def undo(measured: Measured) -> Measured:
        r_ohm = max(measured.r_ohm - series_ohm, 0.0)
        return measured.read_as(r_ohm, meter_half_ohm=measured.meter_half_ohm)

    return undo


def _scaled(times: float) -> Undo:
    return lambda measured: measured.read_as(
        measured.r_ohm * times, meter_half_ohm=measured.meter_half_ohm * times
    )


def _curves_together(named: Sequence[Likely]) -> Iterator[Likely]:
    """Yield the explanations, curves that fit alike as one: the family's, and the notes' others."""
    yield from (likely for likely in named if likely.among == "")
    for among in ("family-curve", "other-curve"):
        ranked = _ranked(likely for likely in named if likely.among == among)
        near = _near(ranked)
        names = tuple(str(likely.explanation.figures["curve"]) for likely in near)
        for best in ranked[:1]:
            figures: Figures = {**best.explanation.figures, "curves": names}
            yield Likely(
                explanation=replace(best.explanation, figures=figures),
                part=sum(likely.part for likely in near),
            )


def _ranked(likely: Iterable[Likely]) -> list[Likely]:
    return sorted(likely, key=lambda each: -each.part)


def _near(ranked: Sequence[Likely]) -> list[Likely]:
    """Return those that are not told apart from the first."""
    return [likely for likely in ranked if likely.part >= AMONG_CAUSES * ranked[0].part]


def _together(causes: Sequence[Likely], *, count: int) -> Iterator[Likely]:
    """Yield the causes that the readings do not tell apart as one line.

    That the sensor itself may be bad, and nothing else, is what the verdict says already; from two
    readings on it is a finding.
    """
    near = _near(_ranked(causes))
    # What is mended at the plug is said before what asks for a new sensor.
    near.sort(key=lambda likely: likely.explanation.kind == "drift")
    found = tuple(likely.explanation for likely in near)
    part = sum(likely.part for likely in near)
    if len(found) > 1:
        yield Likely(explanation=Explanation(kind="several", causes=found), part=part)
    elif found and (count > 1 or found[0].kind != "drift"):
        yield Likely(explanation=found[0], part=part)
