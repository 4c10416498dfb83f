"""What else would read so: the names of explanations, and what a board's pull-up alone reads."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

from .measured import Measured
from .plug_volts import PULL_UP_SHARE

Figures = dict[str, float | str | tuple[str, ...]]


@dataclass(frozen=True, kw_only=True)
class Explanation:
    """One other explanation.

    Parameters
    ----------
    kind : str
        "unit-slip", "factor-ten", "fahrenheit", "board-alone", "plugged-in", "other-curve",
        "series-resistance", "leak", "drift", "warmer", "exchanged"; or "several", where the
        readings do not tell its `causes` apart.
    t_implied_c : float or None
        What the reading would mean then, in °C; None where it says nothing of the sensor.
    error_k : float or None
        How far that is from the temperature measured, in K; None where none was, or none is meant.
    figures : dict
        The numbers special to this kind: `times`, `curve`, `curves`, `sensor_ohm`, `pull_up_ohm`,
        `series_ohm`, `leak_ohm`, `at_c`.
    causes : tuple of Explanation
        Of "several": the likeliest first, but a drift last.
    """

    kind: str
    t_implied_c: float | None = None
    error_k: float | None = None
    figures: Figures = field(default_factory=dict)
    causes: tuple[Explanation, ...] = ()


TIMES: Mapping[float, str] = {
    1000.0: "unit-slip",
    0.001: "unit-slip",
    10.0: "factor-ten",
    0.1: "factor-ten",
}
"""What the reading must be multiplied by → the kind of slip: kΩ or Ω, a decimal point."""


def is_pull_up(measured: Measured, *, pull_up_ohm: float | None) -> bool:
    """Whether a reading may be the board's pull-up and nothing beside it.

    Notes
    -----
    So near to it a sensor in parallel is told from none by the meter's last digits alone: whatever
    it would stand for is no finding. A pull-up is known within `PULL_UP_SHARE`.
    """
    if pull_up_ohm is None:
        return False
    reach_ohm = measured.meter_half_ohm + PULL_UP_SHARE * pull_up_ohm
    return abs(measured.r_ohm - pull_up_ohm) <= reach_ohm


def board_alone(measured: Measured, *, pull_up_ohm: float | None) -> Iterator[Explanation]:
    """Yield that the sensor is open and still plugged in, where the reading is the pull-up."""
    if pull_up_ohm is not None and is_pull_up(measured, pull_up_ohm=pull_up_ohm):
        yield Explanation(kind="board-alone", figures={"pull_up_ohm": pull_up_ohm})
