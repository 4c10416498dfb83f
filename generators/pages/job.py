"""A family's job page: what was shown, read, found, done and proved, as a text to hand over."""

from __future__ import annotations

import json

from kb.catalog import plain_name, shown_name, spoken
from kb.model import Code, Family, Part, Sensor
from kb.words.phrase import in_words

from ..components import caution_line
from ..forms.fields import choice
from ..forms.scripts import form_scripts
from ..forms.sensor_form import curves_of_family
from ..html import Html, el, join, section
from ..in_words import words_around
from ..page import Page
from ..site_context import SiteContext


def make_job(context: SiteContext, family: Family) -> Page:
    """Return the page that gathers one job on a family, on the phone only."""
    body = join(
        [
            el("p", _words("lead"), class_="ohm-lead"),
            el("p", _words("no-scripts"), class_="ohm-no-js"),
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
        title=_words("title", family=family.name),
        kind="job",
        summary=_words("summary", family=family.name),
        trail=((_words("families"), "families/index.html"), (family.name, family.href)),
        families=(family,),
        body=body,
    )


def _form(context: SiteContext, family: Family) -> Html:
    codes = context.catalog.of_family(Code, family.id)
    return el(
        "form",
        el("p", _words("none"), class_="ohm-job-none ohm-hint"),
        _line("mark", hinted=True),
        _line("plate"),
        choice(
            "code",
            label=_words("code"),
            options=[("", _words("code-none"))] + [(code.id, shown_name(code)) for code in codes],
        ),
        _area("found", hinted=True),
        section(_words("measured"), el("div", class_="ohm-job-readings"), id_="measured"),
        _photos(),
        choice("cause", label=_words("cause"), options=[]),
        _line("cause-words", hinted=True),
        _area("cure"),
        _line("refrigerant", hinted=True),
        _line("minutes", mode="numeric"),
        _line("by"),
        _area("learnt", hinted=True),
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
        _words("photos"),
        el("p", _words("photos-kept"), class_="ohm-hint"),
        el(
            "div",
            _photo_key("photo-new", capture="environment"),
            _photo_key("photo-old", multiple=True),
            class_="ohm-keys",
        ),
        el("p", class_="ohm-photo-says", role="status"),
        el("ul", class_="ohm-job-photos"),
        id_="photos",
    )


def _photo_key(name: str, **attributes: object) -> Html:
    """Return a file field that looks like the key it is."""
    return el(
        "label",
        _words(name),
        el("input", type="file", id=name, accept="image/*", class_="ohm-hidden", **attributes),
        class_="ohm-key ohm-photo-key",
    )


def _outcome() -> Html:
    """Return where the scripts write the job: in words, and as a case for the notes."""
    return el(
        "div",
        section(
            _words("text"),
            el("pre", class_="ohm-job-text", tabindex="0", aria_label=_words("text-aloud")),
            el("p", class_="ohm-job-keys"),
            id_="for-the-customer-and-the-office",
        ),
        section(
            _words("case"),
            el(
                "p",
                words_around("job-page.case-how", command=el("kbd", _words("case-command"))),
                class_="ohm-hint",
            ),
            el("p", class_="ohm-case-missing", role="status"),
            el("pre", class_="ohm-case-text", tabindex="0", aria_label=_words("case-aloud")),
            el("p", class_="ohm-case-keys"),
            id_="for-the-notes",
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


def _line(name: str, *, hinted: bool = False, mode: str = "text") -> Html:
    return _field(
        name,
        el(
            "input",
            id=name,
            name=name,
            type="text",
            inputmode=mode,
            autocomplete="off",
            aria_describedby=_hint_id(name) if hinted else None,
        ),
        hinted=hinted,
    )


def _area(name: str, *, hinted: bool = False) -> Html:
    described = _hint_id(name) if hinted else None
    inner = el("textarea", id=name, name=name, rows="3", aria_describedby=described)
    return _field(name, inner, hinted=hinted)


def _field(name: str, inner: Html, *, hinted: bool) -> Html:
    below = None
    if hinted:
        below = el("p", _words(f"{name}-hint"), id=_hint_id(name), class_="ohm-hint")
    return el(
        "div",
        el("label", _words(name), for_=name),
        inner,
        below,
        class_="ohm-field",
        data_field=name,
    )


def _hint_id(name: str) -> str:
    return f"{name}-hint"


def _words(name: str, /, **figures: object) -> str:
    return in_words(f"job-page.{name}", **figures)
