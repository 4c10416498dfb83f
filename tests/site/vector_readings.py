"""Random readings of sensors: judged, explained, a machine's round, unmarked, stood in for."""

from __future__ import annotations

import dataclasses
import math
from collections.abc import Callable

import numpy as np

from kb.numbers.at_rest import Resting, RestingPlace
from kb.numbers.curve_pair import apart, most_apart
from kb.numbers.divider import parallel_ohm
from kb.numbers.grid import Grid
from kb.numbers.likely_faults import Known, explain
from kb.numbers.machine_standing import MachineStanding, machine_standing
from kb.numbers.measured import Measured, taken
from kb.numbers.meter import Meter, OhmRange
from kb.numbers.placement import PLACEMENTS
from kb.numbers.stand_in import stand_ins
from kb.numbers.thermometer import Thermometer
from kb.numbers.verdict import judge, short_below_ohm
from kb.numbers.which_curve import which_curve

from .page_names import page_names

# What the team measures with: (span, resolution, percent, digits) of each range, and the leads.
METERS = (
    (
        (
            (400, 0.1, 1.0, 5),
            (4e3, 1, 0.9, 3),
            (40e3, 10, 0.9, 3),
            (400e3, 100, 0.9, 3),
            (4e6, 1e3, 1.2, 3),
            (40e6, 10e3, 2.5, 5),
        ),
        0.3,
    ),
    (
        (
            (200, 0.01, 0.2, 10),
            (2e3, 0.1, 0.15, 3),
            (20e3, 1, 0.15, 3),
            (200e3, 10, 0.15, 3),
            (20e6, 1e3, 1.0, 5),
        ),
        0.05,
    ),
    (((2e3, 1, 1.5, 2), (20e3, 10, 1.5, 2)), 0.0),
    (((200e3, 100, 2.5, 4),), 2.0),
    (((600, 0.1, 0.5, 2), (60e3, 10, 0.5, 2), (60e6, 10e3, 3.0, 10)), 0.0),
)
# (accuracy_k, percent, resolution_k, low_c, high_c)
THERMOMETERS = (
    (0.5, 0.0, 0.1, -50, 300),
    (1.0, 0.5, 0.1, -40, 120),
    (0.2, 0.0, 0.01, -200, 400),
    (2.0, 1.0, 1.0, 0, 100),
    (0.05, 0.0, 0.01, -30, 250),
)
_METER_FIELDS = ("span_ohm", "resolution_ohm", "percent", "digits")
_THERMOMETER_FIELDS = ("accuracy_k", "percent", "resolution_k", "low_c", "high_c")


def one_of(rng: np.random.Generator, choices: object) -> object:
    choices = list(choices)
    return choices[int(rng.integers(len(choices)))]


def _how(rng: np.random.Generator, *, t_c: float) -> dict[str, object]:
    """How a reading was taken, as the page is told."""
    told: dict[str, object] = {"tC": t_c, "placement": one_of(rng, PLACEMENTS)}
    if rng.random() < 0.85:
        rows, leads_ohm = one_of(rng, METERS)
        ranges = [dict(zip(_METER_FIELDS, row, strict=True)) for row in rows]
        told["meter"] = {"leads_ohm": leads_ohm, "ranges": ranges}
    if rng.random() < 0.85:
        fields = one_of(rng, THERMOMETERS)
        told["thermometer"] = dict(zip(_THERMOMETER_FIELDS, fields, strict=True))
    return told


def _measured(asked: dict[str, object]) -> Measured:
    """The same reading, as Python is told."""
    how = dict(asked["how"])
    if "meter" in how:
        ranges = tuple(OhmRange(**one) for one in how["meter"]["ranges"])
        how["meter"] = Meter(ranges=ranges, leads_ohm=how["meter"]["leads_ohm"])
    if "thermometer" in how:
        how["thermometer"] = Thermometer(**how["thermometer"])
    return taken(asked["rOhm"], t_c=how.pop("tC"), **how)


def temperature_c(rng: np.random.Generator, grid: Grid) -> float:
    """Mostly inside; now and then a little outside, or near an end."""
    where, span_k = rng.random(), grid.high_c - grid.low_c
    if where < 0.03:
        return one_of(rng, (grid.low_c, grid.high_c)) + float(rng.normal(0, 5))
    if where < 0.15:
        end_c, sign = one_of(rng, ((grid.low_c, 1), (grid.high_c, -1)))
        return end_c + sign * float(rng.uniform(0, 3))
    t_c = float(rng.uniform(grid.low_c, grid.low_c + span_k))
    return round(t_c, 1) if grid.low_c < round(t_c, 1) < grid.high_c else t_c


