"""The style as a page: its tokens, its pieces, and which one is taken when."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from kb.made_pages import STYLE
from kb.model import KINDS

from ..components import lines
from ..html import Child, Html, bullets, el, facts, join, section, steps, table
from ..kind_signs import kind_sign
from ..page import Page

COLOURS: Mapping[str, str] = {
    "ground": "The page.",
    "raised": "What lies on it: tables, plates, fields.",
    "sunk": "What steps back: the bar of the job, heads of tables, the next step.",
    "field": "What is typed into.",
    "ink": "What is so: words, figures, the frame of a plate.",
    "ink-soft": "What is said beside it: notes, hints, names of facts.",
    "line": "Between rows. Never the only sign of anything.",
    "edge": "Round what is pressed or filled in: 3:1 against its ground.",
    "link": "Patina: what is pressed, and nothing else.",
    "accent": "Copper: where one is. A heading's stroke, a step's number, the pin in question.",
    "bar": "The frame above the page.",
    "bar-ink": "Words in it.",
    "bar-accent": "The mark in it.",
    "warn": "The edge and stripes of a caution.",
    "warn-ground": "Behind a caution.",
    "warn-ink": "Words of a caution.",
    "good": "Within limits.",
    "bad": "Outside limits, and what is live.",
    "open": "Not decided.",
    "other": "Open, short, off the curve, not testable.",
    "stripe": "The dark stripes of a caution.",
    "on-photo": "Edges on a photo, which is dark more often than not.",
    "focus": "Round what the keys are on.",
    "focus-halo": "Round that, on any ground.",
}
"""Colour → when it is taken."""
SIZES: Mapping[str, str] = {
    "plate": "A code on its plate: read at arm's length.",
    "loud": "A verdict; a figure that was asked for.",
    "title": "The name of a page.",
    "sign": "Signs that are pressed, numbers of steps, a plug's mark.",
    "next": "The next tap in a list; a heading.",
    "text": "Everything that is read.",
    "quiet": "What may be missed. Nothing is smaller.",
}
"""Size → when it is taken, the loudest first."""
VERDICTS = (
    (
        "within",
        "✓",
        "Within limits",
        "It reads as at 22.4 °C, 0.4 K warmer than the 22.0 °C measured.",
    ),
    ("outside", "✕", "Outside limits", "It reads as at 18.3 °C, 3.7 K colder than measured."),
    ("undecided", "?", "Not decided", "It reads as at 20.1 °C. Ice water would decide it."),
)
RULES = (
    "The answer is the loudest on a page, the next tap is second, all else is quiet.",
    "Ink says what is so, patina what is pressed, copper where one is. "
    "Verdicts have their colours to themselves.",
    "Never colour alone: a shape, a word or a place says the same.",
    "Words, values and verdicts stand out by 7:1 in both looks; "
    "edges of what is pressed by 3:1. A test computes both.",
    "What is pressed is 44 px at least, and 48 px where it is the way on.",
    "Figures stand under each other: a column of them is set in figures of one width.",
    "No shadow but under what floats, no corner but a plate's is cut, nothing moves by itself.",
    "A colour, a size or a distance comes from tokens.css: there it is --NAME. "
    "One that is missing is added there.",
)


def make_style() -> Page:
    """Return the page: the same in every site, for whoever adds a page or a piece."""
    body = join(
        [
            el(
                "p",
                "For whoever adds a page: what there is, and when it is taken.",
                class_="ohm-lead",
            ),
            section("Rules", bullets(RULES), id_="rules"),
            section("Colours", _colours(), id_="colours"),
            section("Sizes", _sizes(), id_="sizes"),
            section("Pieces", _pieces(), id_="pieces"),
            section("Signs", _signs(), id_="signs"),
        ]
    )
    return Page(
        path=f"{STYLE}.md",
        title="Style",
        kind="style",
        summary="The tokens and pieces that every page is made of, and when each is taken.",
        trail=(("Home", "index.html"),),
        body=body,
    )


def _colours() -> Html:
    rows: list[Sequence[Child]] = [
        [join([_swatch(name), " ", el("code", name)]), when] for name, when in COLOURS.items()
    ]
    return table("Colours by name", ["Name", "When"], rows)


def _swatch(name: str) -> Html:
    """Return a patch of a colour: what it is in the look that the reader has chosen."""
    patch = el("path", d="M4 1h24l3 3v16l-3 3H4l-3-3V4z", fill=f"var(--{name})")
    return el("svg", patch, viewBox="0 0 32 24", aria_hidden="true", class_="ohm-swatch")


def _sizes() -> Html:
    rows: list[Sequence[Child]] = [
        [el("code", name), _sample(name), when] for name, when in SIZES.items()
    ]
    return table("Sizes by name", ["Name", "Looks", "When"], rows)


def _sample(name: str) -> Html:
    """Return a figure in a size; the name beside it says which."""
    figure = el("text", "12.09", x=0, y="80%", fill="currentColor", font_size=f"var(--{name})")
    return el("svg", figure, aria_hidden="true", class_="ohm-sample")


def _pieces() -> Html:
    """Return every piece as it stands on a page, each under when it is taken."""
    code = el("span", "K4-2", class_="ohm-code")
    where = el("span", "Wall controller shows", class_="ohm-shown-where")
    pieces: list[tuple[str, Child]] = [
        (
            "A plate: what is read off the machine, and compared with it. One on a page.",
            el("div", el("div", code, where, class_="ohm-shown-way"), class_="ohm-shown"),
        ),
        (
            "A plug's plate: what the hand looks for at the board.",
            el(
                "p",
                el("strong", "X23", class_="ohm-plug-mark"),
                el("span", "blue housing, pins 1 and 2"),
                class_="ohm-plug",
            ),
        ),
        ("A verdict: shape, word, then why in a sentence.", [_verdict(*kind) for kind in VERDICTS]),
        (
            "The way on: one is filled, the others are not.",
            el(
                "p",
                el("a", "Measure R4", href="#pieces", class_="ohm-go"),
                el("a", "Start your job", href="#pieces", class_="ohm-go ohm-go-second"),
                class_="ohm-ways-on",
            ),
        ),
        (
            "Lines: where each leads, and a word on it.",
            lines([("#pieces", "Rooftop heat pump", "42"), ("#pieces", "Cold room set", "17")]),
        ),
        ("Steps: what is done in this order.", steps(["Isolate and lock off.", "Prove dead."])),
        ("Facts: the name is quiet.", facts([("Reach", "behind a panel"), ("Supply", "400 V")])),
    ]
    return join([join([el("h3", when), piece]) for when, piece in pieces])


def _verdict(verdict: str, shape: str, word: str, why: str) -> Html:
    return el(
        "div",
        el(
            "p",
            el("span", shape, class_="ohm-verdict-shape", aria_hidden="true"),
            el("span", word),
            class_="ohm-verdict-word",
        ),
        el("p", why),
        class_="ohm-verdict",
        data_verdict=verdict,
    )


def _signs() -> Html:
    about = "A sign stands beside the name of a kind and never in its place."
    names = [join([kind_sign(kind), model.list_title]) for kind, model in KINDS.items()]
    return join([el("p", about), bullets(names, class_="ohm-signs")])
