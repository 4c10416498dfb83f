"""A verdict in words: one plain sentence first, the figures under it, then what to do."""

from __future__ import annotations

import textwrap
from typing import TYPE_CHECKING

from kb.numbers.rounding import format_ohm, format_ohm_span, format_volts
from kb.numbers.switching_ptc import TEST_VOLTS_MAX

from .arguments import aligned
from .explanation_words import explanation_words

if TYPE_CHECKING:
    from .instruments_used import Used
    from .judged import Judged, JudgedLoop
    from .settled import Settles

WIDE = 88
VERDICT = {
    "within": "Within limits",
    "outside": "Outside limits",
    "undecided": "Not decided",
    "open": "Open circuit",
    "short": "Short circuit",
    "off-curve": "Off the curve",
}
TERM = {
    "meter": "the meter",
    "thermometer": "the thermometer",
    "placement": "how the temperature was taken",
}
SAFE = (
    "A sensor is measured with its plug off and the machine isolated, locked off and proved dead. "
    "The maker's instructions, local codes and licensed practice come first."
)


_LEADS_COUNT = 1e-3
"""Leads below this share of a reading change nothing that is printed."""


def verdict_words(one: Judged, *, settles: Settles | None) -> str:
    """Return the whole answer for a terminal."""
    parts = [
        wrapped(f"{VERDICT[one.verdict.verdict]}: {_why(one)}"),
        "\n".join([one.asked.heading(), *aligned(_figures(one))]),
        wrapped(_settling(one, settles)) if settles else "",
        _explanations(one),
        _next(one),
        wrapped(SAFE),
    ]
    return "\n\n".join(part for part in parts if part)


def wrapped(text: str, *, lead: str = "", hang: str = "") -> str:
    """Return text in lines that a terminal shows whole."""
    return textwrap.fill(text, WIDE, initial_indent=lead, subsequent_indent=hang)


def _why(one: Judged) -> str:
    v, at = one.verdict, one.at
    band = format_ohm_span(v.low_ohm, v.high_ohm) if v.limit_known else format_ohm(v.low_ohm)
    if v.verdict == "open":
        return f"over range, where a good part reads {band}. Sensor, lead or plug is broken."
    if v.verdict == "short":
        return (
            f"{format_ohm(one.shown_ohm)} is almost nothing. Two wires touch, or water "
            "bridges them."
        )
    if v.verdict == "off-curve":
        low, high = at.degrees(one.curve.low_c), at.degrees(one.curve.high_c)
        return (
            f"no part on this curve reads {format_ohm(one.shown_ohm)} anywhere from {low} "
            f"to {high}."
        )
    if v.t_implied_c is None:
        return (
            f"over range on {one.used.meter_entry.name}, but a good part may be beyond it at "
            f"{at}. Take a meter that reaches further."
        )
    side = "colder" if v.error_k < 0 else "hotter"
    reads = f"it reads as at {at.degrees(v.t_implied_c)}, {at.apart(v.error_k)} {side} than the"
    reads = f"{reads} {at} measured"
    if v.verdict == "within":
        return f"{reads}; that is allowed."
    if v.verdict == "outside":
        return f"{reads}; more than is allowed."
    if not v.limit_known:
        return f"{reads}, but nobody knows how far this part may be off."
    return f"{reads}: too close to call with these instruments."


def _figures(one: Judged) -> list[tuple[str, str]]:
    v, at = one.verdict, one.at
    known = v.limit_known
    expect = format_ohm_span(v.low_ohm, v.high_ohm) if known else format_ohm(v.low_ohm)
    allow_k = (one.asked.sensor.allow_k or 0.0) if one.asked.sensor else 0.0
    whose = "what the machine tolerates"
    if float(one.curve.tol_k(at.t_c)) >= allow_k:
        whose = "the part's own tolerance"
    rows = [
        ("Read", f"{format_ohm(one.shown_ohm)} at {at}{_leads(one.used, one.shown_ohm)}"),
        ("Expected", expect),
    ]
    if v.t_implied_c is not None:
        rows.append(("Error", f"{_signed(one, v.error_k)}"))
    rows.append(("Limit", f"± {at.apart(v.limit_k)}, {whose}" if known else "not known"))
    # Off the curve its end's slope goes on: a figure of no use to anybody.
    if v.uncertainty_k is not None and v.verdict != "off-curve":
        shares = ", ".join(f"{term} {at.apart(2 * u_k)}" for term, u_k in v.terms_k.items())
        rows.append(("Uncertainty", f"± {at.apart(v.uncertainty_k)}: {shares}"))
    rows.append(("Taken with", one.used.said()))
    return rows


def _signed(one: Judged, error_k: float) -> str:
    return f"{'−' if error_k < 0 else '+'}{one.at.apart(error_k)}"


