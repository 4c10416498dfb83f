"""A lamp that blinks a code: how long it is lit and dark, never faster than eyes can bear."""

from __future__ import annotations

from dataclasses import dataclass

MOST_FLASHES_HZ = 3.0
"""More flashes in a second can bring on a fit. Source: WCAG 2.2, success criterion 2.3.1."""
SLOWER = 0.8
"""How near to that a lamp of ours may come at most. Own choice, no source."""


@dataclass(frozen=True, kw_only=True)
class Pace:
    """How a machine's lamp blinks, in seconds; without an entry's word, our own, no source.

    Parameters
    ----------
    long_s, short_s : float
        How long it is lit for a long and for a short blink.
    dark_s : float
        How long it is dark between two of them.
    pause_s : float
        How long it is dark before it begins again.
    """

    long_s: float = 1.2
    short_s: float = 0.4
    dark_s: float = 0.4
    pause_s: float = 3.0


def lamp_bars(long: int, *, short: int, pace: Pace) -> tuple[tuple[float, float], ...]:
    """Return seconds lit and seconds dark after it, blink for blink, long ones first.

    A lamp that would flash too fast is slowed down as a whole: long stays long beside short.
    """
    least_s = 1 / (MOST_FLASHES_HZ * SLOWER)
    slower = max(1.0, least_s / (min(pace.long_s, pace.short_s) + pace.dark_s))
    lit_s = [pace.long_s] * long + [pace.short_s] * short
    last = len(lit_s) - 1
    return tuple(
        (on_s * slower, (pace.pause_s if place == last else pace.dark_s) * slower)
        for place, on_s in enumerate(lit_s)
    )
