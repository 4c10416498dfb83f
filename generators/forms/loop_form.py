"""The loop's form: one reading of a motor's PTC loop, with its cautions above the field."""

from __future__ import annotations

from kb.answers.loop import CAUTIONS
from kb.facts import instructions_of
from kb.laws import LAWS
from kb.model import Curve, Sensor
from kb.numbers.switching_ptc import SwitchingPtc
from kb.words.catalogue import cautions, name_of
from kb.words.phrase import in_words

from ..html import Html, bullets, el, join
from ..site_context import SiteContext
from .fields import answer, instruments_fold, packed, placed_field, plain_field, reading_hint
from .scripts import form_scripts
from .visit_fields import visit_head, visit_keys


def loop_section(context: SiteContext, *, sensor: Sensor) -> Html:
    """Return the form with its scripts; nothing for a sensor that is no loop, or has no test."""
    loop = loop_of_sensor(context, sensor=sensor)
    if loop is None or not sensor.testable:
        return Html("")
    return join(
        [loop_form(context, sensor=sensor, loop=loop), form_scripts(context, forms=["loop"])]
    )


def loop_form(context: SiteContext, *, sensor: Sensor, loop: SwitchingPtc) -> Html:
    """Return the form that judges a reading of a loop."""
    instructions = {name: getattr(sensor, name) for name in instructions_of(sensor)}
    return el(
        "form",
        _cautions(),
        # The reading first: cold, as it should be, it needs no temperature.
        plain_field("loop-reading", label=in_words("form-field.shows"), hint=reading_hint()),
        answer("loop-at", "loop-reading", "meter", "thermometer"),
        # Below the answer: what was read before grows, and the field stays where it is.
        visit_head("loop"),
        placed_field("loop-at", label=in_words("loop-form.at"), how="loop-how", ice=False),
        instruments_fold(context.catalog),
        el("div", class_="ohm-more"),
        visit_keys(),
        class_="ohm-calc",
        data_calc="loop",
        data_sensor=sensor.id,
        data_families=sensor.family,
        data_place=sensor.rests_with or f"sensor:{sensor.id}",
        data_facts=packed({"tripC": loop.trip_c, "inSeries": loop.in_series}),
        data_instructions=packed(instructions),
        hidden=True,
        autocomplete="off",
    )


def _cautions() -> Html:
    """Return the loop's own cautions: what to do in the line itself, the rest unfolds below it."""
    words = cautions()
    first, then = (name_of("loop-caution", name="line", form=form) for form in ("first", "then"))
    return el(
        "details",
        el(
            "summary",
            el("span", "⚠", aria_hidden="true", class_="ohm-caution-sign"),
            el("span", el("strong", first), " ", then),
        ),
        bullets(words[name].words for name in CAUTIONS),
        class_="ohm-fold ohm-caution ohm-caution-line",
        open=True,
    )


def loop_of_sensor(context: SiteContext, *, sensor: Sensor) -> SwitchingPtc | None:
    """Return the limits of a sensor that is a motor's loop; None for any other."""
    if sensor.curve is None:
        return None
    curve = context.catalog.get(Curve, sensor.curve)
    limits = LAWS[curve.law].limits
    return None if limits is None else limits(curve)
