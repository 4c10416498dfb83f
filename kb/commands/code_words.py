"""A code in a terminal: what it means, what to do before measuring, then the checks in order."""

from __future__ import annotations

from collections.abc import Sequence

from kb.answers.code_checks import Check, CodeAnswer
from kb.catalog import Catalog
from kb.code_facts import family_asking
from kb.model import Code, Part, Sensor
from kb.model.code import Shown
from kb.words.catalogue import cautions, name_of
from kb.words.phrase import phrase, sentence

from .terminal import caution_words, paragraphs, wrapped

HANG = "     "
"""Under the name of a numbered thing."""


def code_words(catalog: Catalog, *, code: Code, answer: CodeAnswer) -> str:
    """Return the whole answer on a code for a terminal."""
    first, *last = answer.cautions
    family = catalog.family_of(code)
    ask = {"code": code.ask, "family": family_asking(family), "": []}[answer.ask]
    steps = {
        "rule_out": code.rule_out,
        "trip": [trip.words for trip in code.trip],
        "clear": code.clear,
        "afterwards": code.afterwards,
    }
    return paragraphs(
        [
            f"{', '.join(_way(way) for way in code.shown)}: {code.name}",
            wrapped(code.meaning),
            f"{cautions()[first].words} {sentence(answer.charge)}",
            _numbered("ask", ask),
            _checks(catalog, code=code, answer=answer),
            *(_numbered(field, steps[field]) for field in answer.steps),
            caution_words(last),
        ]
    )


def _way(way: Shown) -> str:
    return f"{way.spoken()} ({way.blinks.lamp})" if way.blinks else way.spoken()


def _checks(catalog: Catalog, *, code: Code, answer: CodeAnswer) -> str:
    lines = [f"{name_of('code-step', name='checks')} ({phrase(answer.expected)}):"]
    for number, check in enumerate(answer.checks, start=1):
        name = _name(catalog, check)
        lines.append(f"  {number}. {name}: {phrase(check.likely)}")
        below = [cautions()[caution_id].words for caution_id in check.cautions]
        below.append(code.suspects[check.suspect.place].look_for or "")
        below.append(sentence(check.untestable) if check.untestable else "")
        lines += [wrapped(line, lead=HANG, hang=HANG) for line in below if line]
    return "\n".join(lines)


def _name(catalog: Catalog, check: Check) -> str:
    suspect = check.suspect
    if suspect.sensor:
        sensor = catalog.get(Sensor, suspect.sensor)
        plug = f", plug {sensor.plug.mark}" if sensor.plug else ""
        return f"{sensor.name} ({sensor.id}{plug})"
    if suspect.part:
        return f"{catalog.get(Part, suspect.part).name} ({suspect.part})"
    return suspect.what or ""


def _numbered(step: str, lines: Sequence[str]) -> str:
    if not lines:
        return ""
    rows = []
    for number, line in enumerate(lines, start=1):
        lead = f"  {number}. "
        rows.append(wrapped(line, lead=lead, hang=" " * len(lead)))
    return "\n".join([f"{name_of('code-step', name=step)}:", *rows])
