"""Random readings of parts: volts at a plug, windings, insulation."""

from __future__ import annotations

import math
from collections.abc import Callable

import numpy as np

from kb.numbers.divider import sensor_from_parallel_ohm, volts_at_plug
from kb.numbers.insulation import MATERIALS, WINDING_KINDS, judge_insulation
from kb.numbers.meter import Meter, OhmRange
from kb.numbers.winding_balance import winding_balance
from kb.numbers.winding_metal import CONSTANTS, corrected_to
from kb.numbers.winding_value import winding_value

from .page_names import page_names
from .vector_readings import one_of


def divider(rng: np.random.Generator, _: object) -> tuple[object, Callable]:
    ohm = one_of(rng, (math.inf, 0.0, *(float(10 ** rng.uniform(0, 6.5)) for _ in range(8))))
    pull_up_ohm = float(one_of(rng, (1e3, 4990.0, 10e3, 56e3)))
    supply_v = float(one_of(rng, (3.3, 5.0, 12.0)))
    board = {"supplyV": supply_v, "pullUpOhm": pull_up_ohm}
    name = one_of(rng, ("voltsAtPlug", "sensorFromParallelOhm"))
    if name == "voltsAtPlug":
        voltmeter_ohm = float(one_of(rng, (math.inf, 1e7, 1e6)))
        board["voltmeterOhm"] = voltmeter_ohm
        return {"name": name, "first": ohm, "board": board}, lambda: volts_at_plug(
            ohm, supply_v=supply_v, pull_up_ohm=pull_up_ohm, voltmeter_ohm=voltmeter_ohm
        )
    return {"name": name, "first": ohm, "board": board}, lambda: sensor_from_parallel_ohm(
        ohm, pull_up_ohm=pull_up_ohm
    )


def winding(rng: np.random.Generator, _: object) -> tuple[object, Callable]:
    count = 1 if rng.random() < 0.03 else int(rng.integers(2, 7))
    leads = ["U-V", "V-W", "W-U", "U1-U2", "V1-V2", "W1-W2"][:count]
    mean_ohm, spread = float(10 ** rng.uniform(-1, 2.5)), one_of(rng, (0.003, 0.02, 0.08))
    readings = {
        pair: one_of(rng, (*([mean_ohm * (1 + float(rng.normal(0, spread)))] * 50), math.inf, 0.0))
        for pair in leads
    }
    # Some of the lot lie on both sides of where the first range ends.
    digit_ohm = mean_ohm * float(one_of(rng, (0.002, 0.01, 0.03)))
    spans = (mean_ohm * float(one_of(rng, (0.5, 1.0, 2.0))), mean_ohm * 10)
    ranges = [
        {"span_ohm": span, "resolution_ohm": digit_ohm * times, "percent": 0.5, "digits": 3}
        for span, times in zip(spans, (1, 2), strict=True)
    ]
    meter = Meter(ranges=tuple(OhmRange(**one) for one in ranges))
    t_c, allowed = float(rng.uniform(-10, 90)), one_of(rng, (None, 0.02, 0.03, 0.05, 0.05))
    constant = float(one_of(rng, (*CONSTANTS, *CONSTANTS, *CONSTANTS, 230.0)))
    how = {"tC": t_c, "allowedShare": allowed, "constant": constant}
    asked = {"readings": readings, "how": how, "meter": {"ranges": ranges, "leads_ohm": 0.3}}
    halves = dict(zip(leads, meter.beside_half_ohm(list(readings.values())), strict=True))
    return asked, lambda: {
        "digits": {pair: meter.digit_ohm(r_ohm) for pair, r_ohm in readings.items()},
        "balance": winding_balance(
            readings, half_widths_ohm=halves, t_c=t_c, allowed_share=allowed, constant=constant
        ),
    }


def winding_beside_maker(rng: np.random.Generator, _: object) -> tuple[object, Callable]:
    part_ohm = float(10 ** rng.uniform(-1, 3.5))
    r_ohm = one_of(rng, (*([part_ohm * float(rng.normal(1, 0.1))] * 20), math.inf))
    keywords = {
        "half_ohm": 0.0 if math.isinf(r_ohm) else part_ohm * float(10 ** rng.uniform(-3, -1)),
        "t_c": float(rng.uniform(-10, 90)),
        "part_ohm": part_ohm,
        "part_c": float(one_of(rng, (20, 25, 40))),
        "allowed_share": one_of(rng, (None, 0.05, 0.07, 0.1, 0.15)),
        "constant": float(one_of(rng, (*CONSTANTS, *CONSTANTS, 230.0))),
        "t_half_k": float(one_of(rng, (0.0, 2.0, 2.0, 5.0))),
    }
    of = page_names(keywords)
    return {"rOhm": r_ohm, "of": of}, lambda: winding_value(r_ohm, **keywords)


def winding_corrected(rng: np.random.Generator, _: object) -> tuple[object, Callable]:
    r_ohm, constant = float(10 ** rng.uniform(-1, 2.5)), float(one_of(rng, CONSTANTS))
    from_c, to_c = float(rng.uniform(5, 45)), float(rng.uniform(5, 35))
    how = {"fromC": from_c, "toC": to_c, "constant": constant}
    return {"rOhm": r_ohm, "how": how}, lambda: corrected_to(
        r_ohm, from_c=from_c, to_c=to_c, constant=constant
    )


def insulation(rng: np.random.Generator, _: object) -> tuple[object, Callable]:
    r_ohm = one_of(rng, (math.inf, 0.0, *[float(10 ** rng.uniform(4.5, 10))] * 12))
    keywords = {
        "t_c": float(one_of(rng, (rng.uniform(-60, 160), rng.uniform(10, 85)))),
        "material": one_of(rng, (*MATERIALS, *MATERIALS, "enamel")),
        "percent": float(one_of(rng, (0, 3, 10))),
        "part_min_ohm": one_of(rng, (None, 1e6, 5e6, 2e7)),
        "part_limit_c": float(one_of(rng, (40, 40, 20, 25, 90))),
        "winding": one_of(rng, (*WINDING_KINDS, *WINDING_KINDS, "rewound")),
        "rated_v": float(one_of(rng, (230, 400, 3300))),
    }
    if rng.random() < 0.3:
        near_ohm = 1e6 * float(rng.uniform(0.9, 1.1)) * (one_of(rng, (1, 5, 20, 100)))
        r_ohm, keywords["t_c"], keywords["part_limit_c"] = near_ohm, 40.0, 40.0
    of = page_names(keywords)
    return {"rOhm": r_ohm, "of": of}, lambda: judge_insulation(r_ohm, **keywords)
