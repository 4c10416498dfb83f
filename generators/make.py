"""Make every page and every file of data from the plan: nothing is written here."""

from __future__ import annotations

from base64 import b64decode, b64encode
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from functools import partial
from typing import Any

from kb.made_pages import DRILLS, DUE, FIELDS, GUIDE, PRACTICE, SECOND_READER, STOP, STYLE
from kb.model import (
    KINDS,
    Case,
    Code,
    Curve,
    Drawing,
    Entry,
    Family,
    Instrument,
    Lesson,
    Method,
    Part,
    Sensor,
    Source,
    Term,
)

from .browser_data import CurveScript, team_script_text
from .drill_data import SCRIPT as DRILL_SCRIPT
from .drill_data import drill_script_text
from .find_index import make_find_index
from .find_items import find_items
from .html import join
from .page import Page
from .pages.case import make_case
from .pages.changes import make_changes
from .pages.code import make_code
from .pages.curve import make_curve
from .pages.drawing import make_drawing
from .pages.drills import make_drills
from .pages.due import make_due
from .pages.family import make_family
from .pages.family_sheet import make_family_sheet
from .pages.fields import make_fields
from .pages.former import make_former
from .pages.glossary import make_glossary
from .pages.guide import make_guide
from .pages.home import make_home
from .pages.instrument import make_instrument
from .pages.job import make_job
from .pages.lesson import make_lesson
from .pages.lists import make_list
from .pages.method import make_method
from .pages.numbers import make_numbers
from .pages.own import make_own, own_title
from .pages.part import make_part
from .pages.path import make_path
from .pages.practice import make_practice
from .pages.refit_sheet import make_refit_sheet
from .pages.second_reader import make_second_reader
from .pages.sensor import make_sensor
from .pages.slip import slip_fold
from .pages.source import make_source
from .pages.stop import make_stop
from .pages.style import make_style
from .pages.term import make_term
from .pages.which import make_which
from .paper import PAPER, on_paper, paper_style
from .plan import Plan
from .practice_data import practice_script_text
from .release.called import release_called
from .release.coming_release import Coming
from .release.icons import make_icons
from .release.manifest import PATH as MANIFEST
from .release.manifest import manifest_text
from .site_context import SiteContext
from .term_links import with_terms

MAKERS: dict[type[Entry], Callable[[SiteContext, Any], Page]] = {
    Case: make_case,
    Code: make_code,
    Drawing: make_drawing,
    Family: make_family,
    Instrument: make_instrument,
    Lesson: make_lesson,
    Method: make_method,
    Part: make_part,
    Sensor: make_sensor,
    Source: make_source,
    Term: make_term,
}
"""What makes the page of an entry; a curve's also needs its chart, see `make_entry`."""
for _model in KINDS.values():
    if _model is not Curve and _model not in MAKERS:
        raise ImportError(
            f"{__name__}: nothing makes the page of a {_model.noun}: write make_{_model.noun} in "
            f"generators/pages/{_model.noun}.py, and name it in MAKERS under {_model.__name__}"
        )


@dataclass(frozen=True)
class Made:
    """The site before dressing: text by path, from the root of the pages."""

    pages: dict[str, str]
    """Path → Markdown with front matter."""
    scripts: dict[str, str | bytes]
    """Path in the finished site → script, icon or manifest."""


@dataclass(frozen=True)
class Makers:
    """What makes each page of the site, by path from the root of the pages."""

    from_catalog: dict[str, Callable[[SiteContext], Page]]
    """Made from nothing but what the catalog answers."""
    from_more: dict[str, Callable[[], Page]]
    """Made from charts, grids, the release or everything at once."""
    written: dict[str, str]
    """Hand-written: Markdown as the frame takes it in."""
    beside: dict[str, str]
    """What a page of `from_catalog` is made from beside the catalog: a curve's chart and grid."""
    terms: dict[str, str]
    """What hand-written pages link where they first say it: form → term."""

    @property
    def made(self) -> set[str]:
        """The paths of all pages that nobody wrote by hand."""
        return {*self.from_catalog, *self.from_more}


