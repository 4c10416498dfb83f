"""The instruments that a question names: they compute, and they have a name to be said."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

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
    """A meter of the team's."""

    meter: Meter


@dataclass(frozen=True, kw_only=True)
class NamedThermometer(NamedTool):
    """A thermometer of the team's."""

    thermometer: Thermometer


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
        A name of PLACEMENTS.
    """

    meter: NamedMeter | None
    thermometer: NamedThermometer | None
    placement: str

    def take(self, shown_ohm: float, *, t_c: float) -> Measured:
        """Return a reading with the half-widths of these tools.

        Raises
        ------
        Refusal
            If the thermometer does not reach that temperature.
        """
        try:
            return taken(
                shown_ohm,
                t_c=t_c,
                meter=self.meter.meter if self.meter else None,
                thermometer=self.thermometer.thermometer if self.thermometer else None,
                placement=PLACEMENTS[self.placement],
            )
        except OutOfRange as error:
            name = self.thermometer.name if self.thermometer else ""
            figures = {"instrument": name, "t_c": t_c, "low_c": error.low, "high_c": error.high}
            statement = Statement(id="field.beyond-thermometer", figures=figures)
            raise Refusal(statement, field="thermometer") from None
