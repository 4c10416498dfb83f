"""The part page's settings: what the old one is set to, written down before it comes out."""

from __future__ import annotations

from kb.model import Family, Part
from kb.model.part import Setting
from kb.words.phrase import in_words

from ..html import Child, Html, bullets, el, join
from ..in_words import value_of
from .fields import choice, plain_field

OTHER = "other"
"""The last choice of a setting that has some: a machine may be set as no list foresees."""


def settings_form(part: Part, *, family: Family) -> Html:
    """Return the list of a part's settings, and the fields that a script keeps with the job.

    A field's name is `setting-N`, N counted from 1 in the entry's order. Without scripts, and on
    paper, the list stands instead, with room to write.
    """
    if not part.settings:
        return Html("")
    return join(
        [
            el(
                "form",
                [_field(number, setting) for number, setting in enumerate(part.settings, 1)],
                class_="ohm-calc",
                data_calc="settings",
                data_settings=part.id,
                data_part=part.id,
                data_family=family.id,
                hidden=True,
                autocomplete="off",
            ),
            bullets((_line(setting) for setting in part.settings), class_="ohm-settings"),
        ]
    )


def _field(number: int, setting: Setting) -> Html:
    name = f"setting-{number}"
    if not setting.choices:
        return plain_field(name, label=_label(setting), hint=setting.note or "")
    ways = [
        ("", "–"),
        *((way, way) for way in setting.choices),
        (OTHER, in_words("settings-form.other")),
    ]
    return join(
        [
            choice(name, label=join(_label(setting)), options=ways),
            el("p", setting.note, class_="ohm-hint") if setting.note else None,
        ]
    )


def _label(setting: Setting) -> Child:
    """Return what to look for, and what it means: `SW1 switches: size of the unit`."""
    mark = [el("strong", setting.mark), " "] if setting.mark else []
    return [*mark, f"{value_of('setting', setting.is_a)}: {setting.what}"]


def _line(setting: Setting) -> Html:
    """Return one setting as a line to write on."""
    ways = f" ({' / '.join(setting.choices)})" if setting.choices else None
    note = el("span", setting.note, class_="ohm-note") if setting.note else None
    return join([_label(setting), ways, " ", el("span", class_="ohm-blank"), note])