def reading_ohm(
    rng: np.random.Generator, grid: Grid, *, t_c: float, leads_ohm: float = 0.0
) -> float:
    """What a meter might show: near right, slightly wrong, very wrong, open, short; some typed."""
    what = rng.random()
    if what < 0.06:
        return math.inf
    if what < 0.12:
        least_ohm = short_below_ohm(grid)
        return float(rng.uniform(0.8, 1.2)) * one_of(rng, (0.0, 10.0, 1.0, least_ohm, least_ohm))
    if what < 0.20:
        low_ohm, high_ohm = grid.range_ohm
        r_ohm = math.exp(rng.uniform(math.log(low_ohm / 8), math.log(high_ohm * 8)))
    else:
        off_k = float(rng.normal(0, math.exp(rng.uniform(math.log(0.05), math.log(15)))))
        r_ohm = float(grid.beyond_ohm(t_c + off_k))
    shown = max(r_ohm, 0.0) + leads_ohm
    return float(f"{shown:.{one_of(rng, (3, 4, 4, 5))}g}") if rng.random() < 0.5 else shown


def _taken(rng: np.random.Generator, grid: Grid) -> dict[str, object]:
    t_c = temperature_c(rng, grid)
    how = _how(rng, t_c=t_c)
    leads_ohm = how["meter"]["leads_ohm"] if "meter" in how else 0.0
    return {"rOhm": reading_ohm(rng, grid, t_c=t_c, leads_ohm=leads_ohm), "how": how}


def _named(rng: np.random.Generator, grids: dict[str, Grid]) -> tuple[str, Grid]:
    name = one_of(rng, grids)
    return name, grids[name]


def interpolated(rng: np.random.Generator, grids: dict[str, Grid]) -> tuple[object, Callable]:
    name, grid = _named(rng, grids)
    methods = {
        "ohm": "r_ohm",
        "low": "low_ohm",
        "high": "high_ohm",
        "tolK": "tol_k",
        "slope": "slope_ohm_per_k",
        "tC": "t_c",
        "beyondOhm": "beyond_ohm",
        "beyondC": "beyond_c",
    }
    method = one_of(rng, methods)
    if method in ("tC", "beyondC"):
        low_ohm, high_ohm = grid.range_ohm
        value = math.exp(rng.uniform(math.log(low_ohm) - 0.1, math.log(high_ohm) + 0.1))
    else:
        edge_k = 0.05 * (grid.high_c - grid.low_c)
        value = float(rng.uniform(grid.low_c - edge_k, grid.high_c + edge_k))
    asked = {"grid": name, "method": method, "value": value}
    return asked, lambda: float(getattr(grid, methods[method])(value))


def judged(rng: np.random.Generator, grids: dict[str, Grid]) -> tuple[object, Callable]:
    name, grid = _named(rng, grids)
    asked = _taken(rng, grid)
    allow_k = one_of(rng, (0.0, 0.0, 0.5, 2.0, float(rng.uniform(0, 6))))
    short_ohm = one_of(rng, (None, None, None, 10.0, 0.5))
    options = {"allowK": allow_k, "shortOhm": short_ohm}

    def answer() -> dict[str, object]:
        one = _measured(asked)
        told = judge(grid, measured=one, allow_k=allow_k, short_ohm=short_ohm)
        return {"measured": one, "verdict": told}

    return {"grid": name, **asked, "options": options}, answer


def explained(rng: np.random.Generator, grids: dict[str, Grid]) -> tuple[object, Callable]:
    """One to three readings of one sensor with one fault, or with none that is known."""
    name, grid = _named(rng, grids)
    first = _taken(rng, grid)
    pull_up_ohm = one_of(rng, (None, 1000.0, 5100.0, 10_000.0, 22_000.0))
    names = [str(one) for one in rng.choice(list(grids), size=6, replace=False)]
    wrong = _wrong(rng, grid, pull_up_ohm=pull_up_ohm, other=grids[names[0]])
    readings = [first]
    for _ in range(int(one_of(rng, (0, 0, 1, 1, 2)))):
        readings.append(
            _taken(rng, grid) if rng.random() < 0.2 else {**first, "how": {**first["how"]}}
        )
    for i, reading in enumerate(readings):
        if i:
            apart_k = one_of(rng, (0.0, 2.0, 15.0, -20.0))
            reading["how"]["tC"] = float(
                np.clip(first["how"]["tC"] + apart_k, grid.low_c, grid.high_c)
            )
        if wrong is not None:
            cured = i and rng.random() < 0.3
            right_ohm = float(grid.beyond_ohm(reading["how"]["tC"]))
            reading["rOhm"] = right_ohm if cured else wrong(right_ohm, reading["how"]["tC"])
    half = int(rng.integers(0, 6))
    known = {
        "allow_k": one_of(rng, (0.0, 1.0, 3.0)),
        "pull_up_ohm": pull_up_ohm,
        "unit": one_of(rng, ("C", "C", "F", "")),
        "has_twins": bool(rng.random() < 0.5),
    }
    family, others = names[:half], names[half:]

    def answer() -> object:
        return explain(
            Known(
                curve=grid,
                family={one: grids[one] for one in family},
                others={one: grids[one] for one in others},
                **known,
            ),
            readings=[_measured(reading) for reading in readings],
        )

    told = {**page_names(known), "family": family, "others": others}
    return {"grid": name, "readings": readings, "known": told}, answer


