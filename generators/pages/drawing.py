"""A drawing's page: the whole sketch, with every pin and what sits there in words."""

from __future__ import annotations

from kb.model import Drawing, Family
from kb.words.phrase import in_words

from ..components import draft_badge, other_names, source_line
from ..html import Child, el, join, section, table
from ..page import Page
from ..pins import photo_of, pins_go_to
from ..site_context import SiteContext
from ..sketch import draw_sketch


def make_drawing(context: SiteContext, drawing: Drawing) -> Page:
    """Return the page of one drawing."""
    family = context.catalog.get(Family, drawing.family)
    goes = pins_go_to(context, drawing)
    # Where no pin leads anywhere there is no column for it.
    columns = ("pin", "what", "where") if goes else ("pin", "where")
    heads = [in_words(f"drawing-page.{head}") for head in columns]
    rows = [_row(name, where=pin.where, goes=goes) for name, pin in drawing.pins.items()]
    body = join(
        [
            draft_badge(drawing),
            other_names(drawing),
            draw_sketch(drawing, goes_to=goes, photo=photo_of(context, drawing)),
            section(
                in_words("drawing-page.pins"),
                table(in_words("drawing-page.caption", drawing=drawing.name), heads, rows),
                id_="pins-in-words",
            ),
            source_line(context, drawing),
        ]
    )
    return Page(
        path=f"drawings/{drawing.id}.md",
        title=drawing.name,
        kind="drawing",
        summary=drawing.described,
        trail=(
            (in_words("drawing-page.families"), "families/index.html"),
            (family.name, family.href),
        ),
        body=body,
    )


def _row(name: str, *, where: str, goes: dict[str, tuple[str, str]]) -> list[Child]:
    if not goes:
        return [name, where]
    href, title = goes.get(name, ("", ""))
    return [name, el("a", title, href=href) if href else "–", where]
