"""Resistors out of the drawer in place of a sensor: does the board's input read right?"""

from __future__ import annotations

from kb.model.sensor import BoardInput

from ..html import Html, el
from .fields import answer, choice, stepped_field

STAND_IN_SCRIPTS = (
    "out-of-range", "notation", "grid", "e-series", "stand-in", "divider", "fields",
    "stand-in-form",
)

SERIES = [("E24", "E24, usually 5 % or better"), ("E12", "E12, usually 10 % or better")]


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
        el("p", "Isolated, drained and proved dead, pull the sensor's plug and put a resistor "
                "across the board's pins instead. Powered up, the board should show this. If it "
                "does, the board's input is sound. Only where the maker allows it.",
           class_="ohm-note"),
        stepped_field("stand-at", "The board should show", value="20"),
        choice("series", "Resistors in the drawer", SERIES),
        answer("stand-at", "series"),
        class_="ohm-calc",
        data_calc="stand-in",
        data_curve=curve_id,
        data_pull_up=f"{board.pull_up_ohm:g}" if board else None,
        data_supply=f"{board.supply_v:g}" if board else None,
        hidden=True,
        autocomplete="off",
    )
