"""The part page's insulation form: refuses a voltage that is too high before it judges anything."""

from __future__ import annotations

from kb.model import Instrument, Part
from kb.numbers.rounding import format_plain

from ..components import caution_box
from ..html import Html, el
from ..site_context import SiteContext
from .fields import answer, clear_key, plain_field, stepped_field

ROTATING = {"motor", "compressor", "fan"}
"""What the standard on machine insulation is about; a heater or a valve is none of it."""


def insulation_form(context: SiteContext, part: Part) -> Html:
    """Return the form for a part's insulation; the part must have a limit."""
    limit = part.insulation
    assert limit is not None  # the page asks only for parts with a limit
    choices = [
        (
            format_plain(test.volts),
            format_plain(test.percent),
            format_plain(test.max_ohm),
            f"{format_plain(test.volts)} V, {one.name}",
        )
        for one in sorted(context.notes.of(Instrument).values(), key=lambda one: one.name)
        for test in one.insulation
    ] or [(format_plain(limit.test_v), "0", "", f"{format_plain(limit.test_v)} V")]
    return el(
        "form",
        caution_box(
            [
                "Isolated, locked off, drained, proved dead.",
                limit.disconnect,
                f"{format_plain(limit.test_v)} V direct and no more. Nobody touches the far end.",
            ],
            title="Before you press the button",
        ),
        el(
            "div",
            el("label", "Test voltage", for_="test-v"),
            el(
                "select",
                el("option", "Choose it first", value=""),
                [
                    el("option", said, value=volts, data_percent=percent, data_max_ohm=most or None)
                    for volts, percent, most, said in choices
                ],
                id="test-v",
                name="test-v",
            ),
            class_="ohm-field",
        ),
        plain_field(
            "insulation-shows",
            "Tester shows after one minute",
            hint="With its letter: 25M, 480k, 2G, or OL for over range",
        ),
        stepped_field(
            "insulation-at",
            "Temperature of the winding" if part.is_a in ROTATING else "Its temperature",
            value="20",
        ),
        answer("test-v", "insulation-shows", "insulation-at"),
        el("div", class_="ohm-more"),
        clear_key(),
        class_="ohm-calc",
        data_calc="insulation",
        data_part=part.id,
        data_min_ohm=format_plain(limit.min_ohm),
        data_limit_c=format_plain(limit.at_c),
        data_test_v=format_plain(limit.test_v),
        data_material=limit.material,
        data_rotating="yes" if part.is_a in ROTATING else None,
        data_hermetic="yes" if part.is_a == "compressor" else None,
        hidden=True,
        autocomplete="off",
    )
