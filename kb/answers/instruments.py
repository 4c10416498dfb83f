"""The instruments that a question names: they compute, and they have a name to be said."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace

from kb.numbers.measured import Measured, taken
from kb.numbers.meter import Meter
from kb.numbers.out_of_range import OutOfRange
from kb.numbers.placement import PLACEMENTS
from kb.numbers.thermometer import Thermometer

from .statement import Refusal, Statement


@dataclass(frozen=True, kw_only=True)
class NamedTool:
    """An instrument of the team's: its id, and what it is called."""

    id: str
    name: str


@dataclass(frozen=True, kw_only=True)
class NamedMeter(NamedTool):
    """A meter of the team's.

    Parameters
    ----------
    rated_v : float
        The most volts its tips may be held to in a machine that is wired in; 0 for none.
    """

    meter: Meter
    rated_v: float = 0.0


@dataclass(frozen=True, kw_only=True)
class NamedThermometer(NamedTool):
    """A thermometer of the team's."""

    thermometer: Thermometer


@dataclass(frozen=True, kw_only=True)
class Way:
    """One change that alone would decide: the term of the budget, and the instrument for it."""

    term: str
    id: str
    name: str


@dataclass(frozen=True, kw_only=True)
class Kit:
    """What the team carries, its usual ones first."""

    meters: Sequence[NamedMeter] = field(default=())
    thermometers: Sequence[NamedThermometer] = field(default=())


@dataclass(frozen=True, kw_only=True)
class Tools:
    """What one reading was taken with, and how the temperature was taken.

    Parameters
    ----------
    meter, thermometer : or None
        Without one its error counts as nothing: whoever shows the answer says so.
    placement : str
        A name of PLACEMENTS, or "sister"; "" where nobody said how the temperature was taken.
    placement_assumed : bool
        True where it was not said and a default was taken: whoever shows the answer says so.
    sister, sister_curve : str
        What the meter shows on a sister in the same cup, as typed, and which of the family's other
        curves that one is on; "" for the sensor's own.
    """

    meter: NamedMeter | None
    thermometer: NamedThermometer | None
    placement: str
    placement_assumed: bool = False
    sister: str = ""
    sister_curve: str = ""

    def shown(self, shown_ohm: float) -> Measured:
        """Return a reading with the meter's errors, yet without a temperature."""
        meter = self.meter.meter if self.meter else None
        bare = taken(shown_ohm, t_c=0.0, meter=meter)
        return replace(bare, placement_half_k=0.0)

    def taken_at(self, shown: Measured, *, t_c: float, placement: str) -> Measured:
        """Return what was shown with its temperature, as taken by this thermometer.

        Where nature sets the temperature the thermometer says nothing that is not known better.

        Raises
        ------
        Refusal
            If the thermometer does not reach that temperature.
        """
        half_k, place = 0.0, PLACEMENTS[placement]
        if self.thermometer and not place.is_fixed(t_c):
            try:
                half_k = float(self.thermometer.thermometer.half_width_k(t_c))
            except OutOfRange as error:
                figures = {
                    "instrument": self.thermometer.name,
                    "t_c": t_c,
                    "low_c": error.low,
                    "high_c": error.high,
                }
                statement = Statement(id="field.beyond-thermometer", figures=figures)
                raise Refusal(statement, field="thermometer") from None
        return replace(
            shown, t_c=t_c, thermometer_half_k=half_k, placement_half_k=place.half_width_k
        )

    def take(self, shown_ohm: float, *, t_c: float) -> Measured:
        """Return a reading with the half-widths of these tools.

        Raises
        ------
        Refusal
            If the thermometer does not reach that temperature, or nobody said how it was taken.
        """
        if not self.placement:
            raise Refusal(Statement(id="field.placement-missing"), field="how", missing=True)
        return self.taken_at(self.shown(shown_ohm), t_c=t_c, placement=self.placement)
