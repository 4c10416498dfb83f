"""A part's page: what it is, what it should read, how to replace it, what to plug back."""

from __future__ import annotations

from kb.answers.winding_notes import balance_of_one
from kb.catalog import reading_order
from kb.made_pages import REFITS
from kb.model import Case, Family, Method, Part
from kb.model.insulation import Insulation
from kb.numbers.rounding import format_ohm
from kb.part_facts import winding_facts
from kb.words.catalogue import name_of
from kb.words.phrase import capital, in_words, listed, sentence

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
from ..in_words import value_of, words_around
from ..page import Page
from ..site_context import SiteContext
from .part_refit import part_drawing, proofs, refit_list


def make_part(context: SiteContext, part: Part) -> Page:
    """Return the page of one part, in the order in which it is worked on."""
    family = context.catalog.get(Family, part.families[0])
    work = [
        section(in_words("part-page.windings"), _windings(context, part), id_="windings"),
        section(in_words("part-page.insulation"), _insulation(context, part), id_="insulation"),
        section(
            in_words("part-page.rule-out"),
            bullets(map(live_marked, part.rule_out)),
            id_="rule-out-first-what-would-kill-a-new-one",
        ),
        section(
            in_words("part-page.settings"),
            settings_form(part, family=family),
            id_="write-down-before-it-comes-out",
        ),
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
        trail=((in_words("part-page.families"), "families/index.html"), (family.name, family.href)),
        body=body,
    )


def _jumps(context: SiteContext, part: Part, *, family: Family) -> Html:
    """Return the ways down the page; first the one that is wanted with a screwdriver in hand."""
    ways = {
        "put-back": ("put-back", part.refit),
        "write-down-before-it-comes-out": ("settings", part.settings),
        "replace-it": ("replace", part.replace),
        "prove-it": ("prove", part.prove),
        "windings": ("windings", part.windings),
        "insulation": ("insulation", part.insulation),
        "to-order": ("order", part.order),
    }
    links = [
        el("a", in_words(f"part-page.way-{way}"), href=f"#{name}")
        for name, (way, there) in ways.items()
        if there
    ]
    job = el("a", in_words("part-page.way-job"), href=f"{context.root}jobs/{family.id}.html")
    sheet = (
        el(
            "a",
            in_words("sheet-page.to-print"),
            href=f"{context.root}{REFITS}/{part.id}.html",
            class_="ohm-to-paper",
        )
        if part.refit
        else None
    )
    return el("nav", links, job, sheet, class_="ohm-jumps", aria_label=in_words("part-page.ways"))


def _rest(context: SiteContext, part: Part) -> Html:
    """Return what is looked up, folded."""
    methods = bullets(context.link_to(Method, method_id) for method_id in part.methods)
    cases = sorted(context.catalog.users_of(part, Case), key=reading_order)
    return join(
        [
            fold(in_words("part-page.order"), _order(part), id_="to-order"),
            fold(in_words("part-page.methods"), methods, id_="how-to-test-it"),
            _accusing(context, part),
            fold(
                in_words("part-page.plugged"),
                bullets(_plugged(context, part)),
                id_="sensors-plugged-into-it",
            ),
            past_jobs(context, cases),
            fold(
                in_words("part-page.about"),
                other_names(part),
                _on(context, part),
                source_line(context, part),
                id_="about-it",
            ),
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
    dear = el("strong", in_words("part-page.dear-first"))
    return join([" ", words_around("part-page.dear", dear=dear)])


def _replace(part: Part) -> Html | None:
    """Return how to replace it, what can hurt first."""
    if not part.replace:
        return None
    cautions: list[Child] = [*part.cautions]
    return section(
        in_words("part-page.replace"),
        caution_box(cautions, title=in_words("part-page.while-replacing")) if cautions else None,
        steps(map(live_marked, part.replace)),
        id_="replace-it",
    )


def _order(part: Part) -> Html:
    labour = part.labour_min and in_words("part-page.minutes", minutes=part.labour_min)
    rows = {"order-text": part.order, "labour": labour or None}
    return facts((in_words(f"part-page.{key}"), value) for key, value in rows.items())


def _accusing(context: SiteContext, part: Part) -> Html:
    codes = context.catalog.codes_accusing(part)
    links = bullets(context.link(code) for code in codes)
    return fold(in_words("part-page.accusing"), links, id_="codes-that-accuse-it")


def _on(context: SiteContext, part: Part) -> Html:
    families = context.links(context.catalog.families_of(part))
    return el("p", words_around("part-page.on", families=families))


def _windings(context: SiteContext, part: Part) -> Html | None:
    windings = part.windings
    if windings is None:
        return None
    rows: list[list[Child]] = []
    for pair, r_ohm in windings.pairs.items():
        row: list[Child] = [pair, format_ohm(r_ohm)]
        if windings.tolerance_percent:
            a = windings.tolerance_percent / 100
            low, high = format_ohm(r_ohm * (1 - a)), format_ohm(r_ohm * (1 + a))
            row.append(in_words("part-windings.span", low=low, high=high))
        rows.append(row)
    heads: list[Child] = [
        in_words("part-windings.leads"),
        words_around("part-windings.at", t=degrees(windings.at_c)),
    ]
    if windings.tolerance_percent:
        heads.append(in_words("part-windings.within"))
    words = [in_words("part-windings.of-metal", metal=value_of("metal", windings.metal))]
    if windings.connection != "unknown":
        words.append(f" {capital(name_of('connection', name=windings.connection))}.")
    if windings.balance_percent:
        words.append(f" {in_words('part-windings.agree', percent=windings.balance_percent)}")
        held = balance_of_one(winding_facts(part, windings=windings))
        words += [f" {sentence(statement)}" for statement in held]
    return join(
        [
            table(in_words("part-windings.caption", part=part.name), heads, rows),
            el("p", words),
            winding_form(context, part=part, windings=windings),
        ]
    )


def _insulation(context: SiteContext, part: Part) -> Html | None:
    limit = part.insulation
    if limit is None:
        return None
    never = el("strong", in_words("part-insulation.never-first"))
    rated = in_words("part-insulation.volts", volts=limit.rated_v) if limit.rated_v else None
    rows: dict[str, Child] = {
        "least": format_ohm(limit.min_ohm),
        "at": degrees(limit.at_c),
        "test-voltage": in_words("part-insulation.direct", volts=limit.test_v),
        "rated": rated,
        "wound": _wound(limit),
        "disconnect": limit.disconnect,
    }
    return join(
        [
            facts((in_words(f"part-insulation.{key}"), value) for key, value in rows.items()),
            el("p", words_around("part-insulation.never", never=never)),
            insulation_form(context, part=part, limit=limit),
        ]
    )


def _wound(limit: Insulation) -> str:
    """Return what the winding is insulated with, how it is wound, where it stands."""
    words = [in_words(f"insulation.material-{limit.material}")]
    if limit.coils == "form-wound":
        words.append(value_of("coils", limit.coils))
    if limit.hermetic is not None:
        where = "in-refrigerant" if limit.hermetic else "no-refrigerant"
        words.append(in_words(f"part-insulation.{where}"))
    return listed(words, joiner="comma")


def _plugged(context: SiteContext, part: Part) -> list[Html]:
    return [
        join([el("strong", sensor.plug.mark), " ", context.link(sensor)])
        for sensor in context.catalog.sensors_plugged_into(part)
        if sensor.plug is not None
    ]
