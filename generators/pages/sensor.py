"""A sensor's page: where it is, what it should read now, who can judge it, what follows."""

from __future__ import annotations

from collections.abc import Mapping

from kb.catalog import reading_order, shown_name
from kb.facts import steps_by_code
from kb.field_readings import good_readings
from kb.model import Case, Code, Curve, Drawing, Family, Method, Part, Sensor
from kb.model.sensor import Plug
from kb.numbers.characteristic import Characteristic
from kb.numbers.mean_offset import MeanOffset, mean_offset
from kb.numbers.ohm_digits import ohm_digits
from kb.numbers.rounding import format_ohm, format_plain
from kb.words.phrase import in_words, number_of

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
from ..in_words import value_of, words_around
from ..kind_words import list_title
from ..meters_fit import meters_section
from ..page import Page
from ..pins import photo_of
from ..site_context import SiteContext
from ..sketch import draw_sketch

OUTCOMES = ("when_good", "when_bad", "when_open", "when_short")
"""How a reading can turn out, by the field that says what follows: ids of the catalogue too."""


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
            siblings(context, sensor, entries=context.catalog.of_family(Sensor, family.id)),
        ]
    )
    return Page(
        path=f"sensors/{sensor.id}.md",
        title=shown_name(sensor),
        kind="sensor",
        summary=f"{family.name}: {sensor.senses}",
        trail=((list_title("families"), "families/index.html"), (family.name, family.href)),
        body=body,
    )


def _plug_line(sensor: Sensor) -> Html:
    """Return what the hand looks for at the board: the mark at the socket, its colour, its pins."""
    plug = sensor.plug
    if plug is None:
        return Html("")
    how_many = "sensor-page.pins" if len(plug.pins) > 1 else "sensor-page.pin"
    pins = in_words(how_many, pins=plug.pins) if plug.pins else None
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
        in_words("sensor-page.follows"),
        _outcomes(own),
        [
            [
                el("p", words_around("sensor-page.under-code", code=_code(context, code_id))),
                _outcomes(steps),
            ]
            for code_id, steps in sorted(by_code.items())
        ],
        id_="what-follows-from-a-reading",
        open_beside=True,
    )


def _code(context: SiteContext, code_id: str) -> Html:
    return context.link(context.catalog.get(Code, code_id))


def _outcomes(steps: Mapping[str, str | None]) -> Html:
    return facts((in_words(f"sensor-page.{name}"), steps.get(name)) for name in OUTCOMES)


def _meters(context: SiteContext, sensor: Sensor) -> Html | None:
    if not sensor.testable:
        return None
    return meters_section(
        context, sensor.curve, meets_c=sensor.meets_c, allow_k=sensor.allow_k, titled=fold
    )


def _methods(context: SiteContext, sensor: Sensor) -> Html:
    methods = (context.link_to(Method, method_id) for method_id in sensor.methods)
    return fold(
        in_words("shared.how-to-test"), bullets(methods), id_="how-to-test-it", open_beside=True
    )


def _untestable(sensor: Sensor) -> Html:
    if sensor.untestable is None:
        return Html("")
    return el(
        "section",
        el("h2", in_words("sensor-page.untestable")),
        el("p", sensor.untestable.why),
        el("p", el("strong", in_words("sensor-page.instead"), " "), sensor.untestable.instead),
        class_="ohm-untestable",
    )


def _find_it(context: SiteContext, sensor: Sensor) -> Html:
    plug = sensor.plug
    board = _plugged(context, plug) if plug else None
    rows: list[tuple[str, Child]] = [
        (in_words("shared.where"), sensor.place),
        (
            in_words("shared.reach"),
            [
                value_of("reach", sensor.reach),
                f": {sensor.reach_how}" if sensor.reach_how else None,
            ],
        ),
        (in_words("shared.plug"), board),
        (in_words("sensor-page.shared-pins"), _pin_sharers(context, sensor)),
    ]
    drawn: list[Child] = []
    if sensor.pinned:
        drawing = context.catalog.get(Drawing, sensor.pinned.drawing)
        # Its other pins are no ways here: they are too near each other for a thumb in a glove.
        drawn = [
            draw_sketch(drawing, here=sensor.pinned.pin, photo=photo_of(context, drawing)),
            el("p", context.link(drawing, in_words("sensor-page.every-pin"))),
        ]
    return section(in_words("sensor-page.find-it"), drawn, facts(rows), id_="find-it")


def _plugged(context: SiteContext, plug: Plug) -> Html:
    """Return which socket it is, and on which board."""
    mark, part = el("strong", plug.mark), context.link_to(Part, plug.board)
    return words_around("sensor-page.plugged", mark=mark, board=part)


def _pin_sharers(context: SiteContext, sensor: Sensor) -> Child:
    """Return the ways to the sensors that the machine has on this sensor's very pins."""
    ids = sensor.plug.shared_with if sensor.plug else []
    links = [context.link_to(Sensor, sensor_id) for sensor_id in ids]
    return words_around("sensor-page.shared", sensors=join(links, ", ")) if links else None


