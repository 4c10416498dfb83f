"""From an instrument entry to something that tells how far its readings may be off."""

from __future__ import annotations

from kb.model import Instrument
from kb.notes.load import Notes
from kb.numbers.meter import Meter, OhmRange
from kb.numbers.thermometer import Thermometer


def meter_of(instrument: Instrument) -> Meter:
    """Return the entry's resistance ranges as a meter.

    Raises
    ------
    ValueError
        If the instrument reads no resistance.
    """
    return Meter(
        ranges=tuple(
            OhmRange(
                span_ohm=one.span,
                resolution_ohm=one.resolution,
                percent=one.percent,
                digits=one.digits,
            )
            for one in instrument.resistance
        ),
        leads_ohm=instrument.leads_ohm,
        id=instrument.id,
    )


def thermometer_of(instrument: Instrument) -> Thermometer:
    """Return the entry's accuracy as a thermometer.

    Raises
    ------
    ValueError
        If the instrument reads no temperature.
    """
    what = instrument.temperature
    if what is None:
        raise ValueError(f"{instrument.name} reads no temperature; name a thermometer")
    return Thermometer(
        accuracy_k=what.accuracy_k,
        percent=what.percent,
        resolution_k=what.resolution_k,
        low_c=what.range_c[0],
        high_c=what.range_c[1],
        id=instrument.id,
    )


def meters(notes: Notes) -> list[Instrument]:
    """Return the instruments that read resistance, the team's own first, then by name."""
    found = [one for one in notes.of(Instrument).values() if one.resistance]
    return _own_first(found, notes.team.meter if notes.team else "")


def thermometers(notes: Notes) -> list[Instrument]:
    """Return the instruments that read temperature, the team's own first, then by name."""
    found = [one for one in notes.of(Instrument).values() if one.temperature]
    return _own_first(found, notes.team.thermometer if notes.team else "")


def _own_first(found: list[Instrument], own: str) -> list[Instrument]:
    return sorted(found, key=lambda one: (one.id != own, one.name.casefold(), one.id))
