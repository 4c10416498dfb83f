"""The forms that the page's scripts bring to life; without scripts they stay out of sight."""

from __future__ import annotations

import json

from kb.instruments import meters, thermometers
from kb.model import Curve, Instrument, Sensor
from kb.numbers.placement import PLACEMENTS

from .book import Book, shown_name
from .html import Html, el, join

ARITHMETIC = (
    "notation", "grid", "instruments", "verdict", "divider", "explanations", "e-series", "stand-in",
)
"""What the calculators compute with, in the order in which it must run."""


def scripts(book: Book, *names: str) -> Html:
    """Return the tags of some of our own scripts, in the order given."""
    return join([
        el("script", src=f"{book.root}assets/{name}.js", defer=True) for name in names
    ])


def curve_scripts(book: Book, curve_ids: list[str]) -> Html:
    """Return the tags that bring curves' compiled grids to the page, each once."""
    return scripts(book, *(f"curves/{curve_id}" for curve_id in sorted(set(curve_ids))))


def stepped_field(name: str, label: str, *, value: str = "", unit: str, step: float) -> Html:
    """Return a number field with a minus and a plus key on either side."""
    return el(
        "div",
        el("label", label, for_=name),
        el(
            "div",
            el("button", "−", type="button", data_step=f"-{step:g}", aria_label=f"{label}: less"),
            el("input", id=name, name=name, type="text", inputmode="decimal", autocomplete="off",
               value=value, aria_describedby=f"{name}-unit"),
            el("span", unit, id=f"{name}-unit", class_="ohm-unit", data_unit=True),
            el("button", "+", type="button", data_step=f"{step:g}", aria_label=f"{label}: more"),
            class_="ohm-stepped",
        ),
        class_="ohm-field",
    )


def plain_field(name: str, label: str, *, hint: str = "") -> Html:
    """Return a text field with words on what may be typed."""
    described = f"{name}-hint" if hint else None
    return el(
        "div",
        el("label", label, for_=name),
        # Text and not decimal: the letter of 6k32 must be on the keypad.
        el("input", id=name, name=name, type="text", inputmode="text", autocomplete="off",
           autocapitalize="none", spellcheck="false", aria_describedby=described),
        el("p", hint, id=described, class_="ohm-hint") if hint else None,
        class_="ohm-field",
    )


def choice(name: str, label: str, options: list[tuple[str, str]]) -> Html:
    """Return a choice of one; the first option stands until another is taken."""
    return el(
        "div",
        el("label", label, for_=name),
        el("select", [el("option", said, value=value) for value, said in options],
           id=name, name=name),
        class_="ohm-field",
    )


def sensor_form(book: Book, sensor: Sensor) -> Html:
    """Return the form that judges a reading of one sensor."""
    others = [
        {"curve": one.curve, "label": shown_name(one)}
        for one in book.of_family("sensors", book.get("families", sensor.family))
        if one.curve and one.curve != sensor.curve and book.characteristic(one.curve)
    ]
    board = sensor.board_input
    return el(
        "form",
        stepped_field("at", "Temperature at the sensor", value="20", unit="°C", step=1),
        choice("how", "How it was taken", placements()),
        plain_field("reading", "Meter shows", hint="480, 6.32k, 6k32, 1.2M, or OL for over range"),
        el(
            "details",
            el("summary", "Instruments"),
            choice("meter", "Meter", _options(meters(book.notes))),
            choice("thermometer", "Thermometer", _options(thermometers(book.notes))),
        ),
        el("output", for_="at how reading meter thermometer", class_="ohm-answer", role="status"),
        el("button", "Clear what I typed", type="button", class_="ohm-key", data_clear=True),
        class_="ohm-calc",
        data_calc="judge",
        data_curve=sensor.curve,
        data_sensor=sensor.id,
        data_family=sensor.family,
        data_allow_k=f"{sensor.allow_k or 0:g}",
        data_pull_up=f"{board.pull_up_ohm:g}" if board else None,
        data_supply=f"{board.supply_v:g}" if board else None,
        data_others=json.dumps(others, ensure_ascii=False, separators=(",", ":")),
        data_good=sensor.when_good,
        data_bad=sensor.when_bad,
        hidden=True,
        autocomplete="off",
    )


def sensor_scripts(book: Book, sensor: Sensor) -> Html:
    """Return everything that the sensor form needs, in order."""
    family = book.get("families", sensor.family)
    curves = [
        one.curve
        for one in book.of_family("sensors", family)
        if one.curve and book.characteristic(one.curve)
    ]
    return join([
        curve_scripts(book, curves),
        scripts(book, "team", *ARITHMETIC, "kept", "fields", "verdict-words", "judge-form"),
    ])


def curve_form(book: Book, curve: Curve) -> Html:
    """Return the form that turns temperature into resistance, and back."""
    return el(
        "form",
        stepped_field("at", "Temperature", value="20", unit="°C", step=1),
        plain_field("reading", "Resistance", hint="480, 6.32k, 6k32 or 1.2M"),
        el("output", for_="at reading", class_="ohm-answer", role="status"),
        class_="ohm-calc",
        data_calc="both-ways",
        data_curve=curve.id,
        hidden=True,
        autocomplete="off",
    )


def placements() -> list[tuple[str, str]]:
    """Return how a temperature may have been taken; the usual one first, then the closest."""
    usual = "strapped"
    names = sorted(PLACEMENTS, key=lambda name: name != usual)
    short = {
        "ice-water": "Both in stirred ice water",
        "strapped": "Strapped beside it and lagged",
        "held-on": "Held on beside it",
        "air": "Air near it, long at rest",
    }
    return [(name, short[name]) for name in names]


def _options(instruments: list[Instrument]) -> list[tuple[str, str]]:
    return [(one.id, one.name) for one in instruments]

