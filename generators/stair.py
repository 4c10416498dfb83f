"""Draw the checks of a code as a stair: steps as wide as their minutes, as high as their chance."""

from __future__ import annotations

from kb.answers.code_checks import CodeAnswer
from kb.numbers.rounding import format_plain
from kb.words.phrase import in_words, listed, phrase

from .html import Html, el, join

WIDE, HIGH = 340.0, 54.0
"""The stair from its first minute to its last, and from nothing found to all, in its own units."""
BELOW, ABOVE = 16.0, 15.0
"""Room for the words under it, and for those over it."""
LETTER = 8.7
"""How wide a letter is at most: what has no room is left to the list that follows."""


def draw_stair(answer: CodeAnswer) -> Html:
    """Return the stair as a picture, with its words for whoever does not see it.

    A step's foot stands on what was found before it; its number is that of the list.
    """
    checks = answer.checks
    whole_min = sum(check.suspect.minutes for check in checks)
    whole_share = sum(check.suspect.share for check in checks)
    done_min = found = 0.0
    before = after = ""
    numbers: list[Html] = []
    found_by: list[str] = []
    for number, check in enumerate(checks, start=1):
        x, wide = WIDE * done_min / whole_min, WIDE * check.suspect.minutes / whole_min
        rise = HIGH * check.suspect.share / whole_share
        foot = ABOVE + HIGH * (1 - found)
        after += f"M{_n(x)},{_n(foot)}h{_n(wide)}v{_n(-rise)}h{_n(-wide)}z"
        if found:
            before += f"M{_n(x)},{_n(ABOVE + HIGH)}h{_n(wide)}V{_n(foot)}h{_n(-wide)}z"
        done_min += check.suspect.minutes
        found += check.suspect.share / whole_share
        if wide > LETTER * len(str(number)):
            numbers.append(el("text", str(number), x=_n(x + wide / 2)))
        found_by.append(
            in_words("code-page.stair-step", found_share=found, minutes=format_plain(done_min))
        )
    return el(
        "svg",
        el("path", d=before),
        el("path", d=after, class_="ohm-stair-found"),
        _expected(answer, whole_min=whole_min),
        el("g", join(numbers), transform=f"translate(0,{_n(ABOVE + HIGH + BELOW - 4)})"),
        viewBox=f"0 0 {_n(WIDE)} {_n(ABOVE + HIGH + BELOW)}",
        role="img",
        aria_label=in_words("code-page.stair", steps=listed(found_by)),
        class_="ohm-stair",
    )


def _expected(answer: CodeAnswer, *, whole_min: float) -> Html:
    """Return the line at which it is found on average, with its words, and the last minute."""
    x = WIDE * answer.expected_min / whole_min
    words = phrase(answer.expected)
    last = in_words("shared.minutes", minutes=format_plain(whole_min))
    after = x + LETTER * len(words) < WIDE
    # Two letters between them: less reads as one line.
    both = x + LETTER * (len(words) + len(last) + 2) < WIDE
    return join(
        [
            el("path", d=f"M{_n(x)},0v{_n(ABOVE + HIGH)}", class_="ohm-stair-at"),
            el("text", words, x=_n(x + 4), y=11)
            if after
            else el("text", words, x=_n(x - 4), y=11, class_="ohm-stair-to"),
            el("text", last, x=_n(WIDE), y=11, class_="ohm-stair-last") if both else None,
        ]
    )


def _n(value: float) -> str:
    return f"{value:.0f}"
