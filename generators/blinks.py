"""Draw a blink pattern as a bar of time: long and short, as the eye meets them."""

from __future__ import annotations

from collections.abc import Iterable

from kb.model.code import Blinks
from kb.words.phrase import in_words

from .html import Html, el, join
from .in_words import words_around

LONG, SHORT, GAP, REST = 30, 10, 8, 22
"""Widths in the bar's own units: a long blink reads as three short ones."""
SECOND = 22
"""The same of a second, where the lamp's own pace is drawn."""


def draw_blinks(blinks: Blinks) -> Html:
    """Return the pattern as a bar; lit is a filled block, dark is the line it stands on."""
    x = float(GAP)
    lit = ""
    for count, wide in ((blinks.long, LONG), (blinks.short, SHORT)):
        for _ in range(count):
            lit += f"M{x:g},4h{wide}v16h-{wide}z"
            x += wide + GAP
    x += REST
    line = el("path", d=f"M0,22h{x:g}", class_="ohm-blink-dark")
    words = say_blinks(blinks)
    return el(
        "svg",
        line,
        el("path", d=lit, class_="ohm-blink-lit"),
        viewBox=f"0 0 {x:g} 24",
        role="img",
        aria_label=words,
        class_="ohm-blinks",
        width=f"{x:g}",
        height="24",
    )


def draw_bars(bars: Iterable[tuple[float, float]]) -> Html:
    """Return seconds lit and dark as a bar of time, without a word of how many there are."""
    x = float(GAP)
    lit = ""
    for lit_s, dark_s in bars:
        wide = max(lit_s * SECOND, 2)
        lit += f"M{x:.0f},4h{wide:.0f}v16h-{wide:.0f}z"
        x += wide + min(dark_s * SECOND, REST)
    return el(
        "svg",
        el("path", d=f"M0,22h{x:.0f}", class_="ohm-blink-dark"),
        el("path", d=lit, class_="ohm-blink-lit"),
        xmlns="http://www.w3.org/2000/svg",
        viewBox=f"0 0 {x:.0f} 24",
        role="img",
        aria_label=in_words("blinks.bars"),
        class_="ohm-blinks",
        width=f"{x:.0f}",
        height="24",
    )


def counted_blinks(blinks: Blinks) -> Html:
    """Return the count as it is compared with the lamp: large figures, each with its word."""
    kinds = ((blinks.long, "long"), (blinks.short, "short"))
    return el(
        "span",
        join(
            [
                words_around(f"blinks.{kind}", count=el("strong", str(count)))
                for count, kind in kinds
                if count
            ],
            " ",
        ),
        class_="ohm-blink-counts",
    )


def say_blinks(blinks: Blinks) -> str:
    """Return the pattern in words: `4 long, then 2 short, a pause, and again`."""
    both = {"long": blinks.long, "short": blinks.short}
    if all(both.values()):
        return in_words("blinks.lamp-both", **both)
    only = "long" if blinks.long else "short"
    return in_words(f"blinks.lamp-{only}", count=both[only])
