"""A drill on a display: how many ohms it shows, and how far off they may be."""

from __future__ import annotations

import math

from kb.numbers.meter import OhmRange
from kb.numbers.rounding import meter_display
from kb.numbers.seeded import Seeded

from .drill import Drill
from .drill_notes import DrillNotes
from .instruments import NamedMeter
from .statement import Statement

OVER_ONE_IN = 6
"""So often it is over range: often enough to be known when it comes."""
OVER_SHOWS = "OL"
"""What a meter shows over range where its entry does not say."""


def to_read(notes: DrillNotes) -> list[NamedMeter]:
    """Return the team's meters."""
    return list(notes.meters)


def display_of_meter(named: NamedMeter, *, notes: DrillNotes, draw: Seeded) -> Drill:
    """Return: read this display."""
    ranges = named.meter.ranges
    place = draw.below(len(ranges))
    used = ranges[place]
    over = draw.below(OVER_ONE_IN) == 0
    # Below the span of the range before it, the meter would have taken that one.
    low_ohm = ranges[place - 1].span_ohm if place else used.span_ohm / 20
    drawn_ohm = draw.between(low_ohm, high=used.span_ohm)
    steps = math.floor(drawn_ohm / used.resolution_ohm + 0.5)
    shown_ohm = min(steps * used.resolution_ohm, used.span_ohm)
    shown, unit = meter_display(shown_ohm, span_ohm=used.span_ohm, digit_ohm=used.resolution_ohm)
    half_ohm = float(used.half_width_ohm(shown_ohm))
    figures = {"shown_ohm": shown_ohm, "half_ohm": half_ohm, "digit_ohm": used.resolution_ohm}
    accuracy = {
        "span": " ".join(
            meter_display(used.span_ohm, span_ohm=used.span_ohm, digit_ohm=used.span_ohm)
        ),
        "percent": used.percent,
        "digits": used.digits,
        "digit_ohm": used.resolution_ohm,
    }
    if over:
        figures = {"shown_ohm": math.inf, "half_ohm": math.inf, "digit_ohm": used.resolution_ohm}
        shown = notes.over_shows.get(named.id) or OVER_SHOWS
    return Drill(
        kind="meter",
        form="display",
        family="",
        about=f"instruments/{named.id}",
        ask=Statement(id="drill.ask-meter", figures={"meter": named.name}),
        given=(Statement(id="drill.given-meter", figures=accuracy),),
        shown=(shown, unit),
        figures=figures,
        because=_because(f"{shown} {unit}", used=used, half_ohm=half_ohm)
        if not over
        else (Statement(id="drill.because-over", figures={"shown": shown}),),
    )


def _because(shown: str, *, used: OhmRange, half_ohm: float) -> tuple[Statement, ...]:
    """Return the working of a reading."""
    figures = {
        "percent": used.percent,
        "digits": used.digits,
        "digit_ohm": used.resolution_ohm,
        "half_ohm": half_ohm,
    }
    return (
        Statement(id="drill.because-meter", figures={"shown": shown}),
        Statement(id="drill.because-half", figures=figures),
    )
