"""A part's page: what it is, what it should read, how to replace it, what to plug back."""

from __future__ import annotations

from kb.catalog import reading_order
from kb.model import Case, Code, Family, Method, Part, Sensor
from kb.model.part import Refit
from kb.numbers.rounding import format_ohm

from ..components import (
    caution_box,
    degrees,
    draft_badge,
    family_cautions,
    other_names,
    source_line,
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
            family_cautions(context, family),
            section("Windings", _windings(context, part)),
            section("Insulation", _insulation(context, part)),
            section(
                "How to test it", bullets(context.link_to(Method, one) for one in part.methods)
            ),
            section("Rule out first: what would kill a new one", bullets(part.rule_out)),
            section(
                "Replace it",
                caution_box(list(part.cautions), title="While replacing")
                if part.cautions
                else None,
                steps(part.replace),
            )
            if part.replace
            else None,
            section("Put back", _refit(part)),
            section("Prove it", _proofs(context, part)),
            section(
                "To order",
                facts(
                    [
                        ("Order", part.order),
                        ("Labour", f"{part.labour_min:g} min" if part.labour_min else None),
                    ]
                ),
            ),
            section(
                "Codes that accuse it",
                bullets(
                    context.link(one)
                    for one in context.catalog.users_of(part, Code)
                    if any(suspect.part == part.id for suspect in one.suspects)
                ),
            ),
            section("Sensors plugged into it", bullets(_plugged(context, part))),
            section(
                "Past jobs",
                bullets(
                    join([f"{one.on.isoformat()}: ", context.link(one)])
                    for one in sorted(context.catalog.users_of(part, Case), key=reading_order)
                ),
            ),
            el(
                "p",
                el(
                    "a",
                    "Your job: what you read, ticked and proved",
                    href=f"{context.root}jobs/{family.id}.html",
                ),
            ),
            el(
                "p",
                "On: ",
                context.links(context.catalog.get(Family, one) for one in part.families),
                ".",
            ),
            source_line(context, part),
            form_scripts(context),
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
    said = [f"Of {windings.metal}."]
    if windings.balance_percent:
        said.append(f" Equal windings agree within {windings.balance_percent:g} % of their mean.")
    return join(
        [
            table(f"Windings of {part.name}", heads, rows),
            el("p", said),
            winding_form(context, part, windings=windings),
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
                    ("Test voltage", f"{limit.test_v:g} V direct, no more"),
                    ("Disconnect first", limit.disconnect),
                ]
            ),
            el(
                "p",
                el("strong", "Never test insulation through a board or a sensor."),
                " Discharge the winding to earth after the test.",
            ),
            insulation_form(context, part, limit=limit),
        ]
    )


def _refit(part: Part) -> Html | None:
    if not part.refit:
        return None
    rows = [_refit_row(part, i, one) for i, one in enumerate(part.refit)]
    return join(
        [
            el(
                "p",
                f"{len(rows)} things to put back, in this order. Tick each one.",
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


def _refit_row(part: Part, index: int, one: Refit) -> Html:
    said: list[Child] = [el("strong", one.mark), " ", one.what] if one.mark else [one.what]
    if one.count != 1:
        said.append(f" ({one.count:g})")
    return _tick(f"{part.id}-refit", index, said, one.note)


def _tick(name: str, index: int, said: Child, note: Child) -> Html:
    box = f"{name}-{index + 1}"
    return el(
        "li",
        el("input", type="checkbox", id=box, data_tick=f"{index + 1}"),
        el("label", said, el("span", note, class_="ohm-note") if note else None, for_=box),
    )


def _proofs(context: SiteContext, part: Part) -> Html | None:
    if not part.prove:
        return None
    rows = [
        _tick(
            f"{part.id}-prove",
            i,
            [el("strong", one.what), ": ", one.must],
            [
                f"Watch for {one.watch_min:g} minutes. " if one.watch_min else None,
                context.link_to(Sensor, one.sensor) if one.sensor else None,
            ],
        )
        for i, one in enumerate(part.prove)
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
        join([el("strong", one.plug.mark), " ", context.link(one)])
        for one in context.catalog.users_of(part, Sensor)
        if one.plug and one.plug.board == part.id
    ]
