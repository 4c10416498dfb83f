"""The part page's insulation form: refuses a voltage that is too high before it judges anything."""

from __future__ import annotations

from kb.answers.insulation_tested import InsulationFacts, NamedTester
from kb.answers.part_cautions import insulation_essentials
from kb.model import Part
from kb.model.insulation import Insulation
from kb.numbers.insulation_trend import TRENDS
from kb.numbers.rounding import format_plain
from kb.part_facts import caution_facts, insulation_facts, named_testers
from kb.words.phrase import capital, phrase

from ..components import caution_box
from ..html import Html, el, join
from ..said import value_of
from ..site_context import SiteContext
from .fields import answer, choice, packed, placed_field, plain_field, stepped_field
from .visit_fields import visit_head, visit_keys


def insulation_form(context: SiteContext, *, part: Part, limit: Insulation) -> Html:
    """Return the form for a part's insulation."""
    facts = insulation_facts(part, limit=limit)
    testers = named_testers(context.catalog)
    dangers = caution_facts(context.catalog, part=part, judging="insulation")
    return el(
        "form",
        caution_box(
            [phrase(caution) for caution in insulation_essentials(dangers)],
            title="Before you press the button",
        ),
        visit_head("insulation"),
        _voltage(testers, test_volts=facts.test_volts),
        plain_field(
            "insulation-shows",
            label="Tester shows after one minute",
            hint="With its letter: 25M, 480k, 2G, or OL for over range",
        ),
        _temperature(facts),
        answer("test-v", "insulation-shows", *(["insulation-at"] if facts.wound else [])),
        _damp(facts),
        _watched(facts),
        el("div", class_="ohm-more"),
        visit_keys(),
        class_="ohm-calc",
        data_calc="insulation",
        data_part=part.id,
        data_families=" ".join(part.families),
        data_facts=packed(_facts(facts)),
        data_testers=packed([_tester(tester) for tester in testers]),
        hidden=True,
        autocomplete="off",
    )


def _temperature(facts: InsulationFacts) -> Html:
    """Return the temperature of a winding; any other part is held to its limit as read."""
    if not facts.wound:
        return Html("")
    return placed_field(
        "insulation-at", label="Temperature of the winding", how="insulation-how", ice=False
    )


def _damp(facts: InsulationFacts) -> Html:
    """Return where wetness is asked, folded; the dew point is held against a winding alone."""
    air = join(
        [
            stepped_field("insulation-air", label="Air temperature there"),
            plain_field("insulation-humidity", label="Relative humidity", hint="Per cent"),
        ]
    )
    surface = [("", "Nobody looked"), ("dry", "Dry and clean"), ("wet", "Wet or dirty")]
    return el(
        "details",
        el("summary", "Damp or dirty there?"),
        choice("insulation-surface", label="Winding and terminals look", options=surface),
        air if facts.wound else None,
    )


def _watched(facts: InsulationFacts) -> Html:
    """Return where it is asked how the reading moved, folded."""
    times = [("15s", "After 15 seconds"), ("30s", "After 30 seconds")]
    if facts.wound:
        times.append(("10min", "After 10 minutes"))
    moved = [("", "Nobody watched"), *((name, capital(value_of("trend", name))) for name in TRENDS)]
    return el(
        "details",
        el("summary", "How did it move?"),
        choice("insulation-trend", label="Within the minute it was", options=moved),
        [plain_field(f"insulation-{name}", label=label) for name, label in times],
    )


def _voltage(testers: tuple[NamedTester, ...], *, test_volts: float) -> Html:
    """Return the choice of voltage: each tester's own, or the part's where there is no tester."""
    choices = [
        _choice(voltage.volts, tester=tester) for tester in testers for voltage in tester.voltages
    ] or [_choice(test_volts)]
    return el(
        "div",
        el("label", "Test voltage", for_="test-v"),
        el(
            "select",
            el("option", "Choose it first", value=""),
            [
                el("option", label, value=volts, data_tester=tester or None)
                for volts, tester, label in choices
            ],
            id="test-v",
            name="test-v",
        ),
        class_="ohm-field",
    )


def _choice(volts: float, *, tester: NamedTester | None = None) -> tuple[str, str, str]:
    """Return a voltage, the id of the tester that has it, and what is shown."""
    number = format_plain(volts)
    return (
        (number, tester.id, f"{number} V, {tester.name}") if tester else (number, "", f"{number} V")
    )


def _facts(facts: InsulationFacts) -> dict[str, object]:
    """Return what decides on a part's insulation, in the page's names."""
    return {
        "name": facts.name,
        "minOhm": facts.min_ohm,
        "limitC": facts.limit_c,
        "testVolts": facts.test_volts,
        "material": facts.material,
        "wound": facts.wound,
        "hermetic": facts.hermetic,
        "board": facts.board,
        "ratedVolts": facts.rated_volts,
        "formWound": facts.form_wound,
    }


def _tester(tester: NamedTester) -> dict[str, object]:
    return {
        "id": tester.id,
        "name": tester.name,
        "voltages": [
            {"volts": voltage.volts, "maxOhm": voltage.max_ohm, "percent": voltage.percent}
            for voltage in tester.voltages
        ],
    }
