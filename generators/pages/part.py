"""A part's page: what it is, what it should read, how to replace it, what to plug back."""

from __future__ import annotations

from kb.answers.winding_notes import balance_of_one
from kb.catalog import reading_order
from kb.model import Case, Family, Method, Part
from kb.model.insulation import Insulation
from kb.numbers.rounding import format_ohm, format_plain
from kb.part_facts import winding_facts
from kb.words.catalogue import name_of
from kb.words.phrase import capital, said, sentence

from ..components import (
    caution_box,
    caution_line,
    degrees,
    draft_badge,
    fold,
    live_marked,
    other_names,
    past_jobs,
    source_line,
    two_columns,
)
from ..forms.insulation_form import insulation_form
from ..forms.scripts import form_scripts
from ..forms.settings_form import settings_form
from ..forms.winding_form import winding_form
from ..html import Child, Html, bullets, el, facts, join, section, steps, table
from ..page import Page
from ..said import value_of
from ..site_context import SiteContext
from .part_refit import part_drawing, proofs, refit_list


def make_part(context: SiteContext, part: Part) -> Page:
    """Return the page of one part, in the order in which it is worked on."""
    family = context.catalog.get(Family, part.families[0])
    work = [
        section("Windings", _windings(context, part)),
        section("Insulation", _insulation(context, part)),
        section(
            "Rule out first: what would kill a new one", bullets(map(live_marked, part.rule_out))
        ),
        section("Write down before it comes out", settings_form(part, family=family)),
        _replace(part),
        refit_list(part),
        proofs(context, part),
    ]
    body = join(
        [
            draft_badge(part),
            _jumps(context, part, family=family),
            el("p", part.does, _dear(part), class_="ohm-lead"),
            caution_line(context, family),
            two_columns(work, beside=part_drawing(context, part)),
            _rest(context, part),
            form_scripts(context, forms=_forms(part)),
        ]
    )
    return Page(
        path=f"parts/{part.id}.md",
        title=part.name,
        kind="part",
        summary=f"{family.name}: {part.does}",
        trail=(("Families", "families/index.html"), (family.name, family.href)),
        body=body,
    )


def _jumps(context: SiteContext, part: Part, *, family: Family) -> Html:
    """Return the ways down the page; first the one that is wanted with a screwdriver in hand."""
    ways = {
        "put-back": ("Put back", part.refit),
        "write-down-before-it-comes-out": ("Settings", part.settings),
        "replace-it": ("Replace", part.replace),
        "prove-it": ("Prove", part.prove),
        "windings": ("Windings", part.windings),
        "insulation": ("Insulation", part.insulation),
        "to-order": ("Order", part.order),
    }
    links = [el("a", words, href=f"#{name}") for name, (words, there) in ways.items() if there]
    job = el("a", "Job", href=f"{context.root}jobs/{family.id}.html")
    return el("nav", links, job, class_="ohm-jumps", aria_label="On this page")


def _rest(context: SiteContext, part: Part) -> Html:
    """Return what is looked up, folded."""
    methods = bullets(context.link_to(Method, method_id) for method_id in part.methods)
    cases = sorted(context.catalog.users_of(part, Case), key=reading_order)
    return join(
        [
            fold("To order", _order(part)),
            fold("How to test it", methods),
            _accusing(context, part),
            fold("Sensors plugged into it", bullets(_plugged(context, part))),
            past_jobs(context, cases),
            fold("About it", other_names(part), _on(context, part), source_line(context, part)),
        ]
    )


def _forms(part: Part) -> list[str]:
    """Return the names of the forms that the page has."""
    there = {
        "winding": part.windings is not None,
        "insulation": part.insulation is not None,
        "ticks": bool(part.refit or part.prove),
        "settings": bool(part.settings),
    }
    return [form for form, has in there.items() if has]


def _dear(part: Part) -> Html | None:
    if not part.dear:
        return None
    return join(
        [" ", el("strong", "A dear part."), " Rule everything else out before you order it."]
    )


def _replace(part: Part) -> Html | None:
    """Return how to replace it, what can hurt first."""
    if not part.replace:
        return None
    cautions: list[Child] = [*part.cautions]
    return section(
        "Replace it",
        caution_box(cautions, title="While replacing") if cautions else None,
        steps(map(live_marked, part.replace)),
    )


def _order(part: Part) -> Html:
    labour = f"{format_plain(part.labour_min)} min" if part.labour_min else None
    return facts([("Order", part.order), ("Labour", labour)])


def _accusing(context: SiteContext, part: Part) -> Html:
    codes = context.catalog.codes_accusing(part)
    return fold("Codes that accuse it", bullets(context.link(code) for code in codes))


def _on(context: SiteContext, part: Part) -> Html:
    return el("p", "On: ", context.links(context.catalog.families_of(part)), ".")


def _windings(context: SiteContext, part: Part) -> Html | None:
    windings = part.windings
    if windings is None:
        return None
    rows: list[list[Child]] = []
    for pair, r_ohm in windings.pairs.items():
        row: list[Child] = [pair, format_ohm(r_ohm)]
        if windings.tolerance_percent:
            a = windings.tolerance_percent / 100
            row.append(f"{format_ohm(r_ohm * (1 - a))} to {format_ohm(r_ohm * (1 + a))}")
        rows.append(row)
    heads: list[Child] = ["Leads", join(["At ", degrees(windings.at_c)])]
    if windings.tolerance_percent:
        heads.append("Within")
    words = [f"Of {value_of('metal', windings.metal)}."]
    if windings.connection != "unknown":
        words.append(f" {capital(name_of('connection', name=windings.connection))}.")
    if windings.balance_percent:
        percent = format_plain(windings.balance_percent)
        words.append(f" Equal windings agree within {percent} % of their mean.")
        held = balance_of_one(winding_facts(part, windings=windings))
        words += [f" {sentence(statement)}" for statement in held]
    return join(
        [
            table(f"Windings of {part.name}", heads, rows),
            el("p", words),
            winding_form(context, part=part, windings=windings),
        ]
    )


def _insulation(context: SiteContext, part: Part) -> Html | None:
    limit = part.insulation
    if limit is None:
        return None
    return join(
        [
            facts(
                [
                    ("At least", format_ohm(limit.min_ohm)),
                    ("At", degrees(limit.at_c)),
                    ("Test voltage", f"{format_plain(limit.test_v)} V direct, no more"),
                    ("Rated", f"{format_plain(limit.rated_v)} V" if limit.rated_v else None),
                    ("Winding insulation", _wound(limit)),
                    ("Disconnect first", limit.disconnect),
                ]
            ),
            el(
                "p",
                el("strong", "Never test insulation through a board or a sensor."),
                " Discharge the winding to earth after the test.",
            ),
            insulation_form(context, part=part, limit=limit),
        ]
    )


def _wound(limit: Insulation) -> str:
    """Return what the winding is insulated with, how it is wound, where it stands."""
    coils = f", {value_of('coils', limit.coils)}" if limit.coils == "form-wound" else ""
    stands = {True: ", in refrigerant", False: ", not in refrigerant", None: ""}[limit.hermetic]
    return f"{said(f'insulation.material-{limit.material}')}{coils}{stands}"


def _plugged(context: SiteContext, part: Part) -> list[Html]:
    return [
        join([el("strong", sensor.plug.mark), " ", context.link(sensor)])
        for sensor in context.catalog.sensors_plugged_into(part)
        if sensor.plug is not None
    ]
