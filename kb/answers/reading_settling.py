"""Not decided: what would settle it, by how the temperature is taken and by the team's own kit."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from kb.numbers.measured import Measured
from kb.numbers.out_of_range import OutOfRange
from kb.numbers.placement import PLACEMENTS
from kb.numbers.verdict import Verdict, expanded_k, rectangular

from .instruments import Kit, NamedMeter, NamedThermometer, NamedTool, Tools
from .statement import Statement

MOST_NAMED = 2
"""So many instruments of a sort are named: the first is the team's own."""


@dataclass(frozen=True, kw_only=True)
class Way:
    """One change that alone would decide a reading, were its error the same.

    Parameters
    ----------
    term : str
        "placement", "thermometer" or "meter".
    id : str
        The placement's name, or the instrument's id.
    name : str
        The instrument's name; "" for a placement, whose words stand in the catalogue.
    """

    term: str
    id: str
    name: str = ""


@dataclass(frozen=True, kw_only=True)
class Settling:
    """What it takes to decide a reading.

    Parameters
    ----------
    statements : tuple of Statement
        How far the uncertainty must come down, what most of it is, what the meter cannot.
    ways : tuple of Way
        Single changes that are enough, the least trouble first.
    otherwise : Statement or None
        Where nothing alone is enough: all the best together, or nothing the team carries.
    """

    statements: tuple[Statement, ...]
    ways: tuple[Way, ...]
    otherwise: Statement | None


def what_settles(
    verdict: Verdict, *, measured: Measured, tools: Tools, kit: Kit
) -> Settling | None:
    """Return what would settle a reading; None where no uncertainty is to blame."""
    if verdict.settling is None:
        return None
    needed_k = verdict.settling.needed_k
    statements = [
        Statement(id=f"settling.needed-{verdict.dominant}", figures={"needed_k": needed_k})
    ]
    if not verdict.settling.meter_can:
        name = tools.meter.name if tools.meter else ""
        statements.append(Statement(id="settling.meter-cannot", figures={"instrument": name}))
    offers = _Offers(
        placements=_better_placements(verdict),
        thermometers=_thermometers_k(kit.thermometers, t_c=measured.t_c),
        meters=_meters_k(kit.meters, verdict=verdict, measured=measured),
    )
    ways = _ways(offers, kit=kit, terms_k=verdict.terms_k, needed_k=needed_k)
    otherwise = None
    if not ways:
        best = {
            term: min([*offered.values(), verdict.terms_k[term]])
            for term, offered in offers.by_term.items()
        }
        if any(_fixed(offer) for offer in offers.placements):
            best["thermometer"] = 0.0
        # Nothing that is carried betters the curve itself.
        together = expanded_k(*best.values(), verdict.terms_k["curve"]) < needed_k
        otherwise = Statement(id="settling.together" if together else "settling.nothing")
    return Settling(statements=tuple(statements), ways=ways, otherwise=otherwise)


@dataclass(frozen=True, kw_only=True)
class _Offers:
    """Standard uncertainty in K that each way of taking, or each instrument, would leave."""

    placements: Mapping[str, float]
    thermometers: Mapping[str, float]
    meters: Mapping[str, float]

    @property
    def by_term(self) -> dict[str, Mapping[str, float]]:
        return {
            "placement": self.placements,
            "thermometer": self.thermometers,
            "meter": self.meters,
        }


def _fixed(placement: str) -> bool:
    """Whether nature sets the temperature there, so that no thermometer counts."""
    return placement in PLACEMENTS and PLACEMENTS[placement].fixed_c is not None


def _changed(
    terms_k: Mapping[str, float], *, term: str, offer: str, u_k: float
) -> tuple[float, ...]:
    """Return the terms where one of them is changed for what is offered."""
    now_k = {**terms_k, term: u_k}
    if term == "placement" and _fixed(offer):
        now_k["thermometer"] = 0.0
    return tuple(now_k.values())


def _better_placements(verdict: Verdict) -> dict[str, float]:
    left_k = {
        placement.name: rectangular(placement.half_width_k) for placement in PLACEMENTS.values()
    }
    return {name: u_k for name, u_k in left_k.items() if u_k < verdict.terms_k["placement"]}


def _thermometers_k(probes: Sequence[NamedThermometer], *, t_c: float) -> dict[str, float]:
    left_k = {}
    for probe in probes:
        try:
            left_k[probe.id] = rectangular(float(probe.thermometer.half_width_k(t_c)))
        except OutOfRange:
            continue
    return left_k


def _meters_k(
    meters: Sequence[NamedMeter], *, verdict: Verdict, measured: Measured
) -> dict[str, float]:
    meter_k, r_ohm = verdict.terms_k["meter"], measured.r_ohm
    per_ohm = meter_k / rectangular(measured.meter_half_ohm) if meter_k else 0.0
    return {
        offered.id: rectangular(float(offered.meter.half_width_ohm(r_ohm))) * per_ohm
        for offered in meters
        if r_ohm <= offered.meter.span_ohm
    }


def _ways(
    offers: _Offers, *, kit: Kit, terms_k: Mapping[str, float], needed_k: float
) -> tuple[Way, ...]:
    enough = {
        term: [
            offer
            for offer, u_k in offered.items()
            if expanded_k(*_changed(terms_k, term=term, offer=offer, u_k=u_k)) < needed_k
        ]
        for term, offered in offers.by_term.items()
    }
    tools: list[NamedTool] = [*kit.meters, *kit.thermometers]
    names = {tool.id: tool.name for tool in tools}
    # Of the placements that are enough, the least trouble: the last, as the closest come first.
    ways = [Way(term="placement", id=name) for name in enough["placement"][-1:]]
    for term in ("thermometer", "meter"):
        ways += [Way(term=term, id=tool, name=names[tool]) for tool in enough[term][:MOST_NAMED]]
    return tuple(ways)
