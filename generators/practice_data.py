"""What the practice machine's script gets: machines with hidden-fault rules, and their words."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import fields, is_dataclass
from functools import partial
from typing import Any

from kb.catalog import Catalog, plain_name, shown_name, spoken
from kb.model import Code, Family, Instrument, Method, Part, Sensor
from kb.model.code import Suspect
from kb.part_facts import named_testers
from kb.practice_facts import practice_machine
from kb.suspects import rank_suspects

from .site_context import SiteContext

CURVES_OUT = ("curve", "family_curves", "other_curves", "labels")
"""Of a sensor's facts: the page has its curves by name."""


def practice_script_text(context: SiteContext) -> str:
    """Return the script that hands the practice machine what the notes say, as plain values."""
    catalog, worked = context.catalog, context.worked
    found = {
        family_id: worked.of_questions(
            f"practice {family_id}", catalog, make=partial(_machine, family_id=family_id)
        )
        for family_id in catalog.all(Family)
    }
    machines = {family_id: machine for family_id, machine in found.items() if machine is not None}
    notes = {
        "machines": [facts for facts, _ in machines.values()],
        "testers": {tester.id: as_page(tester) for tester in named_testers(catalog)},
        "words": {family_id: words for family_id, (_, words) in machines.items()},
        "tester": _voltage_tester(catalog),
    }
    packed = json.dumps(notes, ensure_ascii=False, separators=(",", ":")).replace("<", "\\u003c")
    return f"window.OhmPractice={packed};\n"


def _machine(catalog: Catalog, *, family_id: str) -> list[Any] | None:
    """Return a family's facts and words; None where it cannot be practised on."""
    machine = practice_machine(catalog, catalog.get(Family, family_id))
    if machine is None:
        return None
    return [as_page(machine), _machine_words(catalog, family_id)]


def as_page(value: Any) -> Any:
    """Return facts as plain values, the names of fields as scripts have them."""
    if is_dataclass(value):
        return {
            _camel(field.name): as_page(getattr(value, field.name))
            for field in fields(value)
            if field.name not in CURVES_OUT
        }
    if isinstance(value, Mapping):
        return {key: as_page(row) for key, row in value.items()}
    if isinstance(value, (list, tuple)):
        return [as_page(row) for row in value]
    return value


def _camel(name: str) -> str:
    first, *others = name.split("_")
    return first + "".join(word[:1].upper() + word[1:] for word in others)


def _voltage_tester(catalog: Catalog) -> str:
    """Return what the team calls the instrument that proves dead; "" where it named none."""
    named = catalog.team.voltage_tester
    return catalog.get(Instrument, named).name if named else ""


def _machine_words(catalog: Catalog, family_id: str) -> dict[str, object]:
    family = catalog.get(Family, family_id)
    return {
        "name": family.name,
        "href": family.href,
        "isolateAt": family.supply.isolate_at.rstrip("."),
        "drainAt": family.drain_at.rstrip("."),
        "volts": family.supply.volts,
        "none": (family.no_charge or "").rstrip("."),
        "cautions": list(family.cautions),
        "sensors": {
            sensor.id: {
                "name": plain_name(sensor),
                "label": sensor.label,
                "href": sensor.href,
                "place": sensor.place,
                "plug": sensor.plug.mark if sensor.plug else "",
                "reach": sensor.reach_how or "",
            }
            for sensor in catalog.of_family(Sensor, family_id)
        },
        "parts": {part.id: _part_words(part) for part in catalog.of_family(Part, family_id)},
        "codes": {
            code.id: _code_words(catalog, code) for code in catalog.of_family(Code, family_id)
        },
    }


def _part_words(part: Part) -> dict[str, object]:
    return {
        "name": part.name,
        "href": part.href,
        "labour": part.labour_min or 0,
        "dear": part.dear,
        "apart": part.insulation.disconnect if part.insulation else "",
        "refit": [_refit_words(row.what, mark=row.mark, note=row.note) for row in part.refit],
    }


def _refit_words(what: str, *, mark: str | None, note: str | None) -> str:
    named = f"{what} ({mark})" if mark else what
    return f"{named}. {note}" if note else named


def _code_words(catalog: Catalog, code: Code) -> dict[str, object]:
    ways = [way for way in code.shown if way.asked is None] or list(code.shown)
    return {
        "shown": [[way.where or "", spoken(way)] for way in ways],
        "href": code.href,
        "stops": code.stops,
        "clear": list(code.clear),
        "afterwards": list(code.afterwards),
        "suspects": [_suspect_words(catalog, row) for row in _ranked(catalog, code)],
    }


def _ranked(catalog: Catalog, code: Code) -> list[Suspect]:
    return [row.suspect for row in rank_suspects(code, cases=catalog.cases_of(code)).suspects]


def _suspect_words(catalog: Catalog, row: Suspect) -> dict[str, object]:
    method = catalog.get(Method, row.method) if row.method else None
    named = row.what or ""
    if row.sensor:
        named = shown_name(catalog.get(Sensor, row.sensor))
    elif row.part:
        named = catalog.get(Part, row.part).name
    return {
        "name": named,
        "look": row.look_for or "",
        "live": bool(row.live),
        "method": method.name if method else "",
        "methodHref": method.href if method else "",
        "cautions": list(method.cautions) if method else [],
    }
