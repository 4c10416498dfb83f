"""From a part's entry to what the floor of answers asks of its windings and its insulation."""

from __future__ import annotations

from kb.answers.insulation_tested import (
    BOARDS,
    HERMETIC,
    WOUND,
    InsulationFacts,
    InsulationVoltage,
    NamedTester,
)
from kb.answers.part_cautions import CautionFacts, MachineFacts
from kb.answers.winding_reading import WindingFacts
from kb.catalog import Catalog
from kb.model import Family, Instrument, Method, Part
from kb.model.insulation import Insulation
from kb.model.windings import Windings
from kb.numbers.winding_metal import OF_METAL


def winding_facts(part: Part, *, windings: Windings) -> WindingFacts:
    """Return what decides on a part's windings."""
    return WindingFacts(
        pairs=windings.pairs,
        at_c=windings.at_c,
        tolerance_share=_share(windings.tolerance_percent),
        balance_share=_share(windings.balance_percent),
        metal=windings.metal,
        constant=OF_METAL[windings.metal],
        wound=part.is_a in WOUND,
        insulated=part.insulation is not None,
        connection=windings.connection,
    )


def insulation_facts(part: Part, *, limit: Insulation) -> InsulationFacts:
    """Return what decides on a part's insulation."""
    return InsulationFacts(
        name=part.name,
        min_ohm=limit.min_ohm,
        limit_c=limit.at_c,
        test_volts=limit.test_v,
        material=limit.material,
        wound=part.is_a in WOUND,
        hermetic=_hermetic(part),
        rated_volts=limit.rated_v,
        form_wound=limit.coils == "form-wound",
        board=part.is_a in BOARDS,
    )


def named_testers(catalog: Catalog) -> tuple[NamedTester, ...]:
    """Return the insulation testers of the notes, by name."""
    return tuple(named_tester(tool) for tool in catalog.insulation_testers())


def named_tester(tool: Instrument) -> NamedTester:
    """Return an insulation tester with its test voltages."""
    voltages = tuple(
        InsulationVoltage(volts=test.volts, max_ohm=test.max_ohm, percent=test.percent)
        for test in tool.insulation
    )
    return NamedTester(id=tool.id, name=tool.name, voltages=voltages)


def caution_facts(catalog: Catalog, *, part: Part, judging: str) -> CautionFacts:
    """Return what the entries know of the danger in testing a part; broken ones are passed over.

    Parameters
    ----------
    judging : str
        "windings" or "insulation": the part's methods that judge so add their cautions.
    """
    families = [catalog.all(Family).get(family_id) for family_id in part.families]
    methods = [catalog.all(Method).get(method_id) for method_id in part.methods]
    limit = part.insulation
    return CautionFacts(
        machines=[_machine(family) for family in families if family is not None],
        methods=[
            caution
            for method in methods
            if method is not None and method.judges == judging
            for caution in method.cautions
        ],
        disconnect=limit.disconnect if limit else "",
        test_volts=limit.test_v if limit else 0.0,
        hermetic=_hermetic(part),
    )


def _hermetic(part: Part) -> bool:
    """Whether its winding stands in refrigerant: as its entry says, or else by its kind."""
    noted = part.insulation.hermetic if part.insulation else None
    return part.is_a in HERMETIC if noted is None else noted


def _machine(family: Family) -> MachineFacts:
    return MachineFacts(
        name=family.name,
        isolate_at=family.supply.isolate_at.rstrip("."),
        drain_at=family.drain_at.rstrip("."),
        drain_min=family.drain_min,
        drained_below_volts=family.drained_below_v,
        no_charge=(family.no_charge or "").rstrip("."),
    )


def _share(percent: float | None) -> float | None:
    return None if percent is None else percent / 100
