"""A family on paper: codes and what to check on the front, sensors, plugs, drawings on the back."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from kb.answers.code_checks import Check, answer_code
from kb.catalog import plain_name, shown_name, spoken
from kb.code_facts import code_facts
from kb.laws import LAWS
from kb.made_pages import SHEETS
from kb.model import Code, Curve, Drawing, Family, Part, Sensor
from kb.model.sensor import Plug
from kb.numbers.rounding import NARROW, format_t
from kb.words.phrase import capital, in_words, phrase, sentence

from ..blinks import counted_blinks, draw_blinks
from ..components import draft_badge, family_cautions, ring_line, source_line
from ..expected import expected_words
from ..html import Child, Html, bullets, el, join, section, steps, table
from ..in_words import value_of, words_around
from ..kind_words import list_title
from ..page import Page
from ..pins import photo_of
from ..site_context import SiteContext
from ..sketch import draw_sketch
from ..tolerance_words import tolerance_words
from .code import NOTHING_TOUCHED, POWERED, in_short
from .curve import limits_section

FIRST = 3
"""So many suspects stand beside a code on paper; its page has them all."""
STEP_C = 10
"""From row to row of what sensors should read."""


def make_family_sheet(context: SiteContext, family: Family) -> Page:
    """Return the page of one family that is made for paper.

    Safety comes first and lies open; then what is read beside the machine before it is opened, and
    overleaf what is read at its open door.
    """
    body = join(
        [
            draft_badge(family),
            el("p", family.does, class_="ohm-lead"),
            el("p", words_around("sheet-page.from", page=context.link(family)), class_="ohm-from"),
            family_cautions(context, family, whole=True),
            ring_line(context),
            _codes(context, family),
            _asked(family),
            el(
                "div",
                _sensors(context, family),
                _expected(context, family),
                _limits(context, family),
                [_drawing(context, drawing_id) for drawing_id in family.drawings],
                source_line(context, family),
                class_="ohm-overleaf",
            ),
        ]
    )
    return Page(
        path=f"{SHEETS}/{family.id}.md",
        title=family.name,
        kind="paper",
        summary=in_words("sheet-page.summary", family=family.name),
        trail=((list_title("families"), "families/index.html"), (family.name, family.href)),
        on_paper=True,
        body=body,
    )


def _codes(context: SiteContext, family: Family) -> Html:
    rows = [
        [_shown(code), _meaning(code), _first_suspects(context, code)]
        for code in context.catalog.of_family(Code, family.id)
    ]
    if not rows:
        return Html("")
    heads = [in_words(f"sheet-page.{key}") for key in ("shown", "means", "first")]
    caption = in_words("family-page.codes-table", family=family.name)
    return section(
        list_title("codes"),
        table(caption, heads, rows, class_="ohm-ruled ohm-by-code"),
        id_="codes",
    )


def _shown(code: Code) -> Html:
    """Return every way in which the machine shows a code: what is read, then what is counted."""
    read = [el("span", spoken(way), class_="ohm-code") for way in code.shown if not way.blinks]
    counted = [
        el("div", draw_blinks(way.blinks), " ", counted_blinks(way.blinks))
        for way in code.shown
        if way.blinks
    ]
    return join([join(read, " "), counted])


def _meaning(code: Code) -> Html:
    draft = el("strong", f" {in_words('shared.draft-word')}") if code.draft else None
    return join([el("strong", plain_name(code)), draft, el("div", value_of("stops", code.stops))])


def _first_suspects(context: SiteContext, code: Code) -> Html:
    """Return what to check first, in the order of the code's own page."""
    answer = answer_code(code_facts(context.catalog, code=code))
    suspects = [_suspect(context, code=code, check=check) for check in answer.checks[:FIRST]]
    more = len(answer.checks) - FIRST
    if more > 0:
        suspects[-1] = join([suspects[-1], "; ", in_words("sheet-page.more", count=more)])
    return steps(suspects)


def _suspect(context: SiteContext, *, code: Code, check: Check) -> Html:
    entry = code.suspects[check.suspect.place]
    name = capital(entry.what or "")
    if entry.sensor:
        name = shown_name(context.catalog.get(Sensor, entry.sensor))
    elif entry.part:
        name = shown_name(context.catalog.get(Part, entry.part))
    live = [" ⚠ ", value_of("live", "live")] if check.suspect.live else None
    return join([name, live, " (", phrase(in_short(check)), ")"])


def _asked(family: Family) -> Html:
    """Return how a machine is asked for more, before it is isolated."""
    asked = [
        join([el("h3", controller.name), el("p", controller.shows), steps(controller.ask)])
        for controller in family.controllers
    ]
    if not asked:
        return Html("")
    title = f"{in_words('family-page.ask')}: {phrase(POWERED)}"
    return section(title, el("p", sentence(NOTHING_TOUCHED)), asked, id_="ask-the-machine")


def _sensors(context: SiteContext, family: Family) -> Html:
    marks = _curve_marks(context, family)
    rows = [
        [
            join([el("strong", sensor.label), " ", plain_name(sensor), _draft(sensor)]),
            _place(sensor),
            _plug(context, sensor.plug),
            marks.get(sensor.curve or "", "–"),
        ]
        for sensor in context.catalog.of_family(Sensor, family.id)
    ]
    if not rows:
        return Html("")
    heads = [
        in_words("shared.sensor"),
        in_words("shared.where"),
        in_words("shared.plug"),
        in_words("sheet-page.curve"),
    ]
    caption = in_words("sheet-page.sensors-table", family=family.name)
    return section(
        list_title("sensors"),
        table(caption, heads, rows, class_="ohm-ruled ohm-by-plug"),
        id_="sensors",
    )


