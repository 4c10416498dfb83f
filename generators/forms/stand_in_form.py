"""Resistors out of the drawer in place of a sensor: does the board's input read right?"""

from __future__ import annotations

from kb.answers.stand_in import CAUTIONS
from kb.model.sensor import BoardInput
from kb.numbers.e_series import SERIES, TOLERANCE
from kb.numbers.rounding import all_digits, format_plain
from kb.words.catalogue import cautions
from kb.words.phrase import in_words

from ..components import caution_box
from ..html import Html, el
from .fields import answer, choice, stepped_field

USUAL = "E24"
OWN_CAUTIONS = tuple(name for name in CAUTIONS if name != "maker-first")
"""The box itself says that the maker comes first."""


def _drawers() -> list[tuple[str, str]]:
    """Return the series to choose from, the usual one first, as the terminal has them."""
    series = sorted(SERIES, key=lambda name: name != USUAL)
    return [
        (
            name,
            in_words(
                "stand-in-form.drawer", series=name, percent=format_plain(100 * TOLERANCE[name])
            ),
        )
        for name in series
    ]


def stand_in_form(curve_id: str, *, board: BoardInput | None = None) -> Html:
    """Return the form that names standard resistors for a temperature.

    Parameters
    ----------
    curve_id : str
    board : BoardInput, optional
        With it, the form also says which volts the plug should carry.
    """
    return el(
        "form",
        caution_box(
            [cautions()[caution_id].words for caution_id in OWN_CAUTIONS],
            title=in_words("stand-in-form.before"),
        ),
        el("p", in_words("stand-in-form.how")),
        stepped_field("stand-at", label=in_words("stand-in-form.at"), value="20"),
        choice("series", label=in_words("stand-in-form.series"), options=_drawers()),
        answer("stand-at", "series"),
        class_="ohm-calc",
        data_calc="stand-in",
        data_curve=curve_id,
        data_pull_up=all_digits(board.pull_up_ohm) if board else None,
        data_supply=all_digits(board.supply_v) if board else None,
        hidden=True,
        autocomplete="off",
    )
