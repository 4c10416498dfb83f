"""A part's windings in a terminal: the verdict first, each pair of leads, then what follows."""

from __future__ import annotations

import math

from kb.answers.part_cautions import CautionFacts, winding_essentials, with_methods
from kb.answers.statement import Statement
from kb.answers.winding import WindingAnswer, WindingQuestion
from kb.answers.winding_reading import WindingReading
from kb.model import Part
from kb.numbers.rounding import format_departure, format_ohm_to, format_percent
from kb.numbers.winding_balance import Balance
from kb.words.catalogue import name_of
from kb.words.phrase import Voice, phrase, sentence

from .part_lookup import caution_lines, cautions_in_words
from .terminal import paragraphs, verdict_line, wrapped

COLUMNS = ("read", "at-20", "off-mean", "off-entry")


def windings_words(answer: WindingAnswer, *, part: Part, facts: CautionFacts) -> str:
    """Return the whole answer for a terminal."""
    voice = Voice(unit=answer.unit)
    read = f"{part.name} ({part.id}), {phrase(answer.read, voice=voice)}"
    notes = [sentence(note, voice=voice) for note in answer.notes]
    headline = wrapped(sentence(answer.headline, voice=voice))
    if answer.state:
        headline = verdict_line(answer.state, why=phrase(answer.headline, voice=voice))
    return paragraphs(
        [
            wrapped(sentence(answer.names)) if answer.names else "",
            headline,
            "\n".join(_rows(answer)),
            wrapped(" ".join([read, *notes])),
            wrapped(" ".join(_advice(answer, part=part))),
            caution_lines(_cautions(facts)),
        ]
    )


def _rows(answer: WindingAnswer) -> list[str]:
    """Return the readings as columns; one that holds nothing is left out."""
    rows = [["", *(name_of("winding-column", name=column) for column in COLUMNS)]]
    for pair, reading in answer.pairs.items():
        at_20_ohm = reading.at_20_ohm
        rows.append(
            [
                pair,
                format_ohm_to(reading.r_ohm, digit_ohm=reading.digit_ohm),
                "" if at_20_ohm is None else format_ohm_to(at_20_ohm, digit_ohm=reading.digit_ohm),
                _off_mean(answer.balances, pair=pair),
                _departure(reading.off_share, uncertainty_share=reading.uncertainty_share),
            ]
        )
    wide = [max(len(row[i]) for row in rows) for i in range(len(rows[0]))]
    kept = [i for i in range(len(wide)) if i == 0 or any(row[i] for row in rows[1:])]
    return [
        "  ".join(row[i].ljust(wide[i]) if i == 0 else row[i].rjust(wide[i]) for i in kept).rstrip()
        for row in rows
    ]


def _off_mean(balances: tuple[Balance, ...], *, pair: str) -> str:
    for balance in balances:
        if pair in balance.windings:
            held = balance.windings[pair]
            return _departure(held.off_share, uncertainty_share=held.uncertainty_share)
    return ""


def _departure(off_share: float | None, *, uncertainty_share: float | None) -> str:
    if off_share is None or uncertainty_share is None:
        return ""
    return f"{format_departure(off_share)} ± {format_percent(uncertainty_share)}"


def _advice(answer: WindingAnswer, *, part: Part) -> list[str]:
    advice = []
    if answer.better:
        ways = [f"{way.name} (--{way.term} {way.id})" for way in answer.better]
        advice.append(sentence(Statement(id="winding.take", figures={"ways": ways})))
    for statement in answer.advice:
        words = sentence(statement)
        if statement.id == "winding.earth":
            words = f"{words.rstrip('.')}, ohmfolio insulation {part.id}."
        advice.append(words)
    return advice


def _cautions(facts: CautionFacts) -> list[str]:
    return cautions_in_words(with_methods(winding_essentials(facts), facts=facts))


def windings_as_dict(
    answer: WindingAnswer, *, part: Part, question: WindingQuestion, facts: CautionFacts
) -> dict[str, object]:
    """Return the answer for machines; over range and what nobody knows are null."""
    return {
        "part": part.id,
        "verdict": answer.state or None,
        "constant": question.part.constant,
        "meter": question.meter.id,
        "balance": [
            _balance_as_dict(balance, answer=answer, allowed_share=question.part.balance_share)
            for balance in answer.balances
        ],
        "windings": [
            _reading_as_dict(reading, pair=pair) for pair, reading in answer.pairs.items()
        ],
        "solved_ohm": {
            name: r_ohm if math.isfinite(r_ohm) else None
            for name, r_ohm in answer.solved_ohm.items()
        },
        "solved_u_ohm": dict(answer.solved_u_ohm),
        "names": sentence(answer.names) if answer.names else None,
        "unread": list(answer.unread),
        "cautions": _cautions(facts),
    }


def _balance_as_dict(
    balance: Balance, *, answer: WindingAnswer, allowed_share: float | None
) -> dict[str, object]:
    held = balance.windings.items()
    return {
        "pairs": list(balance.windings),
        "state": balance.state or None,
        "mean_at_20_ohm": None if answer.t_c is None else balance.mean_at_20_ohm,
        "worst_percent": _percent(balance.worst_share),
        "allowed_percent": _percent(allowed_share),
        "off_percent": {pair: _percent(winding.off_share) for pair, winding in held},
        "uncertainty_percent": {
            pair: _percent(winding.uncertainty_share) for pair, winding in held
        },
    }


def _reading_as_dict(reading: WindingReading, *, pair: str) -> dict[str, object]:
    return {
        "pair": pair,
        "r_ohm": reading.r_ohm if math.isfinite(reading.r_ohm) else None,
        "repeats": reading.repeats,
        "spread_ohm": reading.spread_ohm,
        "at_20_ohm": reading.at_20_ohm,
        "expected_ohm": reading.expected_ohm,
        "off_percent": _percent(reading.off_share),
        "uncertainty_percent": _percent(reading.uncertainty_share),
        "allowed_percent": _percent(reading.allowed_share),
        "state": reading.state or None,
    }


def _percent(share: float | None) -> float | None:
    return None if share is None or not math.isfinite(share) else share * 100
