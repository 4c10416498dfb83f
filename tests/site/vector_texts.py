"""Random texts and numbers, as people type them and as they are printed for people."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from kb.numbers.insulation import parse_insulation
from kb.numbers.notation import parse_ohm, parse_reading, parse_t_c
from kb.numbers.rounding import (
    format_departure,
    format_k,
    format_ohm,
    format_ohm_ends,
    format_ohm_to,
    format_percent,
    format_t,
    format_volts,
    significant,
)

_PARTS = (
    "0",
    "4",
    "7",
    "10",
    "12",
    "480",
    "6",
    "32",
    "000",
    "005",
    "1 000",
    "12 500",
    "1,234",
    ".",
    ",",
    "k",
    "K",
    "R",
    "r",
    "M",
    "m",
    "G",
    "e3",
    "E-2",
    "Ω",
    "ohm",
    "ohms",
    " ",
    "  ",
    "-",
    "−",
    "+",
    "OL",
    "0L",
    ">",
    "open",
    "∞",
    "inf",
    "over range",
    "offen",
    "Überlauf",
    "ueberlauf",
    "unendlich",
    "Grad",
    "°C",
    "F",
    "C",
    "K",
    "deg",
    "x",
    "",
)
_SHAPES = (
    "{a}",
    "{a}.{b}",
    "{a},{b}",
    "{a}.{b}k",
    "{a},{b}k",
    "{a}k{b}",
    "{a}R{b}",
    "{a}M{b}",
    "{a} kΩ",
    "{a}.{b} Mohm",
    "0R{b}",
    "{a}K",
    "{a}m",
    "{a}m{b}",
    ".{b}k",
    "{a}e3",
    "{a}.{b}E-1",
    "-{a}",
    "{a},{b}00",
    "{a} {b}00",
    "1,000,{b}",
    "{a}G",
    " {a} ohms ",
    "O.L.",
    "0L MΩ",
    ">{a}M",
    "open",
    "+OL",
    "∞ Ω",
    "overrange k",
)
_T_SHAPES = (
    "{a}",
    "-{a}",
    "−{a}",
    "{a}.{b}",
    "{a},{b}",
    "{a}F",
    "{a} °F",
    "{a}.{b} C",
    "{a}degC",
    "{a}K",
    "+{a}",
    "-{a}00",
    "{a}º",
    ".{b}",
    "–{a}.{b} °C",
    "{a} {b}",
    "{a} Grad",
    "-{a},{b} grad C",
    "-460F",
    "-459F",
)


def _some(rng: np.random.Generator, shapes: tuple[str, ...]) -> str:
    if rng.random() < 0.25:
        return "".join(str(one) for one in rng.choice(_PARTS, size=rng.integers(1, 5)))
    shape = shapes[int(rng.integers(len(shapes)))]
    return shape.format(a=int(rng.integers(0, 1000)), b=f"{int(rng.integers(0, 100))}")


def notation(rng: np.random.Generator) -> tuple[object, Callable[[], float]]:
    """A text typed into a field."""
    names = ("parseOhm", "parseReading", "parseTemperature", "parseInsulation")
    name = names[int(rng.integers(len(names)))]
    if name == "parseTemperature":
        text = _some(rng, _T_SHAPES)
        return {"name": name, "text": text}, lambda: parse_t_c(text)
    text = _some(rng, _SHAPES)
    parse = {
        "parseOhm": parse_ohm,
        "parseReading": parse_reading,
        "parseInsulation": parse_insulation,
    }[name]
    return {"name": name, "text": text}, lambda: parse(text)


def _number(rng: np.random.Generator, *, signed: bool) -> float:
    """Many halves among them: they show whether both sides round the same way."""
    size = float(10 ** rng.uniform(-6, 9))
    what = rng.random()
    if what < 0.4:
        size = float(rng.integers(0, 4000)) / float(rng.choice([2, 4, 8, 16, 32]))
    elif what < 0.6:
        size = float(f"{size:.{int(rng.integers(1, 6))}g}")
    elif what < 0.63:
        size = 0.0
    return -size if signed and rng.random() < 0.4 else size


def rounding(rng: np.random.Generator) -> tuple[object, Callable[[], object]]:
    """A number to be printed."""
    value, other = _number(rng, signed=False), _number(rng, signed=False)
    t_c = _number(rng, signed=True)
    # To hundredths these gain a digit: 9.996 is 10.00.
    carries = 10.0 ** int(rng.integers(0, 4)) - float(rng.uniform(0.001, 0.009))
    digits, decimals = int(rng.integers(1, 6)), int(rng.integers(0, 4))
    unit = "F" if rng.random() < 0.5 else "C"
    k_unit = "F" if unit == "F" else "K"
    kinds: tuple[tuple[str, list[object], Callable[[], object]], ...] = (
        ("formatOhm", [value, digits], lambda: format_ohm(value, digits=digits)),
        ("formatOhm", [value], lambda: format_ohm(value)),
        ("formatOhm", [float("inf")], lambda: format_ohm(float("inf"))),
        (
            "formatOhmTo",
            [value, 10.0**decimals],
            lambda: format_ohm_to(value, digit_ohm=10.0**decimals),
        ),
        ("formatOhmTo", [value, 0.001], lambda: format_ohm_to(value, digit_ohm=0.001)),
        ("formatOhmTo", [carries, 0.01], lambda: format_ohm_to(carries, digit_ohm=0.01)),
        ("formatOhmEnds", [value, other], lambda: format_ohm_ends(value, high_ohm=other)),
        (
            "formatOhmEnds",
            [value, value * 1.03],
            lambda: format_ohm_ends(value, high_ohm=value * 1.03),
        ),
        ("formatT", [t_c, unit, decimals], lambda: format_t(t_c, decimals=decimals, unit=unit)),
        ("formatT", [t_c], lambda: format_t(t_c)),
        ("formatK", [t_c, k_unit, digits], lambda: format_k(t_c, digits=digits, unit=k_unit)),
        ("formatK", [t_c, k_unit], lambda: format_k(t_c, unit=k_unit)),
        ("formatPercent", [t_c, digits], lambda: format_percent(t_c, digits=digits)),
        ("formatDeparture", [t_c * 1e-9], lambda: format_departure(t_c * 1e-9)),
        ("formatDeparture", [t_c], lambda: format_departure(t_c)),
        ("formatVolts", [t_c], lambda: format_volts(t_c)),
        ("significant", [t_c, digits], lambda: significant(t_c, digits=digits)),
    )
    name, asked, answer = kinds[int(rng.integers(len(kinds)))]
    return {"name": name, "asked": asked}, answer
