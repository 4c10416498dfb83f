"""Questions about one part, from the typed text to the answer: at random, and on every border."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence

import numpy as np

from kb.answers.instruments import Kit, NamedMeter
from kb.answers.insulation import InsulationQuestion, answer_insulation
from kb.answers.insulation_tested import InsulationFacts, InsulationVoltage, NamedTester
from kb.answers.winding import WindingQuestion, answer_windings, winding_refusals
from kb.answers.winding_reading import WindingFacts
from kb.answers.winding_unnamed import UNNAMED
from kb.numbers.grid import Grid
from kb.numbers.meter import Meter, OhmRange
from kb.numbers.notation import parse_reading
from kb.numbers.winding_metal import OF_METAL

from .page_names import page_names
from .said import said
from .vector_readings import one_of
from .vector_sensors import ALL_METERS, UNREADABLE, named_for_page, typed_ohm, typed_t

LEADS = (
    ("U-V", "V-W", "W-U"),
    ("U1-U2", "V1-V2", "W1-W2"),
    ("1-2",),
    ("blue-brown", "blue-black"),
    ("C-R", "C-S", "R-S", "1-N"),
)
WINDING_EDGES_C = (-40.0, -40.1, -39.9, 150.0, 150.1, 149.9, -234.5, 900.0, -70.0, 20.0, 20.0)
MILLIOHM = NamedMeter(
    id="milliohm",
    name="Milliohm meter",
    meter=Meter(
        ranges=(OhmRange(span_ohm=20.0, resolution_ohm=1e-3, percent=0.1, digits=2),), leads_ohm=0.0
    ),
)
WINDING_METERS = (MILLIOHM, *ALL_METERS)


def _winding_facts(rng: np.random.Generator) -> WindingFacts:
    metal = one_of(rng, ("copper", "copper", "copper", "aluminium", "heating wire"))
    value_ohm = float(one_of(rng, (0.02, 0.3, 0.96, 3.2, 38.4, 131.0, 390.0, 655.0, 18.5, 40e6)))
    leads = one_of(rng, LEADS)
    alike = rng.random() < 0.7
    pairs = {pair: value_ohm if alike or i < 2 else value_ohm * 1.4 for i, pair in enumerate(leads)}
    connections = ("unknown", "star", "delta") if len(leads) == 3 else ("unknown", "single-phase")
    return WindingFacts(
        pairs=pairs,
        connection=one_of(rng, connections) if len(leads) in (2, 3) else "unknown",
        at_c=float(one_of(rng, (20, 20, 25, 40))),
        tolerance_share=one_of(rng, (None, 0.07, 0.1, 0.1, 0.15)),
        balance_share=one_of(rng, (None, 0.02, 0.03, 0.05)),
        metal=metal,
        constant=OF_METAL[metal],
        wound=bool(rng.random() < 0.9),
        insulated=bool(rng.random() < 0.5),
    )


def _typed_pairs(
    rng: np.random.Generator, facts: WindingFacts, *, meter: NamedMeter, t_c: float
) -> list[tuple[str, str]]:
    """Each pair of leads: right, on a border, drifted, over range, nothing, unread, unreadable."""
    # What the copper does from where the entry's value holds to where the winding is.
    warm = (facts.constant + max(t_c, -100.0)) / (facts.constant + facts.at_c)
    spans_ohm = [row.span_ohm for row in meter.meter.ranges]
    usual = one_of(rng, ("right", "right", "drifted", "border"))
    # Now and then a lead is broken, and every pair that has it is open.
    broken = next(iter(facts.pairs)).split("-")[0] if rng.random() < 0.05 else None
    typed = []
    for pair, value_ohm in facts.pairs.items():
        right_ohm = value_ohm * warm
        edge = 1 + float(one_of(rng, (facts.balance_share or 0.02, facts.tolerance_share or 0.1)))
        how = one_of(rng, (*[usual] * 8, "drifted", "end", "over", "nothing", "unread"))
        if broken in pair.split("-"):
            how = "over"
        r_ohm = {
            "right": right_ohm * float(1 + rng.normal(0, 0.002)),
            "drifted": right_ohm * float(rng.uniform(0.6, 1.6)),
            "border": right_ohm * float(one_of(rng, (1.0, edge, 1 / edge))),
            "end": float(one_of(rng, spans_ohm)) * float(one_of(rng, (1.0, 1.0, 1.001))),
            "over": float(one_of(rng, (math.inf, math.inf, spans_ohm[-1] * 1.5))),
            "nothing": 0.0,
        }.get(how, math.nan)
        text = "" if how == "unread" else typed_ohm(rng, r_ohm)
        if rng.random() < 0.015:
            text = one_of(rng, UNREADABLE)
        typed.append((_spelled(rng, pair), text))
    if rng.random() < 0.03:
        typed.append((one_of(rng, ("X-Y", typed[0][0], "U")), "3.2"))
    return typed


def _spelled(rng: np.random.Generator, pair: str) -> str:
    if rng.random() < 0.9:
        return pair
    return one_of(rng, (pair.lower(), "-".join(reversed(pair.split("-"))), f" {pair} "))


def _windings_directed(rng: np.random.Generator) -> tuple[WindingFacts, str, str]:
    """A winding at a meter's end, hidden in its last digits, or alike at every temperature."""
    r_ohm, metal, reading, allowed = one_of(
        rng,
        (
            (20.0, "copper", "OL", None),
            (0.003, "copper", "0", 0.1),
            # From −40 to 150 °C heating wire moves by 2 %, and copper by 75.
            *((18.0, "heating wire", reading, 0.1) for reading in ("18.1", "19.5", "19.7", "20")),
            *((10.0, "copper", reading, 0.1) for reading in ("6.7", "6.9", "16.4", "16.8", "10")),
            (10.0, "copper", "3", None),
        ),
    )
    leads = one_of(rng, (("1-2",), ("1-2", "3-4", "5-6")))
    facts = WindingFacts(
        pairs=dict.fromkeys(leads, r_ohm),
        tolerance_share=allowed,
        balance_share=one_of(rng, (None, 0.05)),
        metal=metal,
        constant=OF_METAL[metal],
    )
    return facts, reading, one_of(rng, ("20", "", ""))


