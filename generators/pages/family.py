"""A family's page: the ways into it, then codes, sensors, drawings and parts, folded."""

from __future__ import annotations

from kb.catalog import plain_name, spoken
from kb.made_pages import SHEETS
from kb.model import Case, Code, Drawing, Family, Part, Sensor
from kb.model.family import Controller
from kb.words.phrase import in_words

from ..blinks import draw_blinks
from ..components import (
    caution_line,
    charge_words,
    degrees,
    draft_badge,
    fold,
    lines,
    other_names,
    past_jobs,
    source_line,
)
from ..expected import expected_cells
from ..forms.round_form import round_form
from ..forms.scripts import form_scripts
from ..forms.sensor_form import curves_of_family
from ..html import Html, bullets, el, facts, join, steps, table
from ..in_words import value_of
from ..kind_words import list_title
from ..page import Page
from ..pins import photo_of, pins_go_to
from ..site_context import SiteContext
from ..sketch import draw_sketch, pin_links


def make_family(context: SiteContext, family: Family) -> Page:
    """Return the page of one family: the ways first, what they lead to folded below."""
    looked_at = [_sensors(context, family), _where(context, family)]
    looked_up = [
        _codes(context, family),
        _round(context, family),
        _ask(family),
        _parts(context, family),
        past_jobs(context, context.catalog.of_family(Case, family.id)),
        _about(context, family),
    ]
    body = join(
        [
            draft_badge(family),
            _jumps(context, family),
            el("p", family.does, class_="ohm-lead"),
            caution_line(context, family),
            el(
                "div",
                el("div", looked_up[0], class_="ohm-two-first"),
                el("div", looked_at, class_="ohm-two-beside"),
                el("div", looked_up[1:], class_="ohm-two-then"),
                class_="ohm-two",
            ),
        ]
    )
    return Page(
        path=f"families/{family.id}.md",
        title=family.name,
        kind="family",
        summary=family.does,
        trail=((list_title("families"), "families/index.html"),),
        body=body,
    )


def _jumps(context: SiteContext, family: Family) -> Html:
    """Return the ways of the page: Find, the job, and down to each fold."""
    ways = [
        ("codes", list_title("codes"), context.catalog.of_family(Code, family.id)),
        ("sensors", list_title("sensors"), context.catalog.of_family(Sensor, family.id)),
        (
            "round-of-readings",
            in_words("family-page.round-short"),
            round_form(context, family=family),
        ),
        ("ask-the-machine", in_words("family-page.ask-short"), family.controllers),
        ("where-things-are", in_words("shared.where"), family.drawings),
        ("parts", list_title("parts"), context.catalog.of_family(Part, family.id)),
        ("past-jobs", in_words("shared.past-jobs"), context.catalog.of_family(Case, family.id)),
        ("about-the-machine", in_words("family-page.about-short"), True),
    ]
    links = [
        # The round needs scripts; without them there is nothing to jump to.
        el("a", title, href=f"#{name}", class_="ohm-js" if name == "round-of-readings" else None)
        for name, title, there in ways
        if there
    ]
    find = el(
        "button",
        in_words("family-page.find"),
        type="button",
        class_="ohm-js",
        data_ohm_find_within=family.name,
    )
    job = el("a", in_words("family-page.job"), href=f"{context.root}jobs/{family.id}.html")
    sheet = el(
        "a",
        in_words("family-page.print-short"),
        href=f"{context.root}{SHEETS}/{family.id}.html",
        class_="ohm-to-paper",
    )
    return el(
        "nav",
        find,
        job,
        links,
        sheet,
        class_="ohm-jumps",
        aria_label=in_words("shared.on-this-page"),
    )


def _ask(family: Family) -> Html:
    """Return how a machine of this family is asked for more."""
    return fold(
        in_words("family-page.ask"),
        [
            join(
                [
                    el("h3", controller.name),
                    el("p", controller.shows),
                    _pace(controller),
                    steps(controller.ask),
                ]
            )
            for controller in family.controllers
        ],
        id_="ask-the-machine",
    )


