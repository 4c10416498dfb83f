"""The fields that forms are made of: temperatures with keys, readings, choices, answers."""

from __future__ import annotations

import json

from kb.catalog import Catalog
from kb.model import Instrument
from kb.numbers.placement import PLACEMENTS
from kb.words.catalogue import name_of
from kb.words.phrase import in_words

from ..html import Child, Html, el


def reading_hint() -> str:
    """Return what may be typed as a meter's reading."""
    return in_words("form-field.reading-hint")


def ohm_hint() -> str:
    """Return what may be typed as a resistance."""
    return in_words("form-field.ohm-hint")


def stepped_field(name: str, *, label: str, value: str = "") -> Html:
    """Return a temperature with its keys: less, more, and the sign that a keypad may lack."""
    key = {"type": "button"}
    return el(
        "div",
        el("label", label, for_=name),
        el(
            "div",
            el(
                "button",
                "−",
                **key,
                data_step="-1",
                aria_label=in_words("form-field.less", label=label),
            ),
            el(
                "input",
                id=name,
                name=name,
                type="text",
                inputmode="decimal",
                autocomplete="off",
                value=value or None,
                aria_describedby=f"{name}-unit",
            ),
            el("span", "°C", id=f"{name}-unit", class_="ohm-unit", data_unit=True),
            el(
                "button",
                "+",
                **key,
                data_step="1",
                aria_label=in_words("form-field.more", label=label),
            ),
            el(
                "button",
                "±",
                **key,
                data_sign=True,
                aria_label=in_words("form-field.sign", label=label),
            ),
            class_="ohm-stepped",
        ),
        class_="ohm-field",
    )


def placed_field(name: str, *, label: str, how: str = "how", ice: bool = True) -> Html:
    """Return a temperature that somebody took, and how: empty both, until they are given.

    Parameters
    ----------
    name : str
        Of the temperature's field.
    label : str
        What was warm or cold.
    how : str
        Name of the choice of how it was taken.
    ice : bool
        Whether stirred ice is a way: a motor does not fit into a cup.

    Notes
    -----
    `placedTemperature` in assets/page/placed-temperature.js brings it to life: it offers what the
    job knows of the place, and keeps what is given.
    """
    return el(
        "div",
        stepped_field(name, label=label),
        el("p", id=f"{name}-kept", class_="ohm-kept", hidden=True),
        el(
            "fieldset",
            el("legend", in_words("form-field.how")),
            el(
                "div",
                [
                    _way_key(how, place=place)
                    for place, _ in placements()
                    if ice or place != "ice-water"
                ],
                class_="ohm-ways ohm-ways-narrow",
            ),
            class_="ohm-field",
        ),
        class_="ohm-placed",
    )


def _way_key(how: str, *, place: str) -> list[Html]:
    """Return one way of taking a temperature, as a key of its own."""
    box = f"{how}-{place}"
    return [
        el("input", type="radio", id=box, name=how, value=place),
        el("label", name_of("placement", name=place, form="key"), for_=box),
    ]


def plain_field(name: str, *, label: Child, hint: str = "") -> Html:
    """Return a text field with words on what may be typed."""
    described = f"{name}-hint" if hint else None
    return el(
        "div",
        el("label", label, for_=name),
        typed_input(name, described=described),
        el("p", hint, id=described, class_="ohm-hint") if hint else None,
        class_="ohm-field",
    )


def typed_input(
    name: str, *, described: str | None = None, labelled: str | None = None, as_typed: bool = True
) -> Html:
    """Return the bare input of a text field.

    Parameters
    ----------
    name : str
    described : str, optional
        Ids of the words about it.
    labelled : str, optional
        Id of the words that name it, where they are no label.
    as_typed : bool
        Whether the phone is asked to leave its letters as they were typed.
    """
    # Text and not decimal: the letter of 6k32 must be on the keypad.
    return el(
        "input",
        id=name,
        name=name,
        type="text",
        inputmode="text",
        autocomplete="off",
        autocapitalize="none" if as_typed else None,
        spellcheck="false" if as_typed else None,
        aria_labelledby=labelled,
        aria_describedby=described,
    )


def choice(name: str, *, label: str, options: list[tuple[str, str]]) -> Html:
    """Return a choice of one; the first option stands until another is taken."""
    return el(
        "div",
        el("label", label, for_=name),
        el(
            "select",
            [el("option", words, value=value) for value, words in options],
            id=name,
            name=name,
        ),
        class_="ohm-field",
    )


def two_ways(name: str, *, label: str, options: list[tuple[str, str]]) -> Html:
    """Return a choice that lies open as keys side by side: what it is must be seen at a glance."""
    keys = []
    for i, (value, words) in enumerate(options):
        box = f"{name}-{value}"
        keys += [
            el("input", type="radio", id=box, name=name, value=value, checked=i == 0),
            el("label", words, for_=box),
        ]
    return el(
        "fieldset", el("legend", label), el("div", keys, class_="ohm-ways"), class_="ohm-field"
    )


def answer(*names: str) -> Html:
    """Return where a form's answer appears; a screen reader reads it out when it changes."""
    return el("output", for_=" ".join(names), class_="ohm-answer", role="status")


def clear_key(words: str = "") -> Html:
    """Return the key that forgets what was typed."""
    words = words or in_words("form-field.clear")
    return el("button", words, type="button", class_="ohm-key", data_clear=True, hidden=True)


def again_key() -> Html:
    """Return the key that begins a second reading; the first stays in the job."""
    words = in_words("form-field.again")
    return el("button", words, type="button", class_="ohm-key", data_again=True, hidden=True)


def how_taken(name: str = "how") -> Html:
    """Return the choice of how a temperature was taken; nothing stands in it until it is given."""
    return choice(
        name,
        label=in_words("form-field.how"),
        options=[("", in_words("form-field.choose")), *placements()],
    )


def instruments_fold(catalog: Catalog) -> Html:
    """Return the choice of meter and thermometer, folded: they seldom change."""
    return el(
        "details",
        el("summary", in_words("form-field.instruments")),
        choice("meter", label=in_words("form-field.meter"), options=options(catalog.meters())),
        choice(
            "thermometer",
            label=in_words("form-field.thermometer"),
            options=options(catalog.thermometers()),
        ),
    )


def placements() -> list[tuple[str, str]]:
    """Return how a temperature may have been taken; the usual one first, then the closest."""
    usual = "strapped"
    names = sorted(PLACEMENTS, key=lambda name: name != usual)
    return [(name, name_of("placement", name=name, form="label")) for name in names]


def options(instruments: list[Instrument]) -> list[tuple[str, str]]:
    """Return instruments as options of a choice."""
    return [(instrument.id, instrument.name) for instrument in instruments]


def packed(value: object) -> str:
    """Return data for a script, as short as JSON is."""
    return json.dumps(value, ensure_ascii=False, separators=(",", ":"))
