"""From an instrument entry to something that tells how far its readings may be off."""

from __future__ import annotations

from kb.model import Instrument
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
                span_ohm=scale.span,
                resolution_ohm=scale.resolution,
                percent=scale.percent,
                digits=scale.digits,
            )
            for scale in instrument.resistance
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
    accuracy = instrument.temperature
    if accuracy is None:
        raise ValueError(f"{instrument.name} reads no temperature; name a thermometer")
    return Thermometer(
        accuracy_k=accuracy.accuracy_k,
        percent=accuracy.percent,
        resolution_k=accuracy.resolution_k,
        low_c=accuracy.range_c[0],
        high_c=accuracy.range_c[1],
        id=instrument.id,
    )
