"""Numbers that read without complaint and are hardly meant: a wrong unit, another part's B."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from kb.characteristics import characteristic_of, law_of
from kb.laws import LAWS
from kb.model import Curve
from kb.model.curve import TableCurve
from kb.notes.load import Notes
from kb.notes.problem import Problem
from kb.numbers.grid import compile_grid
from kb.numbers.law import Law
from kb.numbers.ntc_beta import b_value_k
from kb.numbers.number_column import LEAST_NTC_OHM, MOST_NTC_OHM, NTC_AT_C
from kb.numbers.rounding import format_ohm, format_plain, format_whole

from .curves import LEAST_OHM, MOST_OHM

# A maker's B25/50 and B25/100 of one part differ by 2 to 4 % (from memory): past this it is of
# another part, or a digit is gone.
B_MAY_DIFFER = 0.10


def tables_are_in_ohms(curve: Curve, *, notes: Notes) -> Iterator[Problem]:
    """Warn of a table whose column was probably printed in kΩ and copied without the k."""
    if not isinstance(curve, TableCurve):
        return
    suspicion = _as_kilohms(curve)
    if suspicion:
        yield notes.problem(
            curve,
            ("points",),
            "units",
            f"{suspicion}: is the column in kΩ?",
            hint="write the k on each row, as in '25: 10.0k', or an R for ohms, as in '25: 10R'",
            key=True,
            warning=True,
        )


def _as_kilohms(curve: TableCurve) -> str:
    printed = [row.printed.strip() for row in curve.points]
    plain = [text.replace(",", ".") for text in printed]
    if not all(
        text.replace(".", "", 1).isascii() and text.replace(".", "", 1).isdigit() for text in plain
    ):
        return ""
    if all(len(text.partition(".")[2]) == 3 for text in plain):
        return f"every row has three decimals and no letter, as {printed[0]} has"
    law = _law(curve)
    if law is None or not law.falling:
        return ""
    t_c = float(np.clip(25.0, *curve.range_c))
    r_ohm = float(law.r_ohm(t_c))
    if r_ohm >= LEAST_NTC_OHM:
        return ""
    return (
        f"at {format_plain(t_c)} °C this falling table reads {format_ohm(r_ohm)}, which no NTC "
        "sensor does"
    )


def ntcs_read_as_sensors_do(curve: Curve, *, notes: Notes) -> Iterator[Problem]:
    """Warn of a falling curve that reads at 25 °C what no NTC sensor does, unless as kΩ above."""
    law = _law(curve)
    if law is None or not law.falling:
        return
    if not curve.range_c[0] <= NTC_AT_C <= curve.range_c[1]:
        return
    r_ohm = float(law.r_ohm(NTC_AT_C))
    if not LEAST_OHM <= r_ohm <= MOST_OHM:
        return  # told as a resistance that nothing has
    less = r_ohm < LEAST_NTC_OHM and not isinstance(curve, TableCurve)
    if less or r_ohm > MOST_NTC_OHM:
        yield notes.problem(
            curve,
            ("points" if isinstance(curve, TableCurve) else "law",),
            "ntc-odd",
            f"at {format_plain(NTC_AT_C)} °C this falling curve reads {format_ohm(r_ohm)}, and "
            f"hardly an NTC sensor is {'below' if less else 'above'} "
            f"{format_ohm(LEAST_NTC_OHM if less else MOST_NTC_OHM, digits=1)} there",
            hint="look for a k that is missing, or one too many",
            key=True,
            warning=True,
        )


def b_is_the_curves_own(curve: Curve, *, notes: Notes) -> Iterator[Problem]:
    """Warn of a tolerance whose B value is not the one that its curve has."""
    tolerance = curve.tolerance
    if tolerance is None or tolerance.b_k is None:
        return
    law = _law(curve)
    if law is None or not law.falling:
        return
    low_c = max(curve.range_c[0], min(tolerance.grows_from_c, curve.range_c[1] - 25))
    high_c = min(curve.range_c[1], low_c + 25)
    own_k = b_value_k(
        r1_ohm=float(law.r_ohm(low_c)), t1_c=low_c, r2_ohm=float(law.r_ohm(high_c)), t2_c=high_c
    )
    if abs(tolerance.b_k - own_k) > B_MAY_DIFFER * own_k and _computes(curve):
        yield notes.problem(
            curve,
            ("tolerance", "b_k"),
            "other-b",
            f"from {format_plain(low_c)} to {format_plain(high_c)} °C this curve's own B value "
            f"is {format_whole(own_k)} K, "
            f"not {format_plain(tolerance.b_k)} K",
            hint="b_k is the B value of this very part, which b_percent is of",
            warning=True,
        )


def _computes(curve: Curve) -> bool:
    """False for a curve with a kink: its B value is then the misprint's."""
    try:
        with np.errstate(all="ignore"):
            characteristic = characteristic_of(curve)
            if characteristic is not None:
                compile_grid(characteristic)
    except ValueError:
        return False
    return characteristic is not None


def _law(curve: Curve) -> Law | None:
    """Return the law of a curve that computes over its range; its own problem says why not."""
    if LAWS[curve.law].curve is None:
        return None
    try:
        law = law_of(curve)
        law.r_ohm(np.array(curve.range_c))
    except ValueError:
        return None
    return law
