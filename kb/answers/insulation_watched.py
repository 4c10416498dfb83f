"""What was watched while the test voltage stood: before the minute was over, and long after."""

from __future__ import annotations

import math
from dataclasses import dataclass

from kb.numbers.insulation_trend import LEAST_RATIO, RATIO_BELOW_OHM, TRENDS, ratio_state, trend_of

from .insulation_tested import InsulationFacts, Tested, typed_insulation_ohm
from .statement import Statement


@dataclass(frozen=True, kw_only=True)
class Watched:
    """How the reading moved.

    Parameters
    ----------
    trend : str
        One of TRENDS; "" where nobody watched, or all was over range.
    ratio : float or None
        Ten minutes to one.
    ratio_says : str
        "good", "low", "falling", "above", "small", "hermetic"; "" where there is none.
    """

    trend: str = ""
    ratio: float | None = None
    ratio_says: str = ""


def watched(
    part: InsulationFacts,
    *,
    test: Tested,
    early: tuple[str, str],
    late: str,
    trend: str,
    at_40_ohm: float | None,
) -> Watched:
    """Return how the reading moved.

    Parameters
    ----------
    early : (text, text)
        What it showed after 15 and after 30 seconds; the first that is given counts.
    late : str
        What it showed after ten minutes.
    trend : str
        One of TRENDS as seen, where no figure was written down.
    at_40_ohm : float or None
        The minute's reading at 40 °C.

    Raises
    ------
    Refusal
        Where one cannot be read.
    """
    shown = [
        _shown(text, field=field, test=test)
        for text, field in zip((*early, late), ("at-15s", "at-30s", "at-10min"), strict=True)
    ]
    *first, late_ohm = shown
    minute_ohm = math.inf if test.over_range else test.r_ohm
    early_ohm = next((r_ohm for r_ohm in first if r_ohm is not None), None)
    seen = trend if trend in TRENDS else ""
    moved = seen if early_ohm is None else trend_of(early_ohm, minute_ohm=minute_ohm)
    if late_ohm is None or not 0 < minute_ohm < math.inf or math.isinf(late_ohm):
        return Watched(trend=moved)
    says = "hermetic" if part.hermetic else "" if part.form_wound else "small"
    if not says:
        # Without a temperature it is held as read.
        brought_ohm = minute_ohm if at_40_ohm is None else at_40_ohm
        says = ratio_state(minute_ohm, late_ohm=late_ohm, minute_at_40_ohm=brought_ohm)
    return Watched(trend=moved, ratio=late_ohm / minute_ohm, ratio_says=says)


def _shown(text: str, *, field: str, test: Tested) -> float | None:
    if not text.strip():
        return None
    r_ohm = typed_insulation_ohm(text, field=field)
    return math.inf if r_ohm > test.most_ohm else r_ohm


def trend_note(seen: Watched, *, state: str) -> list[Statement]:
    """Return what rising or standing still says of a reading with that verdict."""
    if seen.trend not in ("rising", "flat"):
        return []
    enough = "" if state in ("within", "") else "-low"
    return [Statement(id=f"insulation.{seen.trend}{enough}")]


def ratio_note(seen: Watched) -> list[Statement]:
    """Return what the ratio says, or why it says little."""
    if seen.ratio is None:
        return []
    figures = {"ratio_share": seen.ratio, "least_share": LEAST_RATIO, "above_ohm": RATIO_BELOW_OHM}
    return [Statement(id=f"insulation.ratio-{seen.ratio_says}", figures=figures)]
