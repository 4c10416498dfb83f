"""What a lesson looks at: the facts of one entry, as they stand in the notes today."""

from __future__ import annotations

from collections.abc import Callable

from kb.answers.code_checks import Check, answer_code
from kb.answers.instruments import Tools
from kb.answers.reading import ReadingAnswer, ReadingQuestion, answer_reading
from kb.answers.statement import Refusal, Statement
from kb.catalog import Catalog
from kb.code_facts import code_facts
from kb.facts import kit_of, sensor_facts, team_short_ohm
from kb.instruments import meter_of
from kb.model import Code, Curve, Drawing, Entry, Family, Instrument, Method, Part, Sensor
from kb.model.lesson import Look
from kb.numbers.ohm_digits import ohm_digits
from kb.numbers.rounding import format_ohm, format_plain
from kb.words.catalogue import name_of
from kb.words.phrase import Voice, capital, in_words, phrase, sentence

from ..blinks import counted_blinks, draw_blinks
from ..components import degrees, family_cautions, live_marked, method_cautions
from ..expected import expected_table
from ..html import Child, Html, bullets, el, facts, join, steps
from ..in_words import value_of, words_around
from ..pins import photo_of, pins_go_to
from ..site_context import SiteContext
from ..sketch import draw_sketch
from .instrument import held_to
from .part_refit import refit_count

MODELS: dict[str, type[Entry]] = {
    "family": Family,
    "sensor": Sensor,
    "curve": Curve,
    "code": Code,
    "method": Method,
    "instrument": Instrument,
    "part": Part,
    "drawing": Drawing,
}
"""Field of a look → what its id is of."""


def looked_at(context: SiteContext, look: Look) -> Entry:
    """Return the entry that a look is at."""
    field, entry_id = look.entry
    return context.catalog.get(MODELS[field], entry_id)


def live_facts(context: SiteContext, look: Look) -> Html:
    """Return the facts of the entry that a look is at."""
    return _SHOWN[look.entry[0]](context, looked_at(context, look), look)


def _family(context: SiteContext, family: Family, look: Look) -> Html:
    return family_cautions(context, family, whole=True)


def _sensor(context: SiteContext, sensor: Sensor, look: Look) -> Html:
    """Return where a sensor sits; with temperatures what it should read, or a verdict."""
    if look.reading is not None and look.at and look.how:
        return _verdict(context, sensor, look)
    if look.at:
        return _rows(context, sensor.curve or "", look)
    drawn: Child = None
    if sensor.pinned:
        drawing = context.catalog.get(Drawing, sensor.pinned.drawing)
        drawn = draw_sketch(drawing, here=sensor.pinned.pin, photo=photo_of(context, drawing))
    plug = sensor.plug
    socket: Child = None
    if plug:
        mark, board = el("strong", plug.mark), context.link_to(Part, plug.board)
        socket = words_around("sensor-page.plugged", mark=mark, board=board)
    why = sensor.untestable.why if sensor.untestable else None
    reach = capital(f"{value_of('reach', sensor.reach)}: {sensor.reach_how or ''}".rstrip(": "))
    return join(
        [
            drawn,
            facts(
                [
                    (in_words("sensor-page.senses"), sensor.senses),
                    (in_words("shared.where"), sensor.place),
                    (in_words("shared.reach"), reach),
                    (in_words("shared.plug"), socket),
                    (in_words("look.colour"), plug.colour if plug else None),
                    (in_words("look.curve"), _curve_of(context, sensor)),
                    (in_words("sensor-page.untestable"), why),
                ]
            ),
        ]
    )


def _curve_of(context: SiteContext, sensor: Sensor) -> Child:
    return context.link_to(Curve, sensor.curve) if sensor.curve else None


def _curve(context: SiteContext, curve: Curve, look: Look) -> Html:
    return _rows(context, curve.id, look)


def _rows(context: SiteContext, curve_id: str, look: Look) -> Html:
    """Return the rows of a curve's table at the temperatures that the lesson names."""
    curve = context.catalog.characteristic(curve_id)
    if curve is None:
        raise LookupError(f"the curve '{curve_id}' has no table, which `check` refuses")
    name = context.catalog.get(Curve, curve_id).name
    return expected_table(curve, at_c=look.at, caption=in_words("look.rows", curve=name))


def verdict_on(catalog: Catalog, sensor: Sensor, *, look: Look) -> ReadingAnswer:
    """Return the verdict on a reading with the team's own instruments.

    Raises
    ------
    Refusal
        Where a reading cannot be judged so, which `check` refuses.
    """
    kit = kit_of(catalog)
    curve = catalog.computing_curves[sensor.curve or ""]
    tools = Tools(
        meter=next(iter(kit.meters), None),
        thermometer=next(iter(kit.thermometers), None),
        placement=look.how or "",
    )
    question = ReadingQuestion(
        sensor=sensor_facts(catalog, curve=curve, curve_id=sensor.curve or "", sensor=sensor),
        reading=f"{format_plain(look.reading or 0.0, digits=10)} Ω",
        at=format_plain(look.at[0]),
        tools=tools,
        short_ohm=team_short_ohm(catalog),
        kit=kit,
    )
    return answer_reading(question)


