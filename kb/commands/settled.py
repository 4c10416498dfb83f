"""Not decided: what of the team's own kit would settle it, and how the temperature is taken."""

from __future__ import annotations

from dataclasses import dataclass

from kb.instruments import meter_of, meters, thermometer_of, thermometers
from kb.model import Instrument
from kb.notes.load import Notes
from kb.numbers.out_of_range import OutOfRange
from kb.numbers.placement import PLACEMENTS, Placement
from kb.numbers.verdict import expanded_k, rectangular

from .judged import Judged


@dataclass(frozen=True, kw_only=True)
class Settles:
    """Single changes that would decide a reading, were its error the same; best first.

    Parameters
    ----------
    placement : Placement or None
        The least trouble that is enough.
    thermometers, meters : tuple of Instrument
        The team's that are enough alone.
    together : bool
        True where nothing alone is enough, but the best of the team's all together are.
    """

    placement: Placement | None
    thermometers: tuple[Instrument, ...]
    meters: tuple[Instrument, ...]
    together: bool


def what_settles(notes: Notes, one: Judged) -> Settles | None:
    """Return what would settle an undecided reading; None where no uncertainty is to blame."""
    v = one.verdict
    if v.settling is None:
        return None
    needed_k = v.settling.needed_k
    now = v.terms_k
    t_c, r_ohm = one.at.t_c, one.measured.r_ohm

    def enough(**better: float) -> bool:
        return expanded_k(*(now | better).values()) < needed_k

    places = {
        place.name: rectangular(place.half_width_k)
        for place in PLACEMENTS.values()
        if rectangular(place.half_width_k) < now["placement"]
    }
    easier = [name for name, u_k in places.items() if enough(placement=u_k)]
    probes = {}
    for probe in thermometers(notes):
        try:
            probes[probe.id] = rectangular(float(thermometer_of(probe).half_width_k(t_c)))
        except OutOfRange:
            continue
    per_ohm = now["meter"] / rectangular(one.measured.meter_half_ohm) if now["meter"] else 0.0
    kit = {
        meter.id: rectangular(float(meter_of(meter).half_width_ohm(r_ohm))) * per_ohm
        for meter in meters(notes)
        if r_ohm <= meter_of(meter).span_ohm
    }
    best = {
        "placement": min([*places.values(), now["placement"]]),
        "thermometer": min([*probes.values(), now["thermometer"]]),
        "meter": min([*kit.values(), now["meter"]]),
    }
    by_id = notes.of(Instrument)
    return Settles(
        placement=PLACEMENTS[easier[-1]] if easier else None,
        thermometers=tuple(by_id[i] for i, u_k in probes.items() if enough(thermometer=u_k)),
        meters=tuple(by_id[i] for i, u_k in kit.items() if enough(meter=u_k)),
        together=enough(**best),
    )
