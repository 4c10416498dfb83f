"""A sensor's page: where it is, what it should read now, who can judge it, what follows."""

from __future__ import annotations

from kb.catalog import reading_order, shown_name
from kb.field_readings import good_readings
from kb.model import Case, Code, Curve, Drawing, Family, Method, Part, Sensor
from kb.numbers.mean_offset import MeanOffset, mean_offset
from kb.numbers.rounding import format_ohm, format_plain

from ..components import (
    degrees,
    draft_badge,
    family_cautions,
    kelvin,
    other_names,
    siblings,
    source_line,
)
from ..expected import expected_table, round_temperatures
from ..forms.scripts import form_scripts
from ..forms.sensor_form import curves_of_family, sensor_form
from ..forms.stand_in_form import stand_in_form
from ..html import Html, bullets, el, facts, join, section, table
from ..meters_fit import meters_section
from ..page import Page
from ..site_context import SiteContext
from ..sketch import draw_sketch
from .family import photo_href, pins_go_to


def make_sensor(context: SiteContext, sensor: Sensor) -> Page:
    """Return the page of one sensor."""
    family = context.catalog.get(Family, sensor.family)
    body = join(
        [
            draft_badge(sensor),
            el("p", f"{sensor.senses.rstrip('.')}. ", sensor.place, class_="ohm-lead"),
            other_names(sensor, already=sensor.label),
            _jumps(sensor),
            family_cautions(context, family),
            _untestable(sensor),
            _find_it(context, sensor),
            section("What it should read", _expected(context, sensor)),
            section(
                "Then",
                facts(
                    [
                        ("Right for the temperature", sensor.when_good),
                        ("Wrong", sensor.when_bad),
                        ("Open circuit", sensor.when_open),
                        ("Short circuit", sensor.when_short),
                    ]
                ),
            ),
            meters_section(context, sensor.curve, sensor.meets_c, allow_k=sensor.allow_k)
            if sensor.testable
            else None,
            section(
                "How to test it", bullets(context.link_to(Method, one) for one in sensor.methods)
            ),
            _board_test(context, sensor),
            section("Codes that accuse it", bullets(_codes(context, sensor))),
            _field_readings(context, sensor),
            section("Past jobs", bullets(_cases(context, sensor))),
            section("To order", el("p", sensor.order) if sensor.order else None),
            el(
                "p",
                el(
                    "a",
                    "Your job: what you read, ticked and proved",
                    href=f"{context.root}jobs/{family.id}.html",
                ),
            ),
            source_line(context, sensor),
            siblings(context, sensor, context.catalog.of_family(Sensor, family.id), "sensors"),
        ]
    )
    return Page(
        path=f"sensors/{sensor.id}.md",
        title=shown_name(sensor),
        kind="sensor",
        summary=f"{family.name}: {sensor.senses}",
        trail=(("Families", "families/index.html"), (family.name, family.href)),
        body=body,
    )


def _jumps(sensor: Sensor) -> Html:
    """Return the ways down a long page, for whoever has done the reading before."""
    ways = [("find-it", "Find it")]
    if sensor.curve or sensor.healthy:
        ways.append(("what-it-should-read", "What it should read"))
    return el(
        "nav",
        [el("a", said, href=f"#{name}") for name, said in ways],
        class_="ohm-jumps",
        aria_label="On this page",
    )


def _untestable(sensor: Sensor) -> Html:
    if sensor.untestable is None:
        return Html("")
    return el(
        "section",
        el("h2", "It cannot be tested with a meter"),
        el("p", sensor.untestable.why),
        el("p", el("strong", "Instead: "), sensor.untestable.instead),
        class_="ohm-untestable",
    )


def _find_it(context: SiteContext, sensor: Sensor) -> Html:
    plug = sensor.plug
    rows = [
        ("Where", sensor.place),
        ("Reach", [sensor.reach, f": {sensor.reach_how}" if sensor.reach_how else None]),
    ]
    if plug:
        rows += [
            ("Plug", join([el("strong", plug.mark), " on ", context.link_to(Part, plug.board)])),
            ("Pins", " and ".join(plug.pins)),
            ("Colour", plug.colour),
        ]
    drawn = None
    if sensor.pinned:
        drawing = context.catalog.get(Drawing, sensor.pinned.drawing)
        drawn = draw_sketch(
            drawing,
            here=sensor.pinned.pin,
            goes_to=pins_go_to(context, drawing),
            photo_href=photo_href(context, drawing),
        )
    return section("Find it", facts(rows), drawn)


