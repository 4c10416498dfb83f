"""A part's page: what it is, what it should read, how to replace it, what to plug back."""

from __future__ import annotations

from kb.catalog import reading_order
from kb.model import Case, Family, Method, Part, Sensor
from kb.model.part import Refit
from kb.numbers.rounding import format_ohm, format_plain

from ..components import (
    caution_box,
    degrees,
    draft_badge,
    family_cautions,
    other_names,
    past_jobs,
    source_line,
    to_the_job,
)
from ..forms.insulation_form import insulation_form
from ..forms.scripts import form_scripts
from ..forms.winding_form import winding_form
from ..html import Child, Html, bullets, el, facts, join, section, steps, table
from ..page import Page
from ..site_context import SiteContext


def make_part(context: SiteContext, part: Part) -> Page:
    """Return the page of one part."""
    family = context.catalog.get(Family, part.families[0])
    body = join(
        [
            draft_badge(part),
            el("p", part.does, class_="ohm-lead"),
            other_names(part),
            _dear(part),
            family_cautions(context, family),
            section("Windings", _windings(context, part)),
            section("Insulation", _insulation(context, part)),
            section(
                "How to test it",
                bullets(context.link_to(Method, method_id) for method_id in part.methods),
            ),
            section("Rule out first: what would kill a new one", bullets(part.rule_out)),
            _replace(part),
            section("Put back", _refit(part)),
            section("Prove it", _proofs(context, part)),
            _order(part),
            _accusing(context, part),
            section("Sensors plugged into it", bullets(_plugged(context, part))),
            past_jobs(context, sorted(context.catalog.users_of(part, Case), key=reading_order)),
            to_the_job(context, family),
            _on(context, part),
            source_line(context, part),
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


def _forms(part: Part) -> list[str]:
    """Return the names of the forms that the page has."""
    there = {
        "winding": part.windings is not None,
        "insulation": part.insulation is not None,
        "ticks": bool(part.refit or part.prove),
    }
    return [form for form, has in there.items() if has]


def _dear(part: Part) -> Html | None:
    if not part.dear:
        return None
    return el("p", el("strong", "A dear part."), " Rule everything else out before you order it.")


def _replace(part: Part) -> Html | None:
    """Return how to replace it, what can hurt first."""
    if not part.replace:
        return None
    cautions: list[Child] = [*part.cautions]
    return section(
        "Replace it",
        caution_box(cautions, title="While replacing") if cautions else None,
        steps(part.replace),
    )


def _order(part: Part) -> Html:
    labour = f"{format_plain(part.labour_min)} min" if part.labour_min else None
    return section("To order", facts([("Order", part.order), ("Labour", labour)]))


def _accusing(context: SiteContext, part: Part) -> Html:
    codes = context.catalog.codes_accusing(part)
    return section("Codes that accuse it", bullets(context.link(code) for code in codes))


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
    words = [f"Of {windings.metal}."]
    if windings.balance_percent:
        percent = format_plain(windings.balance_percent)
        words.append(f" Equal windings agree within {percent} % of their mean.")
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
                    ("Winding insulation", limit.material),
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


def _refit(part: Part) -> Html | None:
    if not part.refit:
        return None
    rows = [_refit_row(part, i, refit) for i, refit in enumerate(part.refit)]
    return join(
        [
            el(
                "p",
                f"{len(rows)} things to put back, in this order: {_sorts(part)}. Tick each one.",
                class_="ohm-tick-count",
                data_of=len(rows),
            ),
            el(
                "ol",
                rows,
                class_="ohm-tick",
                data_list=f"{part.id}-refit",
                data_done="put back",
                data_finish="Everything is back",
            ),
        ]
    )


def _sorts(part: Part) -> str:
    """Return how many pieces of each sort go back: `7 plugs, 4 screws, 1 seal`."""
    pieces: dict[str, float] = {}
    for refit in part.refit:
        pieces[refit.is_a] = pieces.get(refit.is_a, 0) + refit.count
    return ", ".join(
        f"{format_plain(count)} {sort}{'' if count == 1 or sort == 'paste' else 's'}"
        for sort, count in pieces.items()
    )


def _refit_row(part: Part, index: int, refit: Refit) -> Html:
    words: list[Child] = [refit.what]
    if refit.mark:
        words = [el("strong", refit.mark), " ", refit.what]
    if refit.count != 1:
        words.append(f" ({format_plain(refit.count)})")
    return _tick(f"{part.id}-refit", index, words, refit.note)


def _tick(name: str, index: int, words: Child, note: Child) -> Html:
    box = f"{name}-{index + 1}"
    return el(
        "li",
        el("input", type="checkbox", id=box, data_tick=f"{index + 1}"),
        el("label", words, el("span", note, class_="ohm-note") if note else None, for_=box),
    )


def _proofs(context: SiteContext, part: Part) -> Html | None:
    if not part.prove:
        return None
    rows = [
        _tick(
            f"{part.id}-prove",
            i,
            [el("strong", proof.what), ": ", proof.must],
            [
                f"Watch for {format_plain(proof.watch_min)} minutes. " if proof.watch_min else None,
                context.link_to(Sensor, proof.sensor) if proof.sensor else None,
            ],
        )
        for i, proof in enumerate(part.prove)
    ]
    return el(
        "ol",
        rows,
        class_="ohm-tick",
        data_list=f"{part.id}-prove",
        data_done="proved",
        data_finish="It is proved",
    )


def _plugged(context: SiteContext, part: Part) -> list[Html]:
    return [
        join([el("strong", sensor.plug.mark), " ", context.link(sensor)])
        for sensor in context.catalog.sensors_plugged_into(part)
        if sensor.plug is not None
    ]