TRIANGLE = ("U-V", "V-W", "W-U")
MOTOR = ("C-R", "C-S", "R-S")


def _three_leads(rng: np.random.Generator) -> tuple[WindingFacts, list[tuple[str, str]]]:
    """A star or a delta with one winding off, or two windings, by name or by number."""
    if rng.random() < 0.5:
        own = float(one_of(rng, (0.7, 0.9, 1.15, 1.6, 9.0, 300.0)))
        u, v, w = rng.permutation([own, 1.0, 1.0]) * float(one_of(rng, (1.3, 40.0)))
        connection = one_of(rng, ("star", "delta", "delta", "unknown"))
        ohms = [u + v, v + w, w + u]
        if connection == "delta":
            ohms = [r * (u + v + w - r) / (u + v + w) for r in (u, v, w)]
        value_ohm = float(np.median(ohms)) * float(one_of(rng, (1.0, 1.0, 1.3)))
        pairs, balance = dict.fromkeys(TRIANGLE, value_ohm), 0.03
    else:
        run, start = float(one_of(rng, (2.0, 40.0))), float(one_of(rng, (2.0, 5.2, 61.0)))
        ohms, connection = (
            [run, start, (run + start) * float(one_of(rng, (1, 1, 0.8, 1.3)))],
            "single-phase",
        )
        pairs, balance = dict(zip(MOTOR, (run, start, run + start), strict=True)), None
        if rng.random() < 0.5:
            del pairs["R-S"]
    facts = WindingFacts(
        pairs=pairs,
        connection=connection,
        tolerance_share=one_of(rng, (None, 0.1)),
        balance_share=balance,
    )
    names = list(pairs) if rng.random() < 0.5 else [str(i) for i in rng.permutation(UNNAMED)]
    texts = [typed_ohm(rng, float(one_of(rng, (*[r] * 7, math.inf)))) for r in ohms]
    readings = list(zip(names, texts, strict=False))
    return facts, readings[: int(one_of(rng, (3, 3, 3, 3, 2)))]


def _repeats(rng: np.random.Generator, typed: list[tuple[str, str]]) -> list[tuple[str, str]]:
    """Some of them read again, with a space or a semicolon between, or as another reading."""
    again: list[tuple[str, str]] = []
    for leads, text in typed:
        try:
            r_ohm = parse_reading(text)
        except ValueError:
            continue
        if math.isinf(r_ohm) or r_ohm == 0 or rng.random() < 0.3:
            continue
        wide = float(one_of(rng, (0.0, 0.002, 0.01, 0.1)))
        more = [
            f"{r_ohm * (1 + wide * float(rng.normal())):.4g}" for _ in range(rng.integers(1, 4))
        ]
        if rng.random() < 0.1:
            more.append("OL")
        between = one_of(rng, (" ", "; ", ", ", "  "))
        if rng.random() < 0.3:
            again += [(leads, more_text) for more_text in more]
        else:
            text = between.join([text, *more])
        again.append((leads, text))
    if rng.random() < 0.1:
        # One figure with a space for thousands, or several of one winding.
        spaced = one_of(rng, ("480 482", "480 560 490", "100 124", "100 126", "1 200", "90 0.1"))
        again.append((typed[0][0], spaced))
    return again or typed