def _expected(context: SiteContext, sensor: Sensor) -> Html:
    parts = []
    curve = context.catalog.characteristic(sensor.curve) if sensor.curve else None
    if curve is not None and sensor.testable:
        low_c = max(curve.low_c, sensor.meets_c[0])
        high_c = min(curve.high_c, sensor.meets_c[1])
        step_c = 5.0 if high_c - low_c <= 80 else 10.0
        parts += [
            sensor_form(context, sensor),
            expected_table(
                curve,
                round_temperatures(low_c, high_c, step_c=step_c),
                caption=f"{sensor.label}: expected resistance",
            ),
        ]
    if sensor.curve:
        allow = sensor.allow_k
        parts.append(
            el(
                "p",
                "Curve: ",
                context.link_to(Curve, sensor.curve),
                [". The machine tolerates an error of ", kelvin(allow)] if allow else None,
                ".",
            )
        )
    if sensor.meets_c:
        parts.append(
            el(
                "p",
                "In service it meets ",
                degrees(sensor.meets_c[0]),
                " to ",
                degrees(sensor.meets_c[1]),
                ".",
            )
        )
    parts.append(facts([("Stood for hours, as warm as", sensor.rests_with)]))
    parts.append(facts((one.when, one.reads) for one in sensor.healthy))
    if sensor.board_input:
        parts.append(
            el(
                "p",
                f"The board feeds it {format_plain(sensor.board_input.supply_v)} V through a "
                "pull-up of "
                f"{format_ohm(sensor.board_input.pull_up_ohm)}.",
            )
        )
    return join(parts)


def _board_test(context: SiteContext, sensor: Sensor) -> Html:
    """Return the stand-in resistors, folded, and the scripts of every form on the page."""
    if not (sensor.curve and sensor.testable and context.catalog.characteristic(sensor.curve)):
        return Html("")
    fold = el(
        "details",
        el("summary", "Stand-in resistors: test the board's input without the sensor"),
        stand_in_form(sensor.curve, board=sensor.board_input),
        class_="ohm-js",
    )
    return join([fold, form_scripts(context, curves_of_family(context, sensor.family))])


def _codes(context: SiteContext, sensor: Sensor) -> list[Html]:
    found = []
    for code in context.catalog.users_of(sensor, Code):
        if any(one.sensor == sensor.id for one in code.suspects):
            found.append(context.link(code, shown_name(code)))
    return found


def _cases(context: SiteContext, sensor: Sensor) -> list[Html]:
    return [
        join([f"{one.on.isoformat()}: ", context.link(one)])
        for one in sorted(context.catalog.users_of(sensor, Case), key=reading_order)
    ]


def _field_readings(context: SiteContext, sensor: Sensor) -> Html:
    """Return what sound sensors read in the field, and whether that is centred on the curve."""
    curve = context.catalog.characteristic(sensor.curve) if sensor.curve else None
    if curve is None:
        return Html("")
    found = good_readings(sensor, curve=curve, cases=context.notes.of(Case).values())
    if not found:
        return Html("")
    rows = [
        [
            context.link(one.case, one.case.on.isoformat()),
            format_ohm(one.reading.r),
            degrees(one.reading.t_c),
            kelvin(one.error_k),
        ]
        for one in found
    ]
    return section(
        "Good readings from past jobs",
        table(f"{sensor.label}: sound readings in the field", ["Job", "Read", "At", "Off"], rows),
        _centred(mean_offset([one.error_k for one in found])),
    )


def _centred(told: MeanOffset) -> Html:
    readings = f"{told.count} good reading{'s' if told.count != 1 else ''}"
    if told.half_k is None:
        return el("p", f"{readings}: too few to say whether they sit on the curve.")
    said = [
        f"Mean offset of {readings}: ",
        kelvin(told.mean_k),
        " ± ",
        kelvin(told.half_k),
        " (95 %). ",
    ]
    if not told.off_centre:
        return el("p", said, "They sit on the curve.")
    return el(
        "p",
        el("strong", "Not centred on the curve. "),
        said,
        "Either our readings are taken with a bias, or this is not quite the part's curve: "
        "check the curve's source before trusting a close verdict.",
        class_="ohm-draft",
    )