def _wrong(
    rng: np.random.Generator, grid: Grid, *, pull_up_ohm: float | None, other: Grid
) -> Callable[[float, float], float] | None:
    """Return what a fault makes of a right resistance at a temperature; None for none of these."""
    times = one_of(rng, (1e3, 1e-3, 10, 0.1)) * float(rng.uniform(0.98, 1.02))
    beside_ohm = pull_up_ohm or math.exp(rng.uniform(5, 12))
    # Near what its own error lets fit: there the stretch of the meter's error decides.
    off = float(one_of(rng, (1.0, rng.uniform(0.75, 1.3))))
    more, gain, warm_k = rng.uniform(0.01, 2.2), rng.uniform(0.6, 1.6), rng.uniform(2, 18)
    elsewhere_c = float(rng.uniform(grid.low_c, grid.high_c))
    nominal_ohm = float(grid.beyond_ohm((grid.low_c + grid.high_c) / 2))
    faults = (
        None,
        None,
        lambda r_ohm, t_c: r_ohm * times,
        lambda r_ohm, t_c: parallel_ohm(r_ohm * off, other_ohm=beside_ohm),
        lambda r_ohm, t_c: parallel_ohm(r_ohm, other_ohm=math.exp(beside_ohm % 5 + 6)),
        lambda r_ohm, t_c: beside_ohm,
        lambda r_ohm, t_c: r_ohm + more * nominal_ohm,
        lambda r_ohm, t_c: r_ohm * gain,
        lambda r_ohm, t_c: float(grid.beyond_ohm(t_c + warm_k)),
        lambda r_ohm, t_c: float(grid.beyond_ohm(elsewhere_c)),
        lambda r_ohm, t_c: float(grid.beyond_ohm((t_c - 32) / 1.8)),
        lambda r_ohm, t_c: float(other.beyond_ohm(t_c)),
    )
    return one_of(rng, faults)


def _resting(name: str, grid: Grid, **figures: float) -> tuple[dict[str, object], Resting]:
    """The same sensor at rest for the page and for Python."""
    return {"grid": name, **page_names(figures)}, Resting(curve=grid, **figures)


def a_round(rng: np.random.Generator, grids: dict[str, Grid]) -> tuple[object, Callable]:
    names = [str(one) for one in rng.choice(list(grids), size=rng.integers(1, 9), replace=False)]
    centre_c = float(rng.uniform(10, 45))
    page, python = {}, {}
    spreads_k = one_of(rng, ((0.5,), (0.5, 2, 8)))
    for i, name in enumerate(names):
        grid, off_k = grids[name], float(rng.normal(0, one_of(rng, spreads_k)))
        r_ohm = reading_ohm(rng, grid, t_c=centre_c + off_k)
        half_ohm = 0.0 if math.isinf(r_ohm) else r_ohm * float(one_of(rng, (0, 0.005, 0.02)))
        allow_k = float(one_of(rng, (0, 0, 1, 2.5)))
        span_ohm = float(one_of(rng, (40e6, 40e6, 2e6, 200e3)))
        page[f"sensor-{i}"], python[f"sensor-{i}"] = _resting(
            name,
            grid,
            r_ohm=r_ohm,
            meter_half_ohm=half_ohm,
            allow_k=allow_k,
            meter_span_ohm=span_ohm,
        )
    t_c = one_of(rng, (None, None, round(centre_c, 1), round(centre_c + 12, 1)))
    half_k, spread_k = float(one_of(rng, (0, 0.5, 2))), float(one_of(rng, (1.0, 0.3, 3.0)))
    short_ohm = one_of(rng, (None, 5.0, 40.0))
    place = RestingPlace(
        readings=python, t_c=t_c, thermometer_half_k=half_k, spread_half_k=spread_k
    )
    asked = {"readings": page, "tC": t_c, "thermometerHalfK": half_k, "spreadHalfK": spread_k}

    def answer() -> MachineStanding:
        return machine_standing([place], short_ohm=short_ohm)

    return {"places": [asked], "options": {"shortOhm": short_ohm}}, answer


