"""The keeper's manual as a page: every field of every kind, what it holds, and an example."""

from __future__ import annotations

from kb.made_pages import FIELDS
from kb.manual import SECTIONS, FieldRow, about, manual, stands_in

from ..html import Html, el, join, section, table
from ..page import Page

TITLE = "Fields"


def make_fields() -> Page:
    """Return the page; it is made from the models, and says nothing of these notes."""
    body = join(
        [
            el(
                "p",
                "For whoever keeps the notes: what an entry may hold. ",
                el("code", "ohmfolio add KIND"),
                " asks for it, ",
                el("code", "ohmfolio bring FILE"),
                " takes it from a sheet.",
                class_="ohm-lead",
            ),
            el("p", "A star: it cannot be left out, or not where its block stands."),
            el(
                "nav",
                [el("a", name.capitalize(), href=f"#{name}") for name in SECTIONS],
                class_="ohm-jumps ohm-ways-in",
                aria_label="Kinds",
            ),
            [_section(name) for name in SECTIONS],
        ]
    )
    return Page(
        path=f"{FIELDS}.md",
        title=TITLE,
        kind="fields",
        summary="What an entry of each kind may hold, with an example of every field.",
        trail=(("Home", "index.html"),),
        body=body,
    )


def _section(name: str) -> Html:
    rows = manual(name)
    laws = list(dict.fromkeys(row.law for row in rows))
    return section(
        name.capitalize(),
        el("p", about(name), " File: ", el("code", stands_in(name).partition(",")[0])),
        [_table(name, [row for row in rows if row.law == law], law=law) for law in laws],
        id_=name,
    )


def _table(name: str, rows: list[FieldRow], *, law: str) -> Html:
    caption = f"Fields of {name}" + (f" with law {law}" if law else "")
    return table(caption, ["Field", "What it is, and an example"], [_row(row) for row in rows])


def _row(row: FieldRow) -> list[Html]:
    star = " *" if row.needed else ""
    holds = "" if row.holds in row.doc.casefold() else f" {row.holds[:1].upper()}{row.holds[1:]}."
    sheet = f" In a sheet: {row.called}." if row.called and row.called != row.field else ""
    key = row.field.rpartition(".")[2]
    # A long name breaks after its dots, so that a phone shows both columns.
    parts = row.field.replace(".", ".\u200b").replace("_", "_\u200b")
    example = [el("br"), el("code", f"{key}: {row.example}")] if row.example else []
    return [
        join([el("code", parts), star]),
        join([row.doc, el("span", holds, sheet, class_="ohm-hint"), *example]),
    ]
