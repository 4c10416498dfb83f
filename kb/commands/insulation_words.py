"""What a terminal says of a part's insulation: the verdict first, what to do, then the figures."""

from __future__ import annotations

import math

from kb.answers.insulation import InsulationAnswer
from kb.answers.part_cautions import CautionFacts, insulation_essentials, with_methods
from kb.model import Part
from kb.words.phrase import Voice, capital, phrase, sentence

from .part_lookup import caution_lines, cautions_in_words
from .terminal import paragraphs, verdict_line, wrapped


def insulation_words(answer: InsulationAnswer, *, part: Part, facts: CautionFacts) -> str:
    """Return the whole answer for a terminal."""
    voice = Voice(unit=answer.unit)
    beside = [sentence(statement, voice=voice) for statement in answer.beside]
    checks = [wrapped(sentence(check, voice=voice)) for check in answer.checks]
    notes = [wrapped(sentence(note, voice=voice)) for note in answer.notes]
    why = " ".join([phrase(answer.headline, voice=voice), *beside])
    return paragraphs(
        [
            verdict_line(answer.state, why=why) if answer.state else wrapped(capital(why)),
            "\n".join(checks),
            "\n".join([wrapped(_read(answer, part=part, voice=voice)), *notes]),
            caution_lines(_cautions(facts)),
        ]
    )


def _read(answer: InsulationAnswer, *, part: Part, voice: Voice) -> str:
    read = f"{part.name} ({part.id}): {phrase(answer.read, voice=voice)}"
    if answer.read.id.startswith("insulation.read-unknown"):
        return f"{read.rstrip('.')} (name it with --tester)."
    return read


def _cautions(facts: CautionFacts) -> list[str]:
    return cautions_in_words(with_methods(insulation_essentials(facts), facts=facts))


def insulation_as_dict(
    answer: InsulationAnswer, *, part: Part, facts: CautionFacts
) -> dict[str, object]:
    """Return the answer for machines; over range is null, and at least what `checks` say."""
    verdict = answer.verdict
    return {
        "part": part.id,
        "verdict": answer.state or None,
        # Without a temperature it says from where on a limit is met: the winding is nowhere yet.
        "beyond": (verdict.beyond or None) if answer.t_c is not None else None,
        "over_range": answer.over_range,
        "r_ohm": _finite(answer.r_ohm),
        "at_40_ohm": _finite(verdict.at_40_ohm),
        "dew_c": answer.dew_c,
        "surface": answer.surface or None,
        "trend": answer.trend or None,
        "ratio": answer.ratio,
        "checks": [
            {
                "whose": check.whose,
                "limit_ohm": check.limit_ohm,
                "limit_c": check.limit_c,
                "reading_ohm": _finite(check.reading_ohm),
                "state": check.state,
            }
            for check in verdict.checks
        ],
        "cautions": _cautions(facts),
    }


def _finite(value: float | None) -> float | None:
    return value if value is not None and math.isfinite(value) else None