def windings_asked(rng: np.random.Generator, _: dict[str, Grid]) -> tuple[object, Callable]:
    """A part's windings, read with one of the team's meters."""
    facts = _winding_facts(rng)
    meter = one_of(rng, WINDING_METERS)
    t_c = float(one_of(rng, (*WINDING_EDGES_C, *rng.uniform(-40, 150, 9))))
    at, unit = typed_t(rng, t_c)
    if rng.random() < 0.12:
        at = one_of(rng, (*UNREADABLE, *[""] * len(UNREADABLE)))
    readings = _typed_pairs(rng, facts, meter=meter, t_c=t_c)
    refusals = bool(rng.random() < 0.05)
    if refusals:
        readings = [(leads, one_of(rng, (text, *UNREADABLE))) for leads, text in readings]
    if rng.random() < 0.25:
        facts, readings = _three_leads(rng)
        meter, refusals = one_of(rng, (MILLIOHM, *WINDING_METERS)), False
    if rng.random() < 0.06:
        facts, reading, at = _windings_directed(rng)
        readings, meter, unit = [(pair, reading) for pair in facts.pairs], MILLIOHM, "C"
    if rng.random() < 0.15:
        readings = _repeats(rng, readings)
    meters = tuple(tool for tool in WINDING_METERS if rng.random() < 0.5)
    question = WindingQuestion(
        part=facts, readings=readings, at=at, unit=unit, meter=meter, kit=Kit(meters=meters)
    )
    page = {
        "part": {**page_names(facts), "pairs": dict(facts.pairs)},
        "readings": readings,
        "at": at,
        "unit": unit,
        "meter": named_for_page(meter),
        "kit": {"meters": [named_for_page(tool) for tool in meters], "thermometers": []},
        "refusals": refusals,
    }

    def answer() -> dict[str, object]:
        if refusals:
            return {"refusals": [vars(refusal) for refusal in winding_refusals(question)]}
        found = answer_windings(question)
        return {"answer": found, "said": said(found, unit=found.unit)}

    return page, answer


VOLTAGES = (250.0, 500.0, 1000.0)
INSULATION_EDGES_C = (10.0, 9.9, 10.1, 85.0, 85.1, 84.9, *[40.0] * 6, 20.0)
NO_VOLTS = ("", "  ", "0", "-500", "abc", "5OO", "500 W", "inf")


def _testers(rng: np.random.Generator) -> list[NamedTester]:
    ends_ohm = (1e6, 2e6, 5e6, 200e6, 1e9, 20e9)
    return [
        NamedTester(
            id=f"tester-{i}",
            name=f"Tester {i}",
            voltages=[
                InsulationVoltage(
                    volts=volts,
                    max_ohm=float(one_of(rng, ends_ohm)),
                    percent=float(one_of(rng, (0, 3, 10))),
                )
                for volts in VOLTAGES
                if rng.random() < 0.85
            ],
        )
        for i in range(int(one_of(rng, (0, 1, 1, 1, 2))))
    ]


def _typed_megohms(
    rng: np.random.Generator, limit_ohm: float, *, testers: Sequence[NamedTester]
) -> str:
    """On the limit, at a tester's end and beyond it, near and far from both, over range."""
    ends_ohm = [test.max_ohm for tester in testers for test in tester.voltages] or [limit_ohm]
    end_ohm = float(one_of(rng, ends_ohm))
    near = float(one_of(rng, (1.0, 1.0, 0.95, 1.02, 1.06, 1.12)))
    r_ohm = one_of(
        rng,
        (
            *[limit_ohm * near] * 4,
            *[limit_ohm * float(rng.uniform(0.05, 8))] * 4,
            limit_ohm * 0.01,
            *[5e6 * near] * 3,
            end_ohm,
            end_ohm * 1.25,
            *[math.inf] * 4,
            0.0,
        ),
    )
    if math.isinf(r_ohm) or r_ohm == 0:
        return typed_ohm(rng, r_ohm)
    return one_of(rng, (f"{r_ohm / 1e6:.6g}M", f"{r_ohm / 1e3:.6g}k", f"{r_ohm / 1e6:.4g} MΩ"))


