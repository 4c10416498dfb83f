"""A sensor's page: where it is, what it should read now, who can judge it, what follows."""

from __future__ import annotations

from kb.catalog import reading_order, shown_name
from kb.field_readings import good_readings
from kb.model import Case, Curve, Drawing, Family, Method, Part, Sensor
from kb.numbers.mean_offset import MeanOffset, mean_offset
from kb.numbers.rounding import format_ohm, format_plain

from ..components import (
    caution_line,
    degrees,
    draft_badge,
    kelvin,
    other_names,
    past_jobs,
    siblings,
    source_line,
    to_the_job,
)
from ..expected import expected_table, round_temperatures
from ..forms.scripts import form_scripts
from ..forms.sensor_form import curves_of_family, sensor_form
from ..forms.stand_in_form import stand_in_form
from ..html import Child, Html, bullets, el, facts, join, section, table
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
            caution_line(context, family),
            _untestable(sensor),
            _find_it(context, sensor),
            section("What it should read", _expected(context, sensor)),
            _then(sensor),
            _meters(context, sensor),
            _methods(context, sensor),
            _board_test(context, sensor),
            _accusing(context, sensor),
            _field_readings(context, sensor),
            past_jobs(context, sorted(context.catalog.users_of(sensor, Case), key=reading_order)),
            section("To order", el("p", sensor.order) if sensor.order else None),
            to_the_job(context, family),
            source_line(context, sensor),
            siblings(
                context,
                sensor,
                entries=context.catalog.of_family(Sensor, family.id),
                label="sensors",
            ),
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


def _then(sensor: Sensor) -> Html:
    """Return what follows from each way a reading can turn out."""
    return section(
        "Then",
        facts(
            [
                ("Right for the temperature", sensor.when_good),
                ("Wrong", sensor.when_bad),
                ("Open circuit", sensor.when_open),
                ("Short circuit", sensor.when_short),
            ]
        ),
    )


def _meters(context: SiteContext, sensor: Sensor) -> Html | None:
    if not sensor.testable:
        return None
    return meters_section(context, sensor.curve, meets_c=sensor.meets_c, allow_k=sensor.allow_k)


def _methods(context: SiteContext, sensor: Sensor) -> Html:
    methods = (context.link_to(Method, method_id) for method_id in sensor.methods)
    return section("How to test it", bullets(methods))


def _jumps(sensor: Sensor) -> Html:
    """Return the ways down a long page, for whoever has done the reading before."""
    ways = [("find-it", "Find it")]
    if sensor.curve or sensor.healthy:
        ways.append(("what-it-should-read", "What it should read"))
    return el(
        "nav",
        [el("a", title, href=f"#{name}") for name, title in ways],
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
    rows: list[tuple[str, Child]] = [
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
    """Return what it should read: by its curve, in service, and as a healthy machine has it."""
    parts: list[Child] = [_by_curve(context, sensor)]
    if sensor.curve:
        allow = sensor.allow_k
        tolerates = [". The machine tolerates an error of ", kelvin(allow)] if allow else None
        parts.append(el("p", "Curve: ", context.link_to(Curve, sensor.curve), tolerates, "."))
    if sensor.meets_c:
        low_c, high_c = sensor.meets_c
        parts.append(el("p", "In service it meets ", degrees(low_c), " to ", degrees(high_c), "."))
    parts.append(facts([("Stood for hours, as warm as", sensor.rests_with)]))
    parts.append(facts((healthy.when, healthy.reads) for healthy in sensor.healthy))
    board = sensor.board_input
    if board is not None:
        feeds = f"The board feeds it {format_plain(board.supply_v)} V through a pull-up of "
        parts.append(el("p", f"{feeds}{format_ohm(board.pull_up_ohm)}."))
    return join(parts)


def _by_curve(context: SiteContext, sensor: Sensor) -> Html | None:
    """Return the form and the table; nothing for a sensor that no meter can judge."""
    curve = context.catalog.characteristic_of_sensor(sensor)
    if curve is None or sensor.meets_c is None or not sensor.testable:
        return None
    low_c = max(curve.low_c, sensor.meets_c[0])
    high_c = min(curve.high_c, sensor.meets_c[1])
    temperatures_c = round_temperatures(
        low_c, high_c=high_c, step_c=5.0 if high_c - low_c <= 80 else 10.0
    )
    caption = f"{sensor.label}: expected resistance"
    return join(
        [
            sensor_form(context, sensor=sensor),
            expected_table(curve, at_c=temperatures_c, caption=caption),
        ]
    )


def _board_test(context: SiteContext, sensor: Sensor) -> Html:
    """Return the stand-in resistors, folded, and the scripts of every form on the page."""
    if not (sensor.curve and sensor.testable and context.catalog.characteristic_of_sensor(sensor)):
        return Html("")
    fold = el(
        "details",
        el("summary", "Stand-in resistors: test the board's input without the sensor"),
        stand_in_form(sensor.curve, board=sensor.board_input),
        class_="ohm-js",
    )
    return join(
        [
            fold,
            form_scripts(
                context,
                forms=["judge", "stand-in"],
                curve_ids=curves_of_family(context, family_id=sensor.family),
            ),
        ]
    )


def _accusing(context: SiteContext, sensor: Sensor) -> Html:
    codes = context.catalog.codes_accusing(sensor)
    return section("Codes that accuse it", bullets(context.link(code) for code in codes))


def _field_readings(context: SiteContext, sensor: Sensor) -> Html:
    """Return what sound sensors read in the field, and whether that is centred on the curve."""
    curve = context.catalog.characteristic_of_sensor(sensor)
    if curve is None:
        return Html("")
    found = good_readings(sensor, curve=curve, cases=context.notes.of(Case).values())
    if not found:
        return Html("")
    rows: list[list[Child]] = [
        [
            context.link(good.case, good.case.on.isoformat()),
            format_ohm(good.reading.r),
            degrees(good.reading.t_c) if good.reading.t_c is not None else "–",
            kelvin(good.error_k),
        ]
        for good in found
    ]
    return section(
        "Good readings from past jobs",
        table(f"{sensor.label}: sound readings in the field", ["Job", "Read", "At", "Off"], rows),
        _centred(mean_offset([good.error_k for good in found])),
    )


def _centred(offset: MeanOffset) -> Html:
    readings = f"{offset.count} good reading{'s' if offset.count != 1 else ''}"
    if offset.half_k is None:
        return el("p", f"{readings}: too few to say whether they sit on the curve.")
    words: list[Child] = [
        f"Mean offset of {readings}: ",
        kelvin(offset.mean_k),
        " ± ",
        kelvin(offset.half_k),
        " (95 %). ",
    ]
    if not offset.off_centre:
        return el("p", words, "They sit on the curve.")
    return el(
        "p",
        el("strong", "Not centred on the curve. "),
        words,
        "Either our readings are taken with a bias, or this is not quite the part's curve: "
        "check the curve's source before trusting a close verdict.",
        class_="ohm-draft",
    )
