"""A sensor's page: where it is, what it should read now, who can judge it, what follows."""

from __future__ import annotations

from collections.abc import Mapping

from kb.catalog import reading_order, shown_name
from kb.facts import steps_by_code
from kb.field_readings import good_readings
from kb.model import Case, Code, Curve, Drawing, Family, Method, Part, Sensor
from kb.numbers.characteristic import Characteristic
from kb.numbers.mean_offset import MeanOffset, mean_offset
from kb.numbers.ohm_digits import ohm_digits
from kb.numbers.rounding import format_ohm, format_plain

from ..components import (
    caution_line,
    dated,
    degrees,
    draft_badge,
    fold,
    kelvin,
    siblings,
    source_line,
)
from ..expected import expected_table, round_temperatures
from ..forms.loop_form import loop_section
from ..forms.scripts import form_scripts, late_curves, late_script
from ..forms.sensor_form import sensor_form
from ..forms.stand_in_form import stand_in_form
from ..html import Child, Html, bullets, el, facts, join, section, table
from ..meters_fit import meters_section
from ..page import Page
from ..pins import photo_of
from ..said import value_of
from ..site_context import SiteContext
from ..sketch import draw_sketch

OUTCOMES = {
    "when_good": "Right for the temperature",
    "when_bad": "Wrong",
    "when_open": "Open circuit",
    "when_short": "Short circuit",
}
"""How a reading can turn out, by the field that says what follows."""


OUTCOMES = {
    "when_good": "Right for the temperature",
    "when_bad": "Wrong",
    "when_open": "Open circuit",
    "when_short": "Short circuit",
}
"""How a reading can turn out, by the field that says what follows."""


