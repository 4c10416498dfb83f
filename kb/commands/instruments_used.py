"""What a reading was taken with: the instruments named, or those the team carries."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import TypeVar

import click

from kb.answers.instruments import Tools
from kb.catalog import Catalog
from kb.facts import named_meter, named_thermometer
from kb.instruments import meter_of, meters, thermometer_of, thermometers
from kb.model import Instrument
from kb.notes.load import TEAM_FILE, Notes
from kb.notes.problem import nearest
from kb.numbers.measured import Measured, taken
from kb.numbers.meter import Meter
from kb.numbers.out_of_range import OutOfRange
from kb.numbers.placement import PLACEMENTS, Placement
from kb.numbers.thermometer import Thermometer
from kb.words.catalogue import name_of

from .arguments import Temperature
from .options import NoAnswer, NotUnderstood, read_entry

Command = TypeVar("Command", bound=Callable[..., object])


@dataclass(frozen=True, kw_only=True)
class Used:
    """Meter, thermometer and how the temperature was taken."""

    meter_entry: Instrument
    thermometer_entry: Instrument
    placement: Placement

    @property
    def meter(self) -> Meter:
        """The meter, ready to compute."""
        return meter_of(self.meter_entry)

    @property
    def thermometer(self) -> Thermometer:
        """The thermometer, ready to compute."""
        return thermometer_of(self.thermometer_entry)

    def took(self, r_ohm: float, *, at: Temperature) -> Measured:
        """Return a reading with the half-widths of these instruments.

        Raises
        ------
        NoAnswer
            If the thermometer does not reach that temperature.
        """
        try:
            return taken(
                r_ohm,
                t_c=at.t_c,
                meter=self.meter,
                thermometer=self.thermometer,
                placement=self.placement,
            )
        except OutOfRange as error:
            raise NoAnswer(
                f"{self.thermometer_entry.name} reads from {at.degrees(error.low)} to "
                f"{at.degrees(error.high)}, not {at}; name another with --thermometer"
            ) from None

    def said(self) -> str:
        """Return what it was taken with, in words."""
        how = name_of("placement", name=self.placement.name, form="said")
        return f"{self.meter_entry.name}; {self.thermometer_entry.name}, {how}"


def meter_option(command: Command) -> Command:
    """Add `--meter ID`."""
    return click.option(
        "--meter", metavar="ID", help="The meter used; by default the one the team carries."
    )(command)


def thermometer_option(command: Command) -> Command:
    """Add `--thermometer ID`."""
    return click.option(
        "--thermometer",
        metavar="ID",
        help="The thermometer used; by default the one the team carries.",
    )(command)


def instruments_options(command: Command) -> Command:
    """Add `--meter`, `--thermometer` and `--placement`."""
    command = click.option(
        "--placement",
        type=click.Choice(list(PLACEMENTS)),
        default="held-on",
        show_default=True,
        help="How the temperature was taken.",
    )(command)
    return meter_option(thermometer_option(command))


def used(
    notes: Notes, *, meter: str | None, thermometer: str | None, placement: str = "held-on"
) -> Used:
    """Return the instruments of those ids, or the team's own.

    Raises
    ------
    NotUnderstood
        When there is none of that id, or it reads something else.
    NoAnswer
        When its entry cannot be read, or the notes do not say what the team carries.
    """
    return Used(
        meter_entry=meter_named(notes, meter),
        thermometer_entry=_named(
            notes,
            thermometer,
            what="thermometer",
            reads="temperature",
            own=notes.team.thermometer if notes.team else None,
            fit=thermometers(notes),
        ),
        placement=PLACEMENTS[placement],
    )


def tools_named(
    catalog: Catalog, *, meter: str | None, thermometer: str | None, placement: str = "held-on"
) -> Tools:
    """Return the tools of those ids, or the team's own.

    Raises
    ------
    NotUnderstood
        When there is none of that id, or it reads something else.
    NoAnswer
        When its entry cannot be read, or the notes do not say what the team carries.
    """
    team = catalog.notes.team
    reads_ohm = named_meter(meter_named(catalog.notes, meter))
    probe = _named(
        catalog.notes,
        thermometer,
        what="thermometer",
        reads="temperature",
        own=team.thermometer if team else None,
        fit=catalog.thermometers(),
    )
    return Tools(meter=reads_ohm, thermometer=named_thermometer(probe), placement=placement)


def tools_words(tools: Tools) -> str:
    """Return what a reading was taken with, in words."""
    names = [tool.name for tool in (tools.meter, tools.thermometer) if tool is not None]
    return f"{'; '.join(names)}, {name_of('placement', name=tools.placement, form='said')}"


def meter_named(notes: Notes, meter: str | None) -> Instrument:
    """Return the meter of that id, or the team's own; raises as `used`."""
    return _named(
        notes,
        meter,
        what="meter",
        reads="resistance",
        own=notes.team.meter if notes.team else None,
        fit=meters(notes),
    )


def _named(
    notes: Notes, told: str | None, *, what: str, reads: str, own: str | None, fit: list[Instrument]
) -> Instrument:
    if told is None and own is None:
        raise NoAnswer(
            f"{TEAM_FILE} does not say which {what} the team carries; name one with --{what}"
        )
    entry_id = told or own or ""
    ids = [one.id for one in fit]
    if not notes.knows("instruments", entry_id):
        raise NotUnderstood(f"no instrument is called '{entry_id}'; {nearest(entry_id, ids)}")
    entry = read_entry(notes, model=Instrument, entry_id=entry_id)
    if entry_id not in ids:
        raise NotUnderstood(f"{entry.name} reads no {reads}; {nearest('', ids)}")
    return entry
