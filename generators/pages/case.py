"""A case's page: one past job as a story, with its readings and what was learnt."""

from __future__ import annotations

import math

from kb.made_pages import case_photo_path
from kb.model import Case, Code, Family, Part, Sensor
from kb.model.case import Cause, Reading
from kb.numbers.ohm_digits import ohm_digits
from kb.numbers.rounding import format_ohm, format_plain
from kb.words.catalogue import name_of

from ..components import degrees, draft_badge, other_names, siblings, source_line
from ..html import Child, Html, bullets, el, facts, join, section, table
from ..page import Page
from ..said import value_of
from ..site_context import SiteContext


def make_case(context: SiteContext, case: Case) -> Page:
    """Return the page of one past job."""
    family = context.catalog.get(Family, case.family)
    body = join(
        [
            draft_badge(case),
            el("p", case.found, class_="ohm-lead"),
            other_names(case),
            facts(
                [
                    ("When", f"{case.on.isoformat()}, by {case.by}"),
                    ("Machine", _machine(context, family, which=case.machine)),
                    ("Code", context.link_to(Code, case.code) if case.code else "none shown"),
                    ("Cause", _cause(context, case.cause)),
                    ("Cure", case.cure),
                    ("Took", f"{format_plain(case.minutes)} min"),
                ]
            ),
            _readings(context, case),
            section("Also measured", bullets(case.measured)),
            _photos(context, case),
            section("Learnt", bullets(case.learnt)),
            source_line(context, case),
            siblings(
                context, case, entries=context.catalog.of_family(Case, family.id), label="jobs"
            ),
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


def _machine(context: SiteContext, family: Family, *, which: str | None) -> Child:
    """Return the family's link, and which of several machines it was."""
    return join([context.link(family), f", {which}" if which else None])


def _readings(context: SiteContext, case: Case) -> Html | None:
    """Return what was measured on the job."""
    if not case.readings:
        return None
    rows = [_row(context, reading) for reading in case.readings]
    heads: list[Child] = ["Sensor", "Read", "At", "When"]
    return section("Readings", table("Readings on the job", heads, rows))


def _photos(context: SiteContext, case: Case) -> Html:
    """Return what was photographed, each with what it shows."""
    paths = [case_photo_path(case, number=i + 1) for i in range(len(case.photos))]
    return section(
        "Photos",
        [
            el(
                "figure",
                _photo(context, path, shows=photo.of),
                el("figcaption", photo.of),
                class_="ohm-photo",
            )
            for path, photo in zip(paths, case.photos, strict=True)
        ],
    )


def _photo(context: SiteContext, path: str, *, shows: str) -> Html:
    """Return a photo by its path in the site, its place kept free until it has come."""
    wide, high = context.catalog.photo_size(path)
    return el("img", src=context.root + path, alt=shows, width=wide, height=high, loading="lazy")


def _cause(context: SiteContext, cause: Cause) -> Child:
    if cause.sensor:
        return context.link_to(Sensor, cause.sensor)
    if cause.part:
        return context.link_to(Part, cause.part)
    return cause.what


def _shown(context: SiteContext, reading: Reading) -> str:
    """Return what was read, in the digits that its sensor's curve needs."""
    sensor = context.catalog.get(Sensor, reading.sensor)
    curve = context.catalog.characteristic_of_sensor(sensor)
    if curve is None:
        return format_ohm(reading.r)
    return format_ohm(reading.r, digits=ohm_digits(curve))


def _row(context: SiteContext, reading: Reading) -> list[Child]:
    how = name_of("placement", name=reading.how, form="short") if reading.how else ""
    at: Child = "–"
    if reading.t_c is not None:
        at = join([degrees(reading.t_c), f" {how}" if how else None])
    return [
        context.link_to(Sensor, reading.sensor),
        "OL (over range)" if math.isinf(reading.r) else _shown(context, reading),
        at,
        value_of("after", reading.after),
    ]