def _leads(tools: Used, shown_ohm: float) -> str:
    leads_ohm = tools.meter_entry.leads_ohm
    counts = leads_ohm >= _LEADS_COUNT * shown_ohm
    return f", less {format_ohm(leads_ohm, digits=2)} of leads" if leads_ohm and counts else ""


def _settling(one: Judged, settles: Settles) -> str:
    v, at = one.verdict, one.at
    said = [
        f"To settle it the uncertainty must come below {at.apart(v.settling.needed_k)}; most of it "
        f"is {TERM[v.dominant]}."
    ]
    ways = []
    if settles.placement:
        ways.append(f"{settles.placement.words} (--placement {settles.placement.name})")
    ways += [f"{probe.name} (--thermometer {probe.id})" for probe in settles.thermometers[:2]]
    ways += [f"{meter.name} (--meter {meter.id})" for meter in settles.meters[:2]]
    if ways:
        said.append(f"It would be settled by {'; or by '.join(ways)}.")
    elif settles.together:
        said.append(
            "Nothing alone would settle it: take the best meter and thermometer, and both "
            "together in stirred ice and water."
        )
    else:
        said.append("Nothing the team carries would settle it.")
        if one.asked.sensor:
            said.append(
                "Compare it with the machine's other sensors at rest: "
                f"ohmfolio round {one.asked.sensor.family}."
            )
    if not v.settling.meter_can:
        said.insert(
            1,
            f"{one.used.meter_entry.name} cannot decide this sensor here, however "
            "well the temperature is known.",
        )
    return " ".join(said)


def _explanations(one: Judged) -> str:
    if not one.explanations:
        return ""
    rows = [
        wrapped(explanation_words(other, at=one.at, labels=one.labels), lead="  - ", hang="    ")
        for other in one.explanations
    ]
    return "\n".join(["It would also fit:", *rows])


def _next(one: Judged) -> str:
    sensor = one.asked.sensor
    if sensor is None or one.verdict.verdict == "undecided":
        return ""
    told = sensor.when_good if one.verdict.verdict == "within" else sensor.when_bad
    return wrapped(f"Next: {told}") if told else ""


def loop_words(one: JudgedLoop) -> str:
    """Return the whole answer on a motor's PTC loop for a terminal."""
    v, at = one.verdict, one.at
    rows = [
        ("Read", f"{format_ohm(one.shown_ohm)} at {at}{_leads(one.used, one.shown_ohm)}"),
        ("Expected", _loop_band(one)),
    ]
    if v.uncertainty_ohm is not None:
        rows.append(("Uncertainty", f"± {format_ohm(v.uncertainty_ohm, digits=2)} of the meter"))
    rows.append(("Trips at", at.degrees(one.loop.trip_c)))
    rows.append(("Taken with", one.used.said()))
    sensor = one.asked.sensor
    told = None
    if sensor is not None and v.verdict != "undecided":
        told = sensor.when_good if v.verdict == "within" else sensor.when_bad
    parts = [
        wrapped(f"{VERDICT[v.verdict]}: {_loop_why(one)}"),
        "\n".join([one.asked.heading(), *aligned(rows)]),
        wrapped(f"Next: {told}") if told else "",
        wrapped(
            f"Measure a loop with at most {format_volts(TEST_VOLTS_MAX, decimals=1)} on each "
            "element, never with an insulation tester. " + SAFE
        ),
    ]
    return "\n\n".join(part for part in parts if part)


def _loop_band(one: JudgedLoop) -> str:
    low, high = one.verdict.low_ohm, one.verdict.high_ohm
    if low is not None:
        return f"at least {format_ohm(low)}: it has tripped"
    if high is not None:
        return f"at most {format_ohm(high)}, for {one.loop.in_series} in series"
    return "anything: it is switching here"


def _loop_why(one: JudgedLoop) -> str:
    v = one.verdict
    reads = format_ohm(one.shown_ohm)
    if v.verdict == "within":
        return f"{reads} is what a sound loop reads at {one.at}."
    if v.verdict == "outside":
        if v.high_ohm is not None:
            return f"{reads} is more than a sound loop reads at {one.at}; it or its lead is bad."
        return f"{reads} is less than a tripped loop reads at {one.at}; it does not protect."
    if v.verdict == "open":
        return f"over range, where a sound loop reads at most {format_ohm(v.high_ohm)}."
    if v.verdict == "short":
        return f"{reads} is almost nothing, so nothing protects the motor."
    if v.low_ohm is None and v.high_ohm is None:
        return f"at {one.at} it is switching, and any reading is right. Let the motor cool."
    if v.dominant is None:
        return "over range, which a tripped loop may read. Let the motor cool and read it again."
    return f"too close to a limit to call; most of the doubt is {TERM[v.dominant]}."
