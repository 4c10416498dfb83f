"""A case's page: one past job as a story, with its readings and what was learnt."""

from __future__ import annotations

import math

from kb.made_pages import case_photo_path
from kb.model import Case, Code, Family, Part, Sensor
from kb.model.case import Cause, Reading
from kb.numbers.ohm_digits import ohm_digits
from kb.numbers.rounding import format_ohm
from kb.words.catalogue import name_of
from kb.words.phrase import in_words

from ..components import degrees, draft_badge, other_names, siblings, source_line
from ..html import Child, Html, bullets, el, facts, join, section, table
from ..in_words import value_of
from ..kind_words import list_title
from ..page import Page
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
                    (
                        in_words("case-page.when"),
                        in_words("case-page.on-by", on=case.on.isoformat(), by=case.by),
                    ),
                    (in_words("case-page.machine"), _machine(context, family, which=case.machine)),
                    (in_words("shared.code"), _code(context, case)),
                    (in_words("case-page.cause"), _cause(context, case.cause)),
                    (in_words("case-page.cure"), case.cure),
                    (in_words("case-page.took"), in_words("shared.minutes", minutes=case.minutes)),
                ]
            ),
            _readings(context, case),
            section(in_words("case-page.measured"), bullets(case.measured), id_="also-measured"),
            _photos(context, case),
            section(in_words("case-page.learnt"), bullets(case.learnt), id_="learnt"),
            source_line(context, case),
            siblings(context, case, entries=context.catalog.of_family(Case, family.id)),
        ]
    )
    return Page(
        path=f"cases/{case.id}.md",
        title=case.name,
        kind="case",
        summary=f"{family.name}, {case.on.isoformat()}",
        trail=((list_title("cases"), "cases/index.html"),),
        body=body,
    )


def _machine(context: SiteContext, family: Family, *, which: str | None) -> Child:
    """Return the family's link, and which of several machines it was."""
    return join([context.link(family), f", {which}" if which else None])


def _code(context: SiteContext, case: Case) -> Child:
    return context.link_to(Code, case.code) if case.code else in_words("case-page.no-code")


def _readings(context: SiteContext, case: Case) -> Html | None:
    """Return what was measured on the job."""
    if not case.readings:
        return None
    rows = [_row(context, reading) for reading in case.readings]
    heads: list[Child] = [
        in_words("shared.sensor"),
        in_words("shared.read"),
        in_words("shared.at"),
        in_words("case-page.when"),
    ]
    readings = table(in_words("case-page.readings-table"), heads, rows)
    return section(in_words("case-page.readings"), readings, id_="readings")


def _photos(context: SiteContext, case: Case) -> Html:
    """Return what was photographed, each with what it shows."""
    paths = [case_photo_path(case, number=i + 1) for i in range(len(case.photos))]
    return section(
        in_words("case-page.photos"),
        [
            el(
                "figure",
                _photo(context, path, shows=photo.of),
                el("figcaption", photo.of),
                class_="ohm-photo",
            )
            for path, photo in zip(paths, case.photos, strict=True)
        ],
        id_="photos",
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
        in_words("shared.over-range") if math.isinf(reading.r) else _shown(context, reading),
        at,
        value_of("after", reading.after),
    ]
