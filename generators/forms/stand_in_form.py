"""Resistors out of the drawer in place of a sensor: does the board's input read right?"""

from __future__ import annotations

from kb.model.sensor import BoardInput
from kb.numbers.rounding import format_plain

from ..components import caution_box
from ..html import Html, el
from .fields import answer, choice, stepped_field

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
        caution_box(
            [
                "Isolated, drained and proved dead: then the sensor's plug off, and the resistor "
                "across the board's pins.",
                "Some boards carry mains on their sensor inputs. Powered, neither the resistor "
                "nor the "
                "plug is touched.",
            ],
            title="Before you plug it in",
        ),
        el(
            "p",
            "Powered up, the board should show the temperature below; if it does, its input is "
            "sound. Measure the resistor first: one of 5 % may be off by more than a kelvin.",
        ),
        stepped_field("stand-at", "The board should show", value="20"),
        choice("series", "Resistors in the drawer", SERIES),
        answer("stand-at", "series"),
        class_="ohm-calc",
        data_calc="stand-in",
        data_curve=curve_id,
        data_pull_up=format_plain(board.pull_up_ohm) if board else None,
        data_supply=format_plain(board.supply_v) if board else None,
        hidden=True,
        autocomplete="off",
    )