def make_site(
    context: SiteContext,
    plan: Plan,
    *,
    charts: Mapping[str, str],
    curves: Mapping[str, CurveScript],
    coming: Coming,
) -> Made:
    """Return every page and script of the site.

    Parameters
    ----------
    context : SiteContext
    plan : Plan
    charts : mapping of curve id → SVG
    curves : mapping of curve id → CurveScript
    coming : Coming
        The release that is being made.
    """
    makers = page_makers(context, plan, charts=charts, curves=curves, coming=coming)
    pages = {path: make(context).markdown() for path, make in makers.from_catalog.items()}
    pages.update({path: make().markdown() for path, make in makers.from_more.items()})
    return Made(
        pages={**pages, **makers.written},
        scripts=make_scripts(context, curves, plan=plan, coming=coming),
    )


def page_makers(
    context: SiteContext,
    plan: Plan,
    *,
    charts: Mapping[str, str],
    curves: Mapping[str, CurveScript],
    coming: Coming,
) -> Makers:
    """Return what makes each page; the arguments are those of `make_site`."""
    at_root = context.at_root()
    written = _own_pages(at_root, plan)
    titles = [
        (own_title(text), f"{path.removesuffix('.md')}.html") for path, text in written.items()
    ]
    errors_k = {curve_id: script.worst_error_k for curve_id, script in curves.items()}
    from_more: dict[str, Callable[[], Page]] = {}
    from_more["index.md"] = partial(make_home, at_root, own_pages=titles)
    from_more["numbers.md"] = lambda: _explained(
        at_root, make_numbers(at_root, grid_errors_k=errors_k)
    )
    from_more[f"{SECOND_READER}.md"] = partial(make_second_reader, at_root)
    from_more[f"{DUE}.md"] = partial(make_due, at_root)
    from_more[f"{DRILLS}.md"] = partial(make_drills, at_root)
    from_more["changes.md"] = partial(make_changes, coming)
    beside = {
        path: f"{charts.get(entry.id)}\0{errors_k.get(entry.id)!r}"
        for path, entry in plan.entries.items()
        if isinstance(entry, Curve)
    }
    from_catalog = _from_catalog(plan, charts=charts, curves=curves)
    terms = dict(context.catalog.all_terms)
    return Makers(from_catalog, from_more, written, beside, terms)


def _from_catalog(
    plan: Plan, *, charts: Mapping[str, str], curves: Mapping[str, CurveScript]
) -> dict[str, Callable[[SiteContext], Page]]:
    makers: dict[str, Callable[[SiteContext], Page]] = {}
    for path, entry in plan.entries.items():
        makers[path] = partial(
            _entry_page, model=KINDS[entry.kind], entry_id=entry.id, charts=charts, curves=curves
        )
    for path, kind in plan.lists.items():
        makers[path] = partial(_list_page, kind=kind)
    for path, entry in plan.former.items():
        makers[path] = partial(_former_page, model=KINDS[entry.kind], entry_id=entry.id, path=path)
    for path, family_id in plan.jobs.items():
        makers[path] = partial(_job_page, family_id=family_id)
    makers[f"{STOP}.md"] = lambda context: _explained(
        context.at_root(), make_stop(context.at_root())
    )
    for path, family_id in plan.sheets.items():
        makers[path] = partial(_family_sheet, family_id=family_id)
    for path, part_id in plan.refits.items():
        makers[path] = partial(_refit_sheet, part_id=part_id)
    makers[f"{FIELDS}.md"] = lambda context: make_fields()
    makers[f"{GUIDE}.md"] = lambda context: make_guide()
    makers[f"{STYLE}.md"] = lambda context: make_style()
    makers[f"{PRACTICE}.md"] = lambda context: make_practice(context.at_root())
    makers["which.md"] = lambda context: make_which(context.at_root())
    return makers


# Each asks for its entry, and is not handed it: what is asked is what its page depends on.


