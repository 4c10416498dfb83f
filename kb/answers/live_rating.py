"""Live work at a plug: whether the meter may be held to what can stand there, before it is."""

from __future__ import annotations

from .instruments import Kit, Tools
from .plug_volts import typed_volts
from .sensor_facts import SensorFacts
from .statement import Refusal, Statement

WIRED_IN_V = 400.0
"""What can stand in a machine of which nobody says it: volts between lines of the usual supply in
Europe (IEC 60038, from memory)."""


def unrated_meter(
    sensor: SensorFacts, *, tools: Tools, kit: Kit, typed: tuple[str, ...] = ()
) -> Statement | None:
    """Return that a meter may not be held to this plug; None if it may, or if none is named.

    Not what the board feeds decides, but what a tip can slip to with the cover off: the most that
    stands in the machine.

    Parameters
    ----------
    typed : tuple of str
        Volts as typed, read or not: where more was found there than the notes know, that counts.

    Notes
    -----
    Source: IEC 61010-2-033 (a meter is held to nothing above what is printed beside its sockets,
    nor in a higher category), from memory.
    """
    if tools.meter is None:
        return None
    live_v = max([sensor.live_v or WIRED_IN_V, *(_read_v(text) for text in typed)])
    if tools.meter.rated_v >= live_v:
        return None
    rated = [meter.name for meter in kit.meters if meter.rated_v >= live_v]
    return Statement(
        id="volts.unrated" if rated else "volts.unrated-all",
        figures={"instrument": tools.meter.name, "live_v": live_v, "instruments": tuple(rated)},
    )


def _read_v(text: str) -> float:
    try:
        return typed_volts(text, field="volts")[0]
    except Refusal:
        return 0.0
