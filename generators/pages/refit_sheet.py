"""A part on paper: what to write down before it comes out, and all that goes back, to tick."""

from __future__ import annotations

from collections.abc import Sequence

from kb.made_pages import REFITS
from kb.model import Drawing, Family, Part
from kb.model.part import Proof, Refit, Setting
from kb.numbers.rounding import format_plain
from kb.words.phrase import in_words

from ..components import caution_box, draft_badge, family_cautions, ring_line, source_line
from ..html import Child, Html, bullets, el, join, section, table
from ..in_words import value_of, words_around
from ..kind_words import list_title
from ..page import Page
from ..pins import photo_of
from ..site_context import SiteContext
from ..sketch import draw_sketch


def make_refit_sheet(context: SiteContext, part: Part) -> Page:
    """Return the page of one part that is made for paper: a box beside all that goes back."""
    families = [context.catalog.get(Family, family_id) for family_id in part.families]
    body = join(
        [
            draft_badge(part),
            el("p", words_around("sheet-page.from", page=context.link(part)), class_="ohm-from"),
            _written_in(),
            _cautions(context, families=families),
            ring_line(context),
            _while_replacing(part),
            _settings(part),
            _put_back(part),
            _proofs(part),
            _drawing(context, part),
            source_line(context, part),
        ]
    )
    return Page(
        path=f"{REFITS}/{part.id}.md",
        title=in_words("sheet-page.refit-title", part=part.name),
        kind="paper",
        summary=in_words(
            "sheet-page.refit-summary",
            part=part.name,
            family=", ".join(family.name for family in families),
        ),
        trail=((list_title("families"), "families/index.html"), (part.name, part.href)),
        on_paper=True,
        body=body,
    )


def _written_in() -> Html:
    """Return lines for what only whoever stands there can say."""
    words = [in_words(f"sheet-page.{key}") for key in ("machine", "day", "by")]
    return el(
        "p",
        [el("span", word, " ", el("span", class_="ohm-blank")) for word in words],
        class_="ohm-in",
    )


def _cautions(context: SiteContext, *, families: Sequence[Family]) -> Html:
    """Return what applies on each machine that has the part: charge and isolator differ."""
    several = len(families) > 1
    return join(
        [el("h2", family.name) if several else None, family_cautions(context, family, whole=True)]
        for family in families
    )


def _while_replacing(part: Part) -> Html | None:
    cautions: list[Child] = [*part.cautions]
    if not cautions:
        return None
    return caution_box(cautions, title=in_words("part-page.while-replacing"))


def _settings(part: Part) -> Html:
    rows = [_setting(setting) for setting in part.settings]
    return _ticked(
        in_words("part-page.settings"), rows, key="settings", id_="write-down-before-it-comes-out"
    )


def _setting(setting: Setting) -> list[Child]:
    ways = f" ({' / '.join(setting.choices)})" if setting.choices else None
    label = f"{value_of('setting', setting.is_a)}: {setting.what}"
    return [
        BOX,
        el("strong", setting.mark or "–"),
        join([label, ways, _note(setting.note)]),
        el("span", class_="ohm-blank"),
    ]


def _put_back(part: Part) -> Html:
    rows = [_refit(refit) for refit in part.refit]
    return _ticked(in_words("sheet-page.put-back"), rows, key="refit", id_="put-back")


def _refit(refit: Refit) -> list[Child]:
    earth = el("strong", in_words("part-refit.earth")) if refit.earth else None
    return [
        BOX,
        el("strong", refit.mark or "–"),
        join([refit.what, " " if earth else None, earth, _note(refit.note)]),
        format_plain(refit.count),
    ]


def _proofs(part: Part) -> Html:
    rows = [_proof(proof) for proof in part.prove]
    return _ticked(in_words("part-proof.title"), rows, key="prove", id_="prove-it")


def _proof(proof: Proof) -> list[Child]:
    watch = in_words("part-proof.watch", minutes=proof.watch_min) if proof.watch_min else None
    return [BOX, proof.what, join([proof.must, _note(watch)]), el("span", class_="ohm-blank")]


def _note(words: str | None) -> Html | None:
    return el("div", words, class_="ohm-note") if words else None


BOX = el("span", "☐", class_="ohm-box")
"""A box to tick with a pen: it heads its row."""


def _ticked(title: str, rows: list[list[Child]], *, key: str, id_: str) -> Html:
    """Return a table with a box at the head of each row; nothing without rows."""
    if not rows:
        return Html("")
    heads = [in_words(f"sheet-page.{key}-{place}") for place in ("box", "mark", "what", "last")]
    # The table is a landmark of that name: the section around it is none.
    ticked = table(title, heads, rows, class_="ohm-ruled ohm-ticks")
    return el("section", el("h2", title, id=id_), ticked)


def _drawing(context: SiteContext, part: Part) -> Html:
    """Return the drawing that shows what goes back, with the marks of the list."""
    if part.drawing is None:
        return Html("")
    drawing = context.catalog.get(Drawing, part.drawing)
    marks = [refit.mark for refit in part.refit if refit.mark in drawing.pins]
    own = part.pinned.pin if part.pinned and part.pinned.drawing == drawing.id else None
    shown = [*marks, *([own] if own else [])]
    return section(
        drawing.name,
        draw_sketch(drawing, only=shown or None, photo=photo_of(context, drawing)),
        bullets(
            (
                join([el("strong", name), f" {drawing.pins[name].where}"])
                for name in dict.fromkeys(shown)
            ),
            class_="ohm-pinned",
        ),
        id_="where-it-is",
    )