def _entry_page(
    context: SiteContext,
    *,
    model: type[Entry],
    entry_id: str,
    charts: Mapping[str, str],
    curves: Mapping[str, CurveScript],
) -> Page:
    entry = context.catalog.get(model, entry_id)
    return make_entry(context, entry, charts=charts, curves=curves)


def _former_page(context: SiteContext, *, model: type[Entry], entry_id: str, path: str) -> Page:
    return make_former(context, context.catalog.get(model, entry_id), path=path)


def _list_page(context: SiteContext, *, kind: str) -> Page:
    of_learning = {Lesson.kind: make_path, Term.kind: make_glossary}.get(kind)
    return of_learning(context) if of_learning else make_list(context, kind)


def _job_page(context: SiteContext, *, family_id: str) -> Page:
    return make_job(context, context.catalog.get(Family, family_id))


def _family_sheet(context: SiteContext, *, family_id: str) -> Page:
    return make_family_sheet(context, context.catalog.get(Family, family_id))


def _refit_sheet(context: SiteContext, *, part_id: str) -> Page:
    return make_refit_sheet(context, context.catalog.get(Part, part_id))


def _own_pages(context: SiteContext, plan: Plan) -> dict[str, str]:
    """Return the hand-written pages by path."""
    return {
        path: make_own(context, path.removesuffix(".md"), markdown=file.read_text("utf-8-sig"))
        for path, file in plan.own.items()
    }


def make_scripts(
    context: SiteContext, curves: Mapping[str, CurveScript], *, plan: Plan, coming: Coming
) -> dict[str, str | bytes]:
    """Return what the pages' scripts read, what paper says at its edge, manifest and icons."""
    team = context.catalog.team
    return {
        **{f"assets/curves/{curve_id}.js": script.text for curve_id, script in curves.items()},
        "assets/team.js": team_script_text(context.catalog),
        f"assets/{DRILL_SCRIPT}.js": drill_script_text(context.drills),
        "assets/practice-notes.js": practice_script_text(context),
        PAPER: paper_style(team, release=release_called(coming), sheets=on_paper(context, plan)),
        **make_find_index(find_items(context)),
        MANIFEST: manifest_text(title=team.title, team=team.name),
        **_icons(context),
    }


def _icons(context: SiteContext) -> dict[str, bytes]:
    """Return the icons by path in the site; they are drawn once, whatever the notes say."""
    drawn = context.worked.of_questions(
        "icons",
        context.catalog,
        make=lambda _: {path: b64encode(raw).decode() for path, raw in make_icons().items()},
    )
    return {path: b64decode(raw) for path, raw in drawn.items()}


def make_entry(
    context: SiteContext,
    entry: Entry,
    *,
    charts: Mapping[str, str],
    curves: Mapping[str, CurveScript],
) -> Page:
    """Return the page of one entry, by the maker of its kind."""
    if isinstance(entry, Curve):
        script = curves.get(entry.id)
        page = make_curve(
            context,
            entry,
            chart=charts.get(entry.id),
            grid_error_k=script.worst_error_k if script else None,
        )
    else:
        page = MAKERS[type(entry)](context, entry)
    body = join([page.body, slip_fold(context, entry)])
    own = entry.id if isinstance(entry, Term) else ""
    page = _explained(context, replace(page, body=body), own=own)
    return replace(page, families=_families_of(context, entry))


def _explained(context: SiteContext, page: Page, *, own: str = "") -> Page:
    """Return a page with the words of the glossary linked where they first stand."""
    forms_for = context.catalog.terms_for
    body = with_terms(page.body, root=context.root, forms_for=forms_for, own=own)
    return replace(page, body=body)


def _families_of(context: SiteContext, entry: Entry) -> tuple[Family, ...]:
    """Return the families whose jobs an entry's page belongs to: none for a past job or a law."""
    if not isinstance(entry, Family | Code | Sensor | Part | Drawing):
        return ()
    ids = (entry.id,) if isinstance(entry, Family) else entry.family_ids
    return tuple(context.catalog.get(Family, family_id) for family_id in ids)
