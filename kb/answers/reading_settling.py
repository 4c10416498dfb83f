"""Not decided: what to read next, by the minutes it takes and by how surely it decides."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from kb.numbers.decision_chance import decision_chance
from kb.numbers.measured import Measured
from kb.numbers.out_of_range import OutOfRange
from kb.numbers.placement import PLACEMENTS
from kb.numbers.sister import CUP_HALF_K
from kb.numbers.verdict import Verdict, full_half

from .instruments import Kit, NamedMeter, NamedTool, Tools
from .sensor_facts import SensorFacts
from .statement import Statement
from .typed import ICE, SISTER

MINUTES: Mapping[str, float] = {
    "held-on": 3.0,
    "strapped": 10.0,
    ICE: 10.0,
    SISTER: 10.0,
    "meter": 5.0,
    "thermometer": 8.0,
}
"""What another reading takes, by way or by instrument fetched. Common practice, no source."""
MOST_SHOWN = 3
LEAST_CHANCE = 0.2
"""What decides less often than in one of five is not worth the way. Common practice, no source."""


@dataclass(frozen=True, kw_only=True)
class Reread:
    """One way to read it again.

    Parameters
    ----------
    placement : str
        How the temperature is taken then; "" for as now.
    meter, thermometer : str
        Ids of the instruments that are changed; "" for the same.
    minutes, chance : float
        How long it takes, and how likely it decides, 0 to 1.
    statement : Statement
    """

    placement: str
    meter: str
    thermometer: str
    minutes: float
    chance: float
    statement: Statement


@dataclass(frozen=True, kw_only=True)
class Settling:
    """What it takes to decide a reading.

    Parameters
    ----------
    statements : tuple of Statement
        What most of the uncertainty is, and what the meter cannot.
    ways : tuple of Reread
        What to read next, the fewest minutes for a decision first.
    otherwise : Statement or None
        Where nothing that the team carries is likely to decide.
    """

    statements: tuple[Statement, ...]
    ways: tuple[Reread, ...]
    otherwise: Statement | None


@dataclass(frozen=True, kw_only=True)
class _Now:
    """The reading that was not decided, and what it was taken with."""

    sensor: SensorFacts
    verdict: Verdict
    measured: Measured
    tools: Tools
    kit: Kit

    @property
    def error_k(self) -> float:
        return self.verdict.error_k or 0.0

    @property
    def halves_k(self) -> dict[str, float]:
        return {term: full_half(u_k) for term, u_k in self.verdict.terms_k.items()}

    def limit_k(self, t_c: float) -> float:
        return max(float(self.sensor.curve.tol_k(t_c)), self.sensor.allow_k)

    def meter_half_k(self, meter: NamedMeter | None, *, t_c: float) -> float:
        """Return what a meter leaves open on a good part there, in K."""
        if meter is None:
            return 0.0
        curve = self.sensor.curve
        r_ohm = float(curve.r_ohm(t_c)) + meter.meter.leads_ohm
        return float(meter.meter.half_width_ohm(r_ohm)) / abs(float(curve.slope_ohm_per_k(t_c)))

    @property
    def other_meters(self) -> list[NamedMeter]:
        own = self.tools.meter.id if self.tools.meter else ""
        return [meter for meter in self.kit.meters if meter.id != own]

    def reread(
        self,
        words: str,
        *,
        then_k: Mapping[str, float],
        t_c: float | None = None,
        placement: str = "",
        fetched: tuple[str, NamedTool | None] = ("", None),
        meter_stays: bool = True,
        labels: Sequence[str] = (),
    ) -> Reread:
        """Return a way with its minutes and chance; `fetched`: a kind of tool, and the tool."""
        now_k, (kind, tool) = self.halves_k, fetched
        drawn_k = [
            half_k
            for term in now_k
            if now_k[term] != then_k[term] and not (term == "meter" and meter_stays)
            for half_k in (now_k[term], then_k[term])
        ]
        minutes = MINUTES.get(placement, 0.0) + MINUTES.get(kind, 0.0)
        chance = decision_chance(
            self.error_k,
            limit_k=self.verdict.limit_k if t_c is None else self.limit_k(t_c),
            left_k=list(then_k.values()),
            drawn_k=drawn_k,
        )
        figures: dict[str, object] = {"minutes": minutes, "chance_share": chance}
        figures |= {"instrument": tool.name} if tool else {}
        figures |= {"labels": list(labels)} if labels else {}
        return Reread(
            placement=placement,
            meter=tool.id if tool and kind == "meter" else "",
            thermometer=tool.id if tool and kind == "thermometer" else "",
            minutes=minutes,
            chance=chance,
            statement=Statement(id=f"settling.way-{words}", figures=figures),
        )


def what_settles(
    sensor: SensorFacts, *, verdict: Verdict, measured: Measured, tools: Tools, kit: Kit
) -> Settling | None:
    """Return what would settle a reading; None where no uncertainty is to blame."""
    if verdict.settling is None:
        return None
    needed_k = verdict.settling.needed_k
    # Beside a sister she is the thermometer.
    by_sister = verdict.dominant == "thermometer" and tools.placement == SISTER
    most = SISTER if by_sister else verdict.dominant
    statements = [Statement(id=f"settling.needed-{most}", figures={"needed_k": needed_k})]
    if not verdict.settling.meter_can:
        name = tools.meter.name if tools.meter else ""
        statements.append(Statement(id="settling.meter-cannot", figures={"instrument": name}))
    now = _Now(sensor=sensor, verdict=verdict, measured=measured, tools=tools, kit=kit)
    ways = _best([*_closer(now), *_iced(now), *_by_sister(now), *_other_tools(now)])
    otherwise = None if ways else Statement(id="settling.nothing")
    return Settling(statements=tuple(statements), ways=ways, otherwise=otherwise)


def _best(ways: list[Reread]) -> tuple[Reread, ...]:
    """Return the few of least minutes for a decision; none that another betters in both."""
    likely = [way for way in ways if way.chance >= LEAST_CHANCE]
    ranked = sorted(likely, key=lambda way: way.minutes / way.chance)
    best: list[Reread] = []
    for way in ranked:
        if all(way.chance > better.chance or way.minutes < better.minutes for better in best):
            best.append(way)
    return tuple(best[:MOST_SHOWN])


def _closer(now: _Now) -> Iterator[Reread]:
    """Yield the placements that are closer, the same instruments beside the sensor."""
    if now.tools.placement in (ICE, SISTER):
        return
    for name in ("strapped", "held-on"):
        half_k = PLACEMENTS[name].half_width_k
        if half_k < now.halves_k["placement"]:
            then_k = {**now.halves_k, "placement": half_k}
            yield now.reread(name, then_k=then_k, placement=name)


def _iced(now: _Now) -> Iterator[Reread]:
    """Yield stirred ice, with this meter and with each other one; from ice, another meter."""
    curve, iced = now.sensor.curve, now.tools.placement == ICE
    if not curve.low_c <= 0 <= curve.high_c:
        return
    at_ice = {
        "thermometer": 0.0,
        "placement": PLACEMENTS[ICE].half_width_k,
        "curve": float(curve.law_k(0.0)),
    }
    for meter in now.other_meters if iced else [now.tools.meter, *now.other_meters]:
        then_k = {"meter": now.meter_half_k(meter, t_c=0.0), **at_ice}
        if not math.isfinite(then_k["meter"]):
            continue
        if meter is now.tools.meter:
            yield now.reread(ICE, then_k=then_k, t_c=0.0, placement=ICE)
        elif meter is not None and then_k["meter"] < now.halves_k["meter"]:
            yield now.reread(
                "meter" if iced else f"{ICE}-with",
                then_k=then_k,
                t_c=0.0,
                placement="" if iced else ICE,
                fetched=("meter", meter),
                meter_stays=False,
            )


def _by_sister(now: _Now) -> Iterator[Reread]:
    """Yield a sister in the same cup, where the family has one: a digit of each reading stays."""
    if now.tools.placement == SISTER or not now.sensor.sisters:
        return
    t_c, curve, meter = now.measured.t_c, now.sensor.curve, now.tools.meter
    digit_ohm = meter.meter.digit_ohm(float(curve.r_ohm(t_c))) if meter else 0.0
    then_k = {
        "meter": 2 * digit_ohm / abs(float(curve.slope_ohm_per_k(t_c))),
        "thermometer": float(curve.tol_k(t_c)) if curve.tolerance_known else now.sensor.allow_k,
        "placement": CUP_HALF_K,
        "curve": 0.0,
    }
    if math.isfinite(digit_ohm):
        yield now.reread(
            SISTER, then_k=then_k, placement=SISTER, meter_stays=False, labels=now.sensor.sisters
        )


def _other_tools(now: _Now) -> Iterator[Reread]:
    """Yield another thermometer or meter at the same spot; in a cup `_iced` has the meters."""
    if now.tools.placement in (ICE, SISTER):
        return
    own = now.tools.thermometer.id if now.tools.thermometer else ""
    for probe in now.kit.thermometers:
        try:
            half_k = float(probe.thermometer.half_width_k(now.measured.t_c))
        except OutOfRange:
            continue
        if probe.id != own and half_k < now.halves_k["thermometer"]:
            then_k = {**now.halves_k, "thermometer": half_k}
            yield now.reread("thermometer", then_k=then_k, fetched=("thermometer", probe))
    for meter in now.other_meters:
        half_k = now.meter_half_k(meter, t_c=now.measured.t_c)
        if half_k < now.halves_k["meter"]:
            then_k = {**now.halves_k, "meter": half_k}
            fetched = ("meter", meter)
            yield now.reread("meter", then_k=then_k, fetched=fetched, meter_stays=False)
