"""How fast the laws are: a million evaluations and inversions each, beside reference libraries.

Run it by hand: python tests/bench/bench_laws.py. It asserts nothing; it prints ratios, since a
ratio on one machine says more than seconds on another.
"""

from __future__ import annotations

import time
from collections.abc import Callable

import numpy as np
from rtd_sensor import ni1000, ni1000_tk5000, pt100
from scipy.interpolate import PchipInterpolator
from thermistor_utils.Beta_converter import Beta_converter
from thermistor_utils.SH_converter import SH_converter

from kb.numbers.characteristic import Characteristic
from kb.numbers.grid import compile_grid
from kb.numbers.kelvin import kelvin
from kb.numbers.law import Law
from kb.numbers.nickel import Nickel
from kb.numbers.ntc_beta import NtcBeta
from kb.numbers.ntc_polynomial import NtcPolynomial
from kb.numbers.platinum import Platinum
from kb.numbers.point_table import PointTable
from kb.numbers.steinhart_hart import SteinhartHart
from kb.numbers.winding_metal import WindingMetal

COUNT = 1_000_000
SINGLES = 20_000
"""Libraries that take one number at a time get so many, and the time is scaled up."""

Way = Callable[[object], object]


def seconds(way: Way, values: np.ndarray, *, best_of: int = 3) -> float:
    """Return the best time over all values at once."""
    times = []
    for _ in range(best_of):
        start = time.perf_counter()
        way(values)
        times.append(time.perf_counter() - start)
    return min(times)


def one_by_one(way: Way) -> Way:
    """Return a way over arrays for a library that takes single numbers, at SINGLES of them."""
    return lambda values: [way(float(value)) for value in values[:SINGLES]]


def references() -> dict[str, tuple[Way | None, Way | None, float]]:
    """Return name → (evaluate, invert, how many times slower per value than it was timed)."""
    beta, sh = Beta_converter.from_beta(3977, 10e3), SH_converter(1.12915e-3, 2.34125e-4, 8.7674e-8)
    scale = COUNT / SINGLES
    t_c, r_ohm = np.array(TABLE.points).T
    # scipy joins the swapped table for the way back: close to an inverse, and no root to find.
    pchip = PchipInterpolator((1 / kelvin(t_c))[::-1], np.log(r_ohm)[::-1])
    back = PchipInterpolator(np.log(r_ohm)[::-1], (1 / kelvin(t_c))[::-1])
    return {
        "platinum": (
            one_by_one(pt100.celsius_to_resistance),
            one_by_one(pt100.resistance_to_celsius),
            scale,
        ),
        "nickel 6180": (
            one_by_one(ni1000.celsius_to_resistance),
            one_by_one(ni1000.resistance_to_celsius),
            scale,
        ),
        "nickel 5000": (
            one_by_one(ni1000_tk5000.celsius_to_resistance),
            one_by_one(ni1000_tk5000.resistance_to_celsius),
            scale,
        ),
        "B value": (one_by_one(beta.resistance), one_by_one(beta.temperature), scale),
        "Steinhart-Hart": (one_by_one(sh.resistance), one_by_one(sh.temperature), scale),
        "table": (
            lambda t: np.exp(pchip(1 / kelvin(t))),
            lambda r: 1 / back(np.log(r)) - 273.15,
            1.0,
        ),
    }


POLYNOMIAL = NtcPolynomial(r_ref=10e3, a=-14.6337, b=4791.842, c=-115334, d=-3730535)
TABLE = PointTable(points=tuple((float(t), float(POLYNOMIAL.r_ohm(t))) for t in range(-40, 126, 5)))
LAWS: dict[str, Law] = {
    "platinum": Platinum(r0=100),
    "nickel 6180": Nickel(ppm_per_k=6180),
    "nickel 5000": Nickel(ppm_per_k=5000),
    "B value": NtcBeta(r_ref=10e3, b_k=3977),
    "Steinhart-Hart": SteinhartHart(a=1.12915e-3, b=2.34125e-4, c=8.7674e-8),
    "polynomial": POLYNOMIAL,
    "table": TABLE,
    "winding": WindingMetal(r_ref=2.4),
    "compiled grid": compile_grid(Characteristic(law=TABLE, low_c=-40, high_c=125)),
}


def main() -> None:
    """Print one line for each law: seconds for a million, and how the reference compares."""
    theirs = references()
    rng = np.random.default_rng(0)
    print(f"{COUNT:,} values; a reference that takes one number at a time is timed on {SINGLES:,}")
    print(f"{'law':<16}{'evaluate':>10}{'ref ÷ ours':>12}{'invert':>10}{'ref ÷ ours':>12}")
    for name, law in LAWS.items():
        t_c = rng.uniform(-39, 124, COUNT)
        r_ohm = np.asarray(law.r_ohm(t_c))
        there, back = seconds(law.r_ohm, t_c), seconds(law.t_c, r_ohm)
        line = f"{name:<16}{there:>9.3f}s{'':>12}{back:>9.3f}s"
        if name in theirs:
            evaluate, invert, scale = theirs[name]
            r1 = scale * seconds(evaluate, t_c, best_of=1) / there
            r2 = scale * seconds(invert, r_ohm, best_of=1) / back
            line = f"{name:<16}{there:>9.3f}s{r1:>11.1f}x{back:>9.3f}s{r2:>11.1f}x"
        print(line)


if __name__ == "__main__":
    main()
