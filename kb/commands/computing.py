"""A curve ready to compute, or the sentence that says why there is none."""

from __future__ import annotations

from kb.characteristics import characteristic_of
from kb.model import Curve, Sensor
from kb.numbers.characteristic import Characteristic

from .options import NoAnswer


def computing(curve: Curve) -> Characteristic:
    """Return a curve ready to compute, or NoAnswer with what to do."""
    try:
        found = characteristic_of(curve)
    except ValueError as error:
        raise NoAnswer(
            f"the curve '{curve.id}' does not compute: {error}; see 'ohmfolio check'"
        ) from None
    if found is None:
        raise NoAnswer(
            f"'{curve.id}' is a switching PTC: it has limits and no curve; "
            "see 'ohmfolio expect' and 'ohmfolio judge'"
        )
    return found


def refuse_untestable(sensor: Sensor | None) -> None:
    """Raise NoAnswer for a sensor that no meter may judge, with why and what to do instead."""
    if sensor is not None and sensor.untestable is not None:
        raise NoAnswer(
            f"the sensor '{sensor.id}' has no test. {sensor.untestable.why} "
            f"{sensor.untestable.instead}"
        )