def two_exchanged(rng: np.random.Generator, grids: dict[str, Grid]) -> tuple[object, Callable]:
    centres_c = rng.uniform(10, 45, size=rng.integers(1, 4))
    shown = []
    for place, centre_c in enumerate(centres_c):
        for name in rng.choice(list(grids), size=rng.integers(2, 6)):
            off_k = float(rng.normal(0, one_of(rng, (0.3, 0.3, 6))))
            shown.append((place, str(name), reading_ohm(rng, grids[name], t_c=centre_c + off_k)))
    readings_ohm = [r_ohm for _, _, r_ohm in shown]
    if rng.random() < 0.8:
        one, other = rng.choice(len(shown), size=2, replace=False)
        readings_ohm[one], readings_ohm[other] = readings_ohm[other], readings_ohm[one]
    page: list[dict[str, object]] = [{} for _ in centres_c]
    python: list[dict[str, Resting]] = [{} for _ in centres_c]
    for i, ((place, name, _), r_ohm) in enumerate(zip(shown, readings_ohm, strict=True)):
        half_ohm = 0.0 if math.isinf(r_ohm) else 0.005 * r_ohm
        allow_k = float(one_of(rng, (0, 1, 2)))
        page[place][f"sensor-{i}"], python[place][f"sensor-{i}"] = _resting(
            name,
            grids[name],
            r_ohm=r_ohm,
            meter_half_ohm=half_ohm,
            allow_k=allow_k,
            meter_span_ohm=40e6,
        )
    pages, places = [], []
    for i, centre_c in enumerate(centres_c):
        t_c = one_of(rng, (None, None, round(float(centre_c), 1)))
        spread_half_k = one_of(rng, (0.0, 1.0, 1.0))
        pages.append(
            {"readings": page[i], "tC": t_c, "thermometerHalfK": 0.5, "spreadHalfK": spread_half_k}
        )
        places.append(
            RestingPlace(
                readings=python[i], t_c=t_c, thermometer_half_k=0.5, spread_half_k=spread_half_k
            )
        )
    short_ohm = one_of(rng, (None, 5.0))

    def answer() -> MachineStanding:
        return machine_standing(places, short_ohm=short_ohm)

    return {"places": pages, "options": {"shortOhm": short_ohm}}, answer


def which(rng: np.random.Generator, grids: dict[str, Grid]) -> tuple[object, Callable]:
    names = [str(one) for one in rng.choice(list(grids), size=10, replace=False)]
    if rng.random() < 0.4:
        names = ["beta-middle", "beta-twin", *(n for n in names if not n.startswith("beta"))]
    true = grids[names[0]]
    pairs = []
    for _ in range(int(rng.integers(1, 6))):
        t_c = float(rng.uniform(max(true.low_c, -10), min(true.high_c, 70)))
        shown = float(true.beyond_ohm(t_c + rng.normal(0, 0.4)))
        how = _how(rng, t_c=round(t_c, 1))
        pairs.append({"rOhm": float(f"{shown:.4g}"), "how": how})

    def answer() -> object:
        readings = [_measured(one) for one in pairs]
        told = which_curve({name: grids[name] for name in names}, readings=readings)
        parting = told.parting and {
            **dataclasses.asdict(told.parting),
            "certain": bool(told.parting.certain),
        }
        return {"ranking": told.ranking, "separable": told.separable, "parting": parting}

    return {"curves": names, "readings": pairs}, answer


def stand_in(rng: np.random.Generator, grids: dict[str, Grid]) -> tuple[object, Callable]:
    name, grid = _named(rng, grids)
    t_c = temperature_c(rng, grid)
    series = one_of(rng, ("E12",) * 5 + ("E24",) * 6 + ("E96",))
    best = int(one_of(rng, (1, 3, 5)))

    def answer() -> dict[str, object]:
        singles, pairs = stand_ins(grid, t_c=t_c, series=series, best=best)
        return {"singles": singles, "pairs": pairs}

    return {"grid": name, "wanted": {"tC": t_c, "series": series, "best": best}}, answer


def two_curves(rng: np.random.Generator, grids: dict[str, Grid]) -> tuple[object, Callable]:
    one, other = one_of(rng, grids), one_of(rng, grids)
    t_c = float(rng.uniform(grids[one].low_c - 10, grids[one].high_c + 10))
    return {"one": one, "other": other, "tC": t_c}, lambda: {
        "most": most_apart(grids[one], other=grids[other]),
        "here": apart(grids[one], other=grids[other], t_c=t_c),
    }
