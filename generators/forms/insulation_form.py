"""The part page's insulation form: refuses a voltage that is too high before it judges anything."""

from __future__ import annotations

from kb.answers.insulation_tested import InsulationFacts, NamedTester
from kb.answers.part_cautions import insulation_essentials
from kb.model import Part
from kb.model.insulation import Insulation
from kb.numbers.insulation_trend import TRENDS
from kb.numbers.rounding import format_plain
from kb.part_facts import caution_facts, insulation_facts, named_testers
from kb.words.phrase import capital, in_words, phrase

from ..components import caution_box
from ..html import Html, el, join
from ..in_words import value_of
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
            title=in_words("insulation-form.before"),
        ),
        visit_head("insulation"),
        _voltage(testers, test_volts=facts.test_volts),
        plain_field(
            "insulation-shows",
            label=in_words("insulation-form.shows"),
            hint=in_words("insulation-form.shows-hint"),
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
        "insulation-at", label=in_words("form-field.winding-at"), how="insulation-how", ice=False
    )


def _damp(facts: InsulationFacts) -> Html:
    """Return where wetness is asked, folded; the dew point is held against a winding alone."""
    air = join(
        [
            stepped_field("insulation-air", label=in_words("insulation-form.air")),
            plain_field(
                "insulation-humidity",
                label=in_words("insulation-form.humidity"),
                hint=in_words("insulation-form.humidity-hint"),
            ),
        ]
    )
    surface = [
        ("", in_words("insulation-form.surface-none")),
        ("dry", in_words("insulation-form.surface-dry")),
        ("wet", in_words("insulation-form.surface-wet")),
    ]
    return el(
        "details",
        el("summary", in_words("insulation-form.damp")),
        choice("insulation-surface", label=in_words("insulation-form.surface"), options=surface),
        air if facts.wound else None,
    )


def _watched(facts: InsulationFacts) -> Html:
    """Return where it is asked how the reading moved, folded."""
    times = ["15s", "30s", "10min"] if facts.wound else ["15s", "30s"]
    nobody = ("", in_words("insulation-form.trend-none"))
    moved = [nobody, *((name, capital(value_of("trend", name))) for name in TRENDS)]
    return el(
        "details",
        el("summary", in_words("insulation-form.moved")),
        choice("insulation-trend", label=in_words("insulation-form.trend"), options=moved),
        [
            plain_field(f"insulation-{name}", label=in_words(f"insulation-form.after-{name}"))
            for name in times
        ],
    )


def _voltage(testers: tuple[NamedTester, ...], *, test_volts: float) -> Html:
    """Return the choice of voltage: each tester's own, or the part's where there is no tester."""
    choices = [
        _choice(voltage.volts, tester=tester) for tester in testers for voltage in tester.voltages
    ] or [_choice(test_volts)]
    return el(
        "div",
        el("label", in_words("insulation-form.volts"), for_="test-v"),
        el(
            "select",
            el("option", in_words("insulation-form.volts-choose"), value=""),
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