def _pace(controller: Controller) -> Html | None:
    """Return how long a lamp is lit and dark, where that was counted."""
    pace = controller.pace
    if pace is None:
        return None
    return el("p", in_words("family-page.pace", **pace.model_dump()))


def _parts(context: SiteContext, family: Family) -> Html:
    """Return the parts, a line each."""
    parts = context.catalog.of_family(Part, family.id)
    ways = lines((context.href(part), part.name, value_of("part", part.is_a)) for part in parts)
    return fold(list_title("parts"), ways, id_="parts")


def _about(context: SiteContext, family: Family) -> Html:
    """Return what the plate and the supply say, and where it is written."""
    return fold(
        in_words("family-page.about"),
        other_names(family),
        facts(
            [
                (in_words("family-page.maker"), family.maker),
                (in_words("family-page.plate"), ", ".join(family.plate)),
                (in_words("family-page.supply"), family.supply.volts),
                (in_words("family-page.isolate-at"), family.supply.isolate_at),
                (in_words("shared.stored-charge"), charge_words(family)),
                (in_words("family-page.refrigerant"), family.refrigerant),
            ]
        ),
        source_line(context, family),
        id_="about-the-machine",
    )


def _codes(context: SiteContext, family: Family) -> Html:
    rows = []
    for code in context.catalog.of_family(Code, family.id):
        ways = [
            draw_blinks(way.blinks) if way.blinks else el("span", spoken(way), class_="ohm-code")
            for way in code.shown
        ]
        rows.append(
            [
                el(
                    "a",
                    ways,
                    href=context.href(code),
                    class_="ohm-code-link",
                    aria_label=spoken(code.shown[0]),
                ),
                context.link(code, plain_name(code)),
            ]
        )
    if not rows:
        return Html("")
    heads = [in_words("family-page.shown"), in_words("family-page.means")]
    codes = table(in_words("family-page.codes-table", family=family.name), heads, rows)
    return fold(list_title("codes"), codes, id_="codes", open_beside=True)


def _sensors(context: SiteContext, family: Family) -> Html:
    wanted = [0.0, 10.0, 20.0, 30.0]
    rows = [
        [context.link(sensor), *expected_cells(context, sensor, wanted)]
        for sensor in context.catalog.of_family(Sensor, family.id)
    ]
    if not rows:
        return Html("")
    heads = [in_words("shared.sensor"), *[degrees(t_c) for t_c in wanted]]
    expected = table(in_words("family-page.sensors-table"), heads, rows, class_="ohm-stacked")
    return fold(list_title("sensors"), expected, id_="sensors", open_beside=True)


def _round(context: SiteContext, family: Family) -> Html:
    form = round_form(context, family=family)
    if not form:
        return Html("")
    return join(
        [
            el(
                "div",
                fold(in_words("family-page.round"), form, id_="round-of-readings"),
                class_="ohm-js",
            ),
            form_scripts(
                context, forms=["round"], curve_ids=curves_of_family(context, family_id=family.id)
            ),
        ]
    )


def _where(context: SiteContext, family: Family) -> Html:
    """Return the family's own drawings with their pins, and the way to the others of it."""
    others = [
        drawing
        for drawing in context.catalog.of_family(Drawing, family.id)
        if drawing.id not in family.drawings
    ]
    return fold(
        in_words("family-page.where"),
        [_drawing(context, drawing_id) for drawing_id in family.drawings],
        el("h3", in_words("family-page.closer")) if others else None,
        bullets(context.link(drawing) for drawing in others),
        id_="where-things-are",
        open_beside=True,
    )


def _drawing(context: SiteContext, drawing_id: str) -> Html:
    drawing = context.catalog.get(Drawing, drawing_id)
    goes = pins_go_to(context, drawing)
    drawn = draw_sketch(drawing, goes_to=goes, photo=photo_of(context, drawing))
    return join([drawn, pin_links(drawing, goes)])
