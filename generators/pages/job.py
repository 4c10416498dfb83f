"""A family's job page: what was shown, read, found, done and proved, as a text to hand over."""

from __future__ import annotations

import json

from kb.catalog import plain_name, shown_name, spoken
from kb.model import Code, Family, Part, Sensor

from ..components import caution_line
from ..forms.fields import choice
from ..forms.scripts import form_scripts
from ..forms.sensor_form import curves_of_family
from ..html import Html, el, join, section
from ..page import Page
from ..site_context import SiteContext


def make_job(context: SiteContext, family: Family) -> Page:
    """Return the page that gathers one job on a family, on the phone only."""
    body = join(
        [
            el(
                "p",
                "What belongs to one machine, gathered. It stays on this phone until you clear it; "
                "nothing is sent, and no customer is named.",
                class_="ohm-lead",
            ),
            el(
                "p",
                "The job page needs scripts. Without them, write the case by hand: "
                "see any past job for what belongs in it.",
                class_="ohm-no-js",
            ),
            caution_line(context, family),
            _form(context, family),
            _outcome(),
            el("section", class_="ohm-job-others"),
            el("div", class_="ohm-job-sheet"),
            form_scripts(
                context, forms=["job"], curve_ids=curves_of_family(context, family_id=family.id)
            ),
        ]
    )
    return Page(
        path=f"jobs/{family.id}.md",
        title=f"Job on {family.name}",
        kind="job",
        summary=f"One job on {family.name}, to hand over and to keep.",
        trail=(("Families", "families/index.html"), (family.name, family.href)),
        families=((family.id, family.name),),
        body=body,
    )


def _form(context: SiteContext, family: Family) -> Html:
    codes = context.catalog.of_family(Code, family.id)
    return el(
        "form",
        el("p", "No job is open here: what you type begins one.", class_="ohm-job-none ohm-hint"),
        _line("mark", "Your mark for it", "Such as: left of the lift."),
        _line("plate", "Size on its plate", ""),
        choice(
            "code",
            label="The machine showed",
            options=[("", "No code")] + [(code.id, shown_name(code)) for code in codes],
        ),
        _area("found", "What was found", "In a few sentences. No name, no address."),
        section("Measured", el("div", class_="ohm-job-readings")),
        _photos(),
        choice("cause", label="The cause", options=[]),
        _line("cause-words", "In words", "Wiring, water, charge: whatever it was."),
        _area("cure", "What was done", ""),
        _line(
            "refrigerant",
            "Refrigerant and tightness, if it was opened",
            "Recovered, charged, what the tightness test held.",
        ),
        _line("minutes", "Minutes on site", "", mode="numeric"),
        _line("by", "Your initials", ""),
        _area("learnt", "What the next colleague should know", "One thing to a line."),
        class_="ohm-calc ohm-job",
        data_calc="job",
        data_family=family.id,
        data_job=_known(context, family),
        hidden=True,
        autocomplete="off",
    )


def _photos() -> Html:
    """Return where photos are taken: by the camera at once, or from what the phone has."""
    return section(
        "Photos",
        el(
            "p",
            "Made small, without place, kept on this phone only. No person, no name, no address.",
            class_="ohm-hint",
        ),
        el(
            "div",
            _photo_key("photo-new", "Take a photo", capture="environment"),
            _photo_key("photo-old", "Choose some", multiple=True),
            class_="ohm-keys",
        ),
        el("p", class_="ohm-photo-says", role="status"),
        el("ul", class_="ohm-job-photos"),
    )


def _photo_key(name: str, words: str, **attributes: object) -> Html:
    """Return a file field that looks like the key it is."""
    return el(
        "label",
        words,
        el("input", type="file", id=name, accept="image/*", class_="ohm-hidden", **attributes),
        class_="ohm-key ohm-photo-key",
    )


def _outcome() -> Html:
    """Return where the scripts write the job: in words, and as a case for the notes."""
    return el(
        "div",
        section(
            "For the customer and the office",
            el("pre", class_="ohm-job-text", tabindex="0", aria_label="The job in words"),
            el("p", class_="ohm-job-keys"),
        ),
        section(
            "For the notes",
            el(
                "p",
                "The keeper runs ",
                el("kbd", "ohmfolio case add FILE"),
                " on this; the next release counts it in the shares. With photos it is a zip.",
                class_="ohm-hint",
            ),
            el("p", class_="ohm-case-missing", role="status"),
            el("pre", class_="ohm-case-text", tabindex="0", aria_label="The job as a case"),
            el("p", class_="ohm-case-keys"),
        ),
        el("p", class_="ohm-job-says", role="status"),
        class_="ohm-job-outcome",
        hidden=True,
    )


def _known(context: SiteContext, family: Family) -> str:
    """Return what the page's script must know of the family, as JSON."""
    known = {
        "name": family.name,
        "codes": {code.id: _code(code) for code in context.catalog.of_family(Code, family.id)},
        "sensors": {
            sensor.id: {
                "name": shown_name(sensor),
                "curve": sensor.curve,
                "allow_k": sensor.allow_k or 0,
                "order": sensor.order,
            }
            for sensor in context.catalog.of_family(Sensor, family.id)
        },
        "parts": {
            part.id: {
                "name": part.name,
                "order": part.order,
                "labour_min": part.labour_min,
                "refit": len(part.refit),
                "prove": [{"what": proof.what, "must": proof.must} for proof in part.prove],
                "settings": [
                    " ".join(filter(None, [setting.mark, setting.what]))
                    for setting in part.settings
                ],
            }
            for part in context.catalog.of_family(Part, family.id)
        },
        "testers": {tool.id: tool.name for tool in context.catalog.insulation_testers()},
    }
    return json.dumps(known, ensure_ascii=False, separators=(",", ":"), sort_keys=True)


def _code(code: Code) -> dict[str, object]:
    return {
        "shown": ", ".join(spoken(way) for way in code.shown),
        "name": plain_name(code),
        "suspects": [
            {"kind": kind, "id": key if kind != "what" else suspect.what}
            for suspect in code.suspects
            for kind, key in [suspect.key]
        ],
        "after": list(code.afterwards),
    }


def _line(name: str, label: str, hint: str, *, mode: str = "text") -> Html:
    return _field(
        name,
        label,
        hint,
        el(
            "input",
            id=name,
            name=name,
            type="text",
            inputmode=mode,
            autocomplete="off",
            aria_describedby=_hint_id(name, hint),
        ),
    )


def _area(name: str, label: str, hint: str) -> Html:
    return _field(
        name,
        label,
        hint,
        el("textarea", id=name, name=name, rows="3", aria_describedby=_hint_id(name, hint)),
    )


def _field(name: str, label: str, hint: str, inner: Html) -> Html:
    below = el("p", hint, id=_hint_id(name, hint), class_="ohm-hint") if hint else None
    return el(
        "div", el("label", label, for_=name), inner, below, class_="ohm-field", data_field=name
    )


def _hint_id(name: str, hint: str) -> str | None:
    return f"{name}-hint" if hint else None