def _about(sensor: Sensor) -> Html:
    """Return what is asked when it is talked about, or ordered."""
    aka = [name for name in sensor.aka if name.casefold() != sensor.label.casefold()]
    return fold(
        in_words("shared.about-it"),
        facts(
            [
                (in_words("sensor-page.senses"), sensor.senses),
                (in_words("shared.also-called-key"), ", ".join(aka)),
                (in_words("shared.to-order"), sensor.order),
            ]
        ),
        id_="about-it",
    )


def _healthy(sensor: Sensor) -> Html:
    """Return what a healthy machine shows, and when."""
    return section(
        in_words("sensor-page.healthy"),
        facts((healthy.when, healthy.reads) for healthy in sensor.healthy),
        id_="healthy-values",
    )


def _expected(context: SiteContext, sensor: Sensor) -> Html:
    """Return what it should read by its curve, where it goes, and what its board makes of it."""
    parts: list[Child] = [_table(context, sensor)]
    if sensor.meets_c:
        low_c, high_c = sensor.meets_c
        meets = words_around("sensor-page.meets", low=degrees(low_c), high=degrees(high_c))
        parts.append(el("p", meets))
    if sensor.rests_with:
        parts.append(el("p", in_words("sensor-page.rests-with", place=sensor.rests_with)))
    if sensor.curve:
        parts.append(el("p", _curve(context, sensor)))
    board = sensor.board_input
    if board is not None:
        volts, pull_up = format_plain(board.supply_v), format_ohm(board.pull_up_ohm)
        parts.append(el("p", in_words("sensor-page.feeds", volts=volts, pull_up=pull_up)))
    return fold(
        in_words("sensor-page.expected"), *parts, id_="what-it-should-read", open_beside=True
    )


def _curve(context: SiteContext, sensor: Sensor) -> Html:
    """Return which curve it follows, and how far off the machine lets it be."""
    link = context.link_to(Curve, sensor.curve or "")
    if not sensor.allow_k:
        return words_around("sensor-page.curve", curve=link)
    return words_around("sensor-page.curve-allows", curve=link, allow=kelvin(sensor.allow_k))


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
    caption = in_words("sensor-page.expected-table", label=sensor.label)
    return expected_table(curve, at_c=temperatures_c, caption=caption)


def _board_test(context: SiteContext, sensor: Sensor) -> Html:
    """Return the stand-in resistors, folded, and the scripts of every form on the page."""
    if not (sensor.curve and sensor.testable and context.catalog.characteristic_of_sensor(sensor)):
        return Html("")
    stand_ins = el(
        "div",
        fold(
            in_words("sensor-page.stand-ins"),
            el("p", in_words("sensor-page.stand-ins-test")),
            stand_in_form(sensor.curve, board=sensor.board_input),
            late_script(context, form="stand-in"),
            id_="stand-in-resistors",
        ),
        class_="ohm-js",
    )
    scripts = form_scripts(context, forms=["judge"], curve_ids=[sensor.curve])
    return join([stand_ins, late_curves(context, but=sensor.curve), scripts])


def _accusing(context: SiteContext, sensor: Sensor) -> Html:
    codes = context.catalog.codes_accusing(sensor)
    return fold(
        in_words("shared.codes-accusing"),
        bullets(context.link(code) for code in codes),
        id_="codes-that-accuse-it",
        open_beside=True,
    )


def _history(context: SiteContext, sensor: Sensor) -> Html:
    """Return the past jobs that it had a part in, and what it read there when it was sound."""
    cases = sorted(context.catalog.users_of(sensor, Case), key=reading_order)
    return fold(
        in_words("shared.past-jobs"),
        dated(context, cases),
        _field_readings(context, sensor),
        id_="past-jobs",
    )


def _field_readings(context: SiteContext, sensor: Sensor) -> Html:
    """Return what sound sensors read in the field, and whether that is centred on the curve."""
    curve = context.catalog.characteristic_of_sensor(sensor)
    if curve is None:
        return Html("")
    found = good_readings(sensor, curve=curve, cases=context.catalog.users_of(sensor, Case))
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
    heads = [
        in_words("sensor-page.job"),
        in_words("shared.read"),
        in_words("shared.at"),
        in_words("shared.off"),
    ]
    return join(
        [
            table(in_words("sensor-page.field-readings", label=sensor.label), heads, rows),
            _centred(mean_offset([good.error_k for good in found])),
        ]
    )


def _centred(offset: MeanOffset) -> Html:
    readings = number_of("good-reading", count=offset.count)
    if offset.half_k is None:
        return el("p", in_words("sensor-page.too-few", readings=readings))
    mean = words_around(
        "sensor-page.mean",
        readings=readings,
        mean=kelvin(offset.mean_k),
        half=kelvin(offset.half_k),
    )
    if not offset.off_centre:
        return el("p", mean, " ", in_words("sensor-page.on-curve"))
    return el(
        "p",
        el("strong", in_words("sensor-page.off-centre"), " "),
        mean,
        " ",
        in_words("sensor-page.off-centre-then"),
        class_="ohm-draft",
    )