def _verdict(context: SiteContext, sensor: Sensor, look: Look) -> Html:
    try:
        answer = verdict_on(context.catalog, sensor, look=look)
    except Refusal as refusal:
        # What `check` lets pass and the numbers do not: why is all there is to show.
        return el("p", sentence(refusal.statement))
    voice = Voice(unit=answer.unit, digits=answer.digits)
    excluded = answer.excluded.statements if answer.excluded else ()
    shape = el(
        "span",
        name_of("verdict", name=answer.state, form="shape"),
        class_="ohm-verdict-shape",
        aria_hidden="true",
    )
    how = in_words("look.taken", how=name_of("placement", name=look.how or "", form="short"))
    shown = format_ohm(look.reading or 0.0, digits=ohm_digits_of(context.catalog, sensor))
    return join(
        [
            facts(
                [
                    (in_words("shared.read"), shown),
                    (in_words("shared.at"), [degrees(look.at[0]), ", ", how]),
                ]
            ),
            el(
                "div",
                el(
                    "p",
                    shape,
                    " ",
                    name_of("verdict", name=answer.state),
                    class_="ohm-verdict-word",
                ),
                el("p", sentence(answer.headline, voice=voice), class_="ohm-verdict-why"),
                class_="ohm-verdict",
                data_verdict=answer.state,
            ),
            bullets(sentence(line, voice=voice) for line in excluded),
            el("p", in_words("look.fits-too")) if answer.explanations else None,
            bullets(
                sentence(explained.statement, voice=voice) for explained in answer.explanations
            ),
        ]
    )


def ohm_digits_of(catalog: Catalog, sensor: Sensor) -> int:
    """Return how many digits of a sensor's ohms tell what a kelvin needs."""
    return ohm_digits(catalog.computing_curves[sensor.curve or ""])


def _code(context: SiteContext, code: Code, look: Look) -> Html:
    """Return how a code is shown, what it means, and its suspects in the order of checks."""
    answer = answer_code(code_facts(context.catalog, code=code))
    return join(
        [
            [
                el("div", draw_blinks(way.blinks), counted_blinks(way.blinks))
                for way in code.shown
                if way.blinks
            ],
            el("p", code.meaning),
            el("p", in_words("look.in-order")),
            steps(_suspect(context, code, check) for check in answer.checks),
            el("p", f"{sentence(answer.expected)}."),
        ]
    )


def _suspect(context: SiteContext, code: Code, check: Check) -> Html:
    suspect = check.suspect
    entry: Sensor | Part | None = None
    if suspect.sensor:
        entry = context.catalog.get(Sensor, suspect.sensor)
    elif suspect.part:
        entry = context.catalog.get(Part, suspect.part)
    figures = {name: check.likely.figures[name] for name in ("of_one_share", "minutes")}
    likely = phrase(Statement(id="code.likely-short", figures=figures))
    name = context.link(entry) if entry else capital(suspect.what or "")
    live = el("strong", " ⚠ ", value_of("live", "live")) if suspect.live else None
    look_for = code.suspects[suspect.place].look_for
    return join([name, f": {likely}.", live, f" {look_for}" if look_for else None])


def _method(context: SiteContext, method: Method, look: Look) -> Html:
    return done_by(context, method)


def done_by(context: SiteContext, method: Method) -> Html:
    """Return how a method is done: its cautions, its steps, how its result is judged."""
    return join(
        [
            method_cautions(context, method),
            steps(map(live_marked, method.steps)),
            el("p", method.judge),
        ]
    )


def _instrument(context: SiteContext, instrument: Instrument, look: Look) -> Html:
    """Return how far off an instrument may be at a reading; without one what it may be held to."""
    if look.reading is None:
        shown = instrument.over_shows
        over = in_words("instrument-page.over", shown=shown) if shown else None
        return join(
            [held_to(instrument), el("p", over) if over else None, bullets(instrument.cautions)]
        )
    meter = meter_of(instrument)
    scale = meter.range_for(look.reading)
    if scale is None:
        raise LookupError(f"'{instrument.id}' cannot show it, which `check` refuses")
    of_reading = look.reading * scale.percent / 100
    off = float(meter.half_width_ohm(look.reading))
    return facts(
        [
            (in_words("look.shows"), format_ohm(look.reading)),
            (in_words("look.range"), format_ohm(scale.span_ohm)),
            (in_words("look.percent", percent=scale.percent), format_ohm(of_reading, digits=3)),
            (
                in_words("look.digits", digits=scale.digits, one=format_ohm(scale.resolution_ohm)),
                format_ohm(scale.digits * scale.resolution_ohm, digits=3),
            ),
            (in_words("look.together"), el("strong", f"± {format_ohm(off, digits=3)}")),
        ]
    )


def _part(context: SiteContext, part: Part, look: Look) -> Html:
    """Return what would kill a new one, and how much goes back when it is replaced."""
    return join(
        [
            el("p", el("strong", in_words("look.kills"))) if part.rule_out else None,
            bullets(map(live_marked, part.rule_out)),
            el("p", refit_count(part)) if part.refit else None,
        ]
    )


def _drawing(context: SiteContext, drawing: Drawing, look: Look) -> Html:
    goes = pins_go_to(context, drawing)
    return draw_sketch(drawing, goes_to=goes, photo=photo_of(context, drawing))


_SHOWN: dict[str, Callable[..., Html]] = {
    "family": _family,
    "sensor": _sensor,
    "curve": _curve,
    "code": _code,
    "method": _method,
    "instrument": _instrument,
    "part": _part,
    "drawing": _drawing,
}