def _air(rng: np.random.Generator, *, unit: str, at: str) -> dict[str, str]:
    """Air, its humidity and what the surface looks like; one alone, none such, and unreadable."""
    air, _ = typed_t(rng, float(one_of(rng, (*rng.uniform(-20, 50, 6), 40.0, -45.0, 60.0, 61.0))))
    humidity = one_of(rng, (*[f"{rng.uniform(20, 100):.0f}"] * 5, "100", "65 %", "92,5", "99%"))
    return {
        "air": one_of(rng, (*[air] * 7, *[at] * 5, "", "cold")),
        "humidity": one_of(rng, (*[humidity] * 12, "", "0", "101", "damp", "1e2")),
        "surface": one_of(rng, ("", "", "", "wet", "dry")),
    }


def _watched(rng: np.random.Generator, reading: str) -> dict[str, str]:
    """What the tester showed before and long after its minute, near the borders of a trend."""
    try:
        r_ohm = parse_reading(reading)
    except ValueError:
        r_ohm = 4e6
    r_ohm = min(r_ohm, 9e9)

    def shown(*times: float) -> str:
        text = f"{r_ohm * float(one_of(rng, times)) / 1e6:.6g}M"
        return one_of(rng, (*[text] * 12, "", "OL", "0", "lots"))

    early = (0.5, 0.9, 0.91, 1.0, 1.1, 1.12, 2.0)
    return {
        "at_15s": shown(*early) if rng.random() < 0.4 else "",
        "at_30s": shown(*early) if rng.random() < 0.4 else "",
        "at_10min": shown(0.8, 1.0, 1.5, 2.0, 3.0) if rng.random() < 0.5 else "",
        "trend": one_of(rng, ("", "rising", "flat", "falling", "gone")),
    }


def insulation_asked(rng: np.random.Generator, _: dict[str, Grid]) -> tuple[object, Callable]:
    """A part's insulation: at every warmth, voltage and tester, and on parts never to be tested."""
    min_ohm = float(one_of(rng, (1e6, 2e6, 5e6, 2e7)))
    wound = bool(rng.random() < 0.8)
    facts = InsulationFacts(
        name="Part",
        min_ohm=min_ohm,
        limit_c=float(one_of(rng, (*[40.0] * 12, 20.0, 10.0, 85.0, 9.0, 86.0))),
        test_volts=float(one_of(rng, (250, 500, 500, 500, 1000))),
        material=one_of(rng, ("thermoplastic", "thermoset", "thermoset")),
        wound=wound,
        hermetic=wound and bool(rng.random() < 0.3),
        board=bool(rng.random() < 0.02),
        form_wound=wound and bool(rng.random() < 0.4),
        rated_volts=one_of(rng, (None, 230.0, 400.0, 999.0, 1000.0, 2300.0)),
    )
    testers = _testers(rng)
    volts = float(one_of(rng, (*[facts.test_volts] * 9, *VOLTAGES, facts.test_volts + 0.5)))
    typed_volts = one_of(rng, (f"{volts:g}", f"{volts:g}", f"{volts:g} V", f" {volts:g}v "))
    at, unit = typed_t(rng, float(one_of(rng, (*INSULATION_EDGES_C, *rng.uniform(-30, 130, 9)))))
    typed = {
        "volts": one_of(rng, NO_VOLTS) if rng.random() < 0.05 else typed_volts.replace(".", ","),
        "reading": _typed_megohms(rng, min_ohm, testers=testers),
        "at": one_of(rng, (*UNREADABLE, *[""] * 20)) if rng.random() < 0.15 else at,
        "unit": unit,
        "tester": one_of(rng, ("", "", "tester-0", "tester-1")),
    }
    if rng.random() < 0.06:
        typed["reading"] = one_of(rng, (*UNREADABLE, "25.0", "99999", "100000"))
    if rng.random() < 0.4:
        typed |= _air(rng, unit=unit, at=typed["at"])
    if rng.random() < 0.4:
        typed["reading"] = one_of(rng, (*[typed["reading"]] * 9, "8G"))
        typed |= _watched(rng, typed["reading"])
    question = InsulationQuestion(part=facts, testers=testers, **typed)

    def answer() -> dict[str, object]:
        found = answer_insulation(question)
        return {"answer": found, "said": said(found, unit=found.unit)}

    page = {**page_names(typed), "part": page_names(facts), "testers": page_names(testers)}
    return page, answer