def _draft(sensor: Sensor) -> Html | None:
    return el("strong", f" {in_words('shared.draft-word')}") if sensor.draft else None


def _place(sensor: Sensor) -> Html:
    """Return where it sits; where no meter can judge it, what follows instead."""
    reach = value_of("reach", sensor.reach)
    words: list[Child] = [f"{sensor.place} ({reach})"]
    if sensor.untestable:
        no_meter = el("strong", in_words("sensor-page.untestable"))
        words.append(el("div", no_meter, ". ", sensor.untestable.instead))
    return join(words)


def _plug(context: SiteContext, plug: Plug | None) -> Html:
    """Return the mark at the socket, its board, the pins and the colour."""
    if plug is None:
        return join("–")
    many = "sensor-page.pins" if len(plug.pins) > 1 else "sensor-page.pin"
    pins = in_words(many, pins=plug.pins) if plug.pins else None
    board = shown_name(context.catalog.get(Part, plug.board))
    at = words_around("sensor-page.plugged", mark=el("strong", plug.mark), board=board)
    more = ", ".join(part for part in (plug.colour, pins) if part)
    return join([at, el("div", more) if more else None])


def _curve_marks(context: SiteContext, family: Family) -> dict[str, str]:
    """Return a letter for each curve of the family, in the order of its sensors."""
    sensors = context.catalog.of_family(Sensor, family.id)
    ids = dict.fromkeys(sensor.curve for sensor in sensors if sensor.curve)
    return {curve_id: chr(ord("A") + place) for place, curve_id in enumerate(ids)}


def _expected(context: SiteContext, family: Family) -> Html:
    """Return what the family's sensors should read, every ten degrees, a column for each curve."""
    curves = [
        (mark, curve_id, curve)
        for curve_id, mark in _curve_marks(context, family).items()
        if (curve := context.catalog.characteristic(curve_id)) is not None
    ]
    if not curves:
        return Html("")
    sensors = context.catalog.of_family(Sensor, family.id)
    met_c = [limit_c for sensor in sensors for limit_c in sensor.meets_c or ()]
    at_c = _every_ten(min(met_c), high_c=max(met_c))
    of = {
        curve_id: ", ".join(sensor.label for sensor in sensors if sensor.curve == curve_id)
        for _, curve_id, _ in curves
    }
    heads: list[Child] = ["°C", "°F", *(join([el("div", f"{m}: {of[c]}")]) for m, c, _ in curves)]
    columns = [expected_words(curve, at_c) for *_, curve in curves]
    rows = [
        [_figure(t_c, unit="C"), _figure(t_c, unit="F"), *read]
        for t_c, *read in zip(at_c, *columns, strict=True)
    ]
    caption = in_words("sheet-page.expected-table", family=family.name)
    return section(
        in_words("sheet-page.expected"),
        table(caption, heads, rows, class_="ohm-figures"),
        bullets(
            _promise(context, curve_id, mark=mark)
            for curve_id, mark in _curve_marks(context, family).items()
        ),
        id_="what-they-should-read",
    )


def _every_ten(low_c: float, *, high_c: float) -> Sequence[float]:
    """Return the multiples of ten degrees from the one below `low_c` to the one above `high_c`."""
    first, last = int(low_c // STEP_C), int(-(-high_c // STEP_C))
    return [float(STEP_C * place) for place in range(first, last + 1)]


def _figure(t_c: float, *, unit: str) -> str:
    """Return a temperature without its unit, which stands at the head of the column."""
    return format_t(t_c, decimals=0, unit=unit).partition(NARROW)[0]


def _promise(context: SiteContext, curve_id: str, *, mark: str) -> Html:
    """Return which curve a letter stands for, and how far a good part may be off it."""
    curve = context.catalog.get(Curve, curve_id)
    characteristic = context.catalog.characteristic(curve_id)
    draft = [" ", el("strong", in_words("shared.draft-word"))] if curve.draft else None
    off = tolerance_words(curve, characteristic) if characteristic is not None else None
    return join([el("strong", mark), ": ", curve.name, draft, ". ", off])


def _limits(context: SiteContext, family: Family) -> list[Html]:
    """Return the limits of what has limits and no curve."""
    curves = [context.catalog.get(Curve, curve_id) for curve_id in _curve_marks(context, family)]
    return [
        limits_section(curve, law.limits(curve))
        for curve in curves
        if (law := LAWS[curve.law]).limits is not None
    ]


def _drawing(context: SiteContext, drawing_id: str) -> Html:
    drawing = context.catalog.get(Drawing, drawing_id)
    return section(
        drawing.name,
        draw_sketch(drawing, photo=photo_of(context, drawing)),
        _pinned(drawing),
        id_=f"drawing-{drawing.id}",
    )


def _pinned(drawing: Drawing) -> Html:
    """Return every label of a drawing with its place in words."""
    pins: Iterable[Child] = (
        join([el("strong", name), f" {pin.where}"]) for name, pin in drawing.pins.items()
    )
    return bullets(pins, class_="ohm-pinned")