def make_sensor(context: SiteContext, sensor: Sensor) -> Page:
    """Return the page of one sensor, in the order in which it is used.

    What it is, how not to be hurt and the reading stand on the first screen; then where it is and
    what is healthy; everything that is looked up now and then is folded.
    """
    family = context.catalog.get(Family, sensor.family)
    body = join(
        [
            draft_badge(sensor),
            _plug_line(sensor),
            el(
                "div",
                el("div", _reading(context, sensor, family=family), class_="ohm-two-first"),
                el(
                    "div",
                    _find_it(context, sensor),
                    _healthy(sensor),
                    _expected(context, sensor),
                    class_="ohm-two-beside",
                ),
                el("div", _looked_up(context, sensor), class_="ohm-two-then"),
                class_="ohm-two",
            ),
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


def _plug_line(sensor: Sensor) -> Html:
    """Return what the hand looks for at the board: the mark at the socket, its colour, its pins."""
    plug = sensor.plug
    if plug is None:
        return Html("")
    pins = (
        f"pin{'s' if len(plug.pins) > 1 else ''} {' and '.join(plug.pins)}" if plug.pins else None
    )
    words = ", ".join(part for part in (plug.colour, pins) if part)
    return el(
        "p", el("strong", plug.mark, class_="ohm-plug-mark"), el("span", words), class_="ohm-plug"
    )


def _reading(context: SiteContext, sensor: Sensor, *, family: Family) -> Html:
    """Return the line of caution, and below it where a reading is judged, or why none can be."""
    if not sensor.testable:
        return join([_untestable(sensor), caution_line(context, family)])
    return join([caution_line(context, family), _form(context, sensor)])


def _form(context: SiteContext, sensor: Sensor) -> Html:
    if _judged_curve(context, sensor):
        return sensor_form(context, sensor=sensor)
    return loop_section(context, sensor=sensor)


def _looked_up(context: SiteContext, sensor: Sensor) -> Html:
    """Return what is folded: what is looked up now and then, not on every reading."""
    return join(
        [
            _then(context, sensor),
            _meters(context, sensor),
            _methods(context, sensor),
            _board_test(context, sensor),
            _accusing(context, sensor),
            _history(context, sensor),
            _about(sensor),
        ]
    )


def _then(context: SiteContext, sensor: Sensor) -> Html:
    """Return what follows from each way a reading can turn out, and where a code says otherwise."""
    own = {name: getattr(sensor, name) for name in OUTCOMES}
    by_code = steps_by_code(context.catalog, sensor)
    return fold(
        "What follows from a reading",
        _outcomes(own),
        [
            [
                el("p", "Under ", context.link(context.catalog.get(Code, code_id)), " instead:"),
                _outcomes(steps),
            ]
            for code_id, steps in sorted(by_code.items())
        ],
        open_beside=True,
    )


def _outcomes(steps: Mapping[str, str | None]) -> Html:
    return facts((words, steps.get(name)) for name, words in OUTCOMES.items())


def _meters(context: SiteContext, sensor: Sensor) -> Html | None:
    if not sensor.testable:
        return None
    return meters_section(
        context, sensor.curve, meets_c=sensor.meets_c, allow_k=sensor.allow_k, titled=fold
    )


def _methods(context: SiteContext, sensor: Sensor) -> Html:
    methods = (context.link_to(Method, method_id) for method_id in sensor.methods)
    return fold("How to test it", bullets(methods), open_beside=True)


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
    board = (
        join([el("strong", plug.mark), " on ", context.link_to(Part, plug.board)]) if plug else None
    )
    rows: list[tuple[str, Child]] = [
        ("Where", sensor.place),
        (
            "Reach",
            [
                value_of("reach", sensor.reach),
                f": {sensor.reach_how}" if sensor.reach_how else None,
            ],
        ),
        ("Plug", board),
        ("Shared pins", _pin_sharers(context, sensor)),
    ]
    drawn: list[Child] = []
    if sensor.pinned:
        drawing = context.catalog.get(Drawing, sensor.pinned.drawing)
        # Its other pins are no ways here: they are too near each other for a thumb in a glove.
        drawn = [
            draw_sketch(drawing, here=sensor.pinned.pin, photo=photo_of(context, drawing)),
            el("p", context.link(drawing, "Every pin of this drawing")),
        ]
    return section("Find it", drawn, facts(rows))


def _pin_sharers(context: SiteContext, sensor: Sensor) -> Child:
    """Return the ways to the sensors that the machine has on this sensor's very pins."""
    ids = sensor.plug.shared_with if sensor.plug else []
    links = [context.link_to(Sensor, sensor_id) for sensor_id in ids]
    return join(["With ", join(links, ", "), ": a meter reads them together"]) if links else None


def _about(sensor: Sensor) -> Html:
    """Return what is asked when it is talked about, or ordered."""
    aka = [name for name in sensor.aka if name.casefold() != sensor.label.casefold()]
    return fold(
        "About it",
        facts(
            [("Senses", sensor.senses), ("Also called", ", ".join(aka)), ("To order", sensor.order)]
        ),
    )


def _healthy(sensor: Sensor) -> Html:
    """Return what a healthy machine shows, and when."""
    return section(
        "Healthy values", facts((healthy.when, healthy.reads) for healthy in sensor.healthy)
    )


def _expected(context: SiteContext, sensor: Sensor) -> Html:
    """Return what it should read by its curve, where it goes, and what its board makes of it."""
    parts: list[Child] = [_table(context, sensor)]
    if sensor.meets_c:
        low_c, high_c = sensor.meets_c
        parts.append(el("p", "In service it meets ", degrees(low_c), " to ", degrees(high_c), "."))
    if sensor.rests_with:
        parts.append(el("p", f"Stood for hours, it is as warm as: {sensor.rests_with}."))
    if sensor.curve:
        allow = sensor.allow_k
        tolerates = [". The machine tolerates an error of ", kelvin(allow)] if allow else None
        parts.append(el("p", "Curve: ", context.link_to(Curve, sensor.curve), tolerates, "."))
    board = sensor.board_input
    if board is not None:
        feeds = f"The board feeds it {format_plain(board.supply_v)} V through a pull-up of "
        parts.append(el("p", f"{feeds}{format_ohm(board.pull_up_ohm)}."))
    return fold("What it should read", *parts, open_beside=True)


def _judged_curve(context: SiteContext, sensor: Sensor) -> Characteristic | None:
    """Return the curve that a reading is judged by; None for a sensor that no meter can judge."""
    if sensor.meets_c is None or not sensor.testable:
        return None
    return context.catalog.characteristic_of_sensor(sensor)


def _table(context: SiteContext, sensor: Sensor) -> Html | None:
    curve = _judged_curve(context, sensor)
    if curve is None or sensor.meets_c is None:
        return None
    low_c = max(curve.low_c, sensor.meets_c[0])
    high_c = min(curve.high_c, sensor.meets_c[1])
    temperatures_c = round_temperatures(
        low_c, high_c=high_c, step_c=5.0 if high_c - low_c <= 80 else 10.0
    )
    caption = f"{sensor.label}: expected resistance"
    return expected_table(curve, at_c=temperatures_c, caption=caption)


def _board_test(context: SiteContext, sensor: Sensor) -> Html:
    """Return the stand-in resistors, folded, and the scripts of every form on the page."""
    if not (sensor.curve and sensor.testable and context.catalog.characteristic_of_sensor(sensor)):
        return Html("")
    stand_ins = el(
        "div",
        fold(
            "Stand-in resistors",
            el("p", "They test the board's input without the sensor."),
            stand_in_form(sensor.curve, board=sensor.board_input),
            late_script(context, form="stand-in"),
        ),
        class_="ohm-js",
    )
    scripts = form_scripts(context, forms=["judge"], curve_ids=[sensor.curve])
    return join([stand_ins, late_curves(context, but=sensor.curve), scripts])


def _accusing(context: SiteContext, sensor: Sensor) -> Html:
    codes = context.catalog.codes_accusing(sensor)
    return fold(
        "Codes that accuse it", bullets(context.link(code) for code in codes), open_beside=True
    )


def _history(context: SiteContext, sensor: Sensor) -> Html:
    """Return the past jobs that it had a part in, and what it read there when it was sound."""
    cases = sorted(context.catalog.users_of(sensor, Case), key=reading_order)
    return fold("Past jobs", dated(context, cases), _field_readings(context, sensor))


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
            format_ohm(good.reading.r, digits=ohm_digits(curve)),
            degrees(good.reading.t_c) if good.reading.t_c is not None else "–",
            kelvin(good.error_k),
        ]
        for good in found
    ]
    return join(
        [
            table(
                f"{sensor.label}: sound readings in the field", ["Job", "Read", "At", "Off"], rows
            ),
            _centred(mean_offset([good.error_k for good in found])),
        ]
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
