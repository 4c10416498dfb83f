"""A family's page: its codes, its sensors and what they should read, its drawings and parts."""

from __future__ import annotations

from kb.catalog import plain_name
from kb.model import Case, Code, Drawing, Family, Part, Sensor

from ..blinks import draw_blinks
from ..components import (
    card,
    cards,
    charge_words,
    degrees,
    draft_badge,
    family_cautions,
    other_names,
    past_jobs,
    source_line,
)
from ..expected import expected_cells
from ..forms.round_form import round_form
from ..forms.scripts import form_scripts
from ..forms.sensor_form import curves_of_family
from ..html import Html, el, facts, join, section, steps, table
from ..page import Page
from ..site_context import SiteContext
from ..sketch import draw_sketch


def make_family(context: SiteContext, family: Family) -> Page:
    """Return the page of one family."""
    sensors = context.catalog.of_family(Sensor, family.id)
    body = join(
        [
            draft_badge(family),
            el("p", family.does, class_="ohm-lead"),
            other_names(family),
            _jumps(context, family),
            _codes(context, family),
            family_cautions(context, family, whole=True),
            section("Sensors", _sensors(context, sensors)),
            _round(context, family),
            _ask(family),
            section(
                "Where things are",
                [_drawing(context, drawing_id) for drawing_id in family.drawings],
            ),
            _parts(context, family),
            _about(family),
            past_jobs(context, context.catalog.of_family(Case, family.id)),
            _your_job(context, family),
            source_line(context, family),
        ]
    )
    return Page(
        path=f"families/{family.id}.md",
        title=family.name,
        kind="family",
        summary=family.does,
        trail=(("Families", "families/index.html"),),
        body=body,
    )


def _ask(family: Family) -> Html:
    """Return how a machine of this family is asked for more."""
    return section(
        "Ask the machine",
        [
            join([el("h3", controller.name), el("p", controller.shows), steps(controller.ask)])
            for controller in family.controllers
        ],
    )


def _parts(context: SiteContext, family: Family) -> Html:
    """Return the parts as cards."""
    return section(
        "Parts",
        cards(
            [
                card(context.href(part), kind=part.is_a, title=part.name, note=part.does)
                for part in context.catalog.of_family(Part, family.id)
            ]
        ),
    )


def _about(family: Family) -> Html:
    """Return what the plate and the supply say."""
    return section(
        "About the machine",
        facts(
            [
                ("Maker", family.maker),
                ("On the plate", ", ".join(family.plate)),
                ("Supply", family.supply.volts),
                ("Isolate at", family.supply.isolate_at),
                ("Stored charge", charge_words(family)),
                ("Refrigerant", family.refrigerant),
            ]
        ),
    )


def _your_job(context: SiteContext, family: Family) -> Html:
    """Return the way to the page that gathers a job."""
    return section(
        "Your job here",
        el(
            "p",
            el(
                "a",
                "Gather it, hand it over, keep it as a case",
                href=f"{context.root}jobs/{family.id}.html",
            ),
        ),
    )


def _jumps(context: SiteContext, family: Family) -> Html:
    """Return the ways down a long page."""
    ways = [
        ("codes", "Codes", context.catalog.of_family(Code, family.id)),
        ("sensors", "Sensors", context.catalog.of_family(Sensor, family.id)),
        ("round-of-readings", "Round", round_form(context, family=family)),
        ("ask-the-machine", "Ask it", family.controllers),
        ("where-things-are", "Where", family.drawings),
        ("parts", "Parts", context.catalog.of_family(Part, family.id)),
        ("past-jobs", "Past jobs", context.catalog.of_family(Case, family.id)),
    ]
    links = [
        # The round needs scripts; without them there is nothing to jump to.
        el("a", title, href=f"#{name}", class_="ohm-js" if name == "round-of-readings" else None)
        for name, title, there in ways
        if there
    ]
    return el("nav", links, class_="ohm-jumps", aria_label="On this page")


def _codes(context: SiteContext, family: Family) -> Html:
    rows = []
    for code in context.catalog.of_family(Code, family.id):
        ways = [
            draw_blinks(way.blinks) if way.blinks else el("span", way.spoken(), class_="ohm-code")
            for way in code.shown
        ]
        rows.append(
            [
                el(
                    "a",
                    ways,
                    href=context.href(code),
                    class_="ohm-code-link",
                    aria_label=code.shown[0].spoken(),
                ),
                context.link(code, plain_name(code)),
            ]
        )
    if not rows:
        return Html("")
    return section("Codes", table(f"Codes of {family.name}", ["Shown", "Means"], rows))


def _sensors(context: SiteContext, sensors: list[Sensor]) -> Html:
    wanted = [0.0, 10.0, 20.0, 30.0]
    rows = []
    for sensor in sensors:
        label = context.link(sensor)
        rows.append([label, *expected_cells(context, sensor, wanted)])
    if not rows:
        return Html("")
    heads = ["Sensor", *[degrees(t_c) for t_c in wanted]]
    return table("Expected resistance of each sensor", heads, rows)


def _round(context: SiteContext, family: Family) -> Html:
    form = round_form(context, family=family)
    if not form:
        return Html("")
    return join(
        [
            el("div", section("Round of readings", form), class_="ohm-js"),
            form_scripts(
                context, forms=["round"], curve_ids=curves_of_family(context, family_id=family.id)
            ),
        ]
    )


def _drawing(context: SiteContext, drawing_id: str) -> Html:
    drawing = context.catalog.get(Drawing, drawing_id)
    return draw_sketch(
        drawing, goes_to=pins_go_to(context, drawing), photo_href=photo_href(context, drawing)
    )


def pins_go_to(context: SiteContext, drawing: Drawing) -> dict[str, tuple[str, str]]:
    """Return where a tap on each pin leads: the sensor or part that sits there."""
    goes: dict[str, tuple[str, str]] = {}
    pinned: list[Part | Sensor] = [
        *context.catalog.users_of(drawing, Part),
        *context.catalog.users_of(drawing, Sensor),
    ]
    for entry in pinned:
        if entry.pinned and entry.pinned.drawing == drawing.id:
            goes[entry.pinned.pin] = (context.href(entry), entry.name)
    return goes


def photo_href(context: SiteContext, drawing: Drawing) -> str | None:
    """Return where a drawing's photo lies, from the page."""
    return f"{context.root}drawings/{drawing.id}{_ending(drawing)}" if drawing.photo else None


def _ending(drawing: Drawing) -> str:
    return "." + (drawing.photo or "").rpartition(".")[2].lower()
