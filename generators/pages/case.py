"""A case's page: one past job as a story, with its readings and what was learnt."""

from __future__ import annotations

import math

from kb.model import Case, Code, Family, Part, Sensor
from kb.model.case import Cause, Reading
from kb.numbers.rounding import format_ohm
from kb.words.catalogue import name_of

from ..components import degrees, draft_badge, siblings
from ..html import Child, bullets, el, facts, join, section, table
from ..page import Page
from ..site_context import SiteContext


def make_case(context: SiteContext, case: Case) -> Page:
    """Return the page of one past job."""
    family = context.catalog.get(Family, case.family)
    body = join(
        [
            draft_badge(case),
            el("p", case.found, class_="ohm-lead"),
            facts(
                [
                    ("When", f"{case.on.isoformat()}, by {case.by}"),
                    ("Machine", context.link(family)),
                    ("Code", context.link_to(Code, case.code) if case.code else "none shown"),
                    ("Cause", _cause(context, case.cause)),
                    ("Cure", case.cure),
                    ("Took", f"{case.minutes:g} min"),
                ]
            ),
            section(
                "Readings",
                table(
                    "Readings on the job",
                    ["Sensor", "Read", "At", "When"],
                    [_row(context, one) for one in case.readings],
                )
                if case.readings
                else None,
            ),
            section("Learnt", bullets(case.learnt)),
            siblings(context, case, context.catalog.of_family(Case, family.id), "jobs"),
        ]
    )
    return Page(
        path=f"cases/{case.id}.md",
        title=case.name,
        kind="case",
        summary=f"{family.name}, {case.on.isoformat()}",
        trail=(("Past jobs", "cases/index.html"),),
        body=body,
    )


def _cause(context: SiteContext, cause: Cause) -> Child:
    if cause.sensor:
        return context.link_to(Sensor, cause.sensor)
    if cause.part:
        return context.link_to(Part, cause.part)
    return cause.what


def _row(context: SiteContext, one: Reading) -> list[Child]:
    how = name_of("placement", one.how, form="short") if one.how else ""
    at: Child = "–"
    if one.t_c is not None:
        at = join([degrees(one.t_c), f" {how}" if how else None])
    return [
        context.link_to(Sensor, one.sensor),
        "OL (over range)" if math.isinf(one.r) else format_ohm(one.r),
        at,
        f"{one.after} the repair",
    ]
