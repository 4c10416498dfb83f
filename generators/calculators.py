"""The forms that the page's scripts bring to life; without scripts they stay out of sight."""

from __future__ import annotations

from kb.model import Curve, Sensor

from .book import Book
from .html import Html, el, join


def stepped_field(name: str, label: str, *, value: str = "", unit: str, step: float) -> Html:
    """Return a number field with a minus and a plus key on either side."""
    return el(
        "div",
        el("label", label, for_=name),
        el(
            "div",
            el("button", "−", type="button", data_step=f"-{step:g}", aria_label=f"{label}: less"),
            el("input", id=name, name=name, type="text", inputmode="decimal", autocomplete="off",
               value=value),
            el("span", unit, class_="ohm-unit", data_unit=unit),
            el("button", "+", type="button", data_step=f"{step:g}", aria_label=f"{label}: more"),
            class_="ohm-stepped",
        ),
        class_="ohm-field",
    )


def plain_field(name: str, label: str, *, hint: str = "", mode: str = "text") -> Html:
    """Return a text field with words on what may be typed."""
    described = f"{name}-hint" if hint else None
    return el(
        "div",
        el("label", label, for_=name),
        el("input", id=name, name=name, type="text", inputmode=mode, autocomplete="off",
           autocapitalize="none", spellcheck="false", aria_describedby=described),
        el("p", hint, id=described, class_="ohm-hint") if hint else None,
        class_="ohm-field",
    )


def sensor_form(book: Book, sensor: Sensor) -> Html:
    """Return the form that gives a sensor's expected resistance at a temperature."""
    return el(
        "form",
        stepped_field("at", "Temperature at the sensor", value="20", unit="°C", step=1),
        el("output", for_="at", aria_live="polite", class_="ohm-answer"),
        class_="ohm-calc",
        data_calc="expect",
        data_curve=sensor.curve,
        hidden=True,
        autocomplete="off",
    )


def curve_form(book: Book, curve: Curve) -> Html:
    """Return the form that turns temperature into resistance, and back."""
    return el(
        "form",
        join([
            stepped_field("at", "Temperature", value="20", unit="°C", step=1),
            plain_field("reading", "Resistance", hint="480, 6.32k, 6k32 or 1.2M"),
        ]),
        el("output", for_="at reading", aria_live="polite", class_="ohm-answer"),
        class_="ohm-calc",
        data_calc="both-ways",
        data_curve=curve.id,
        hidden=True,
        autocomplete="off",
    )
