"""A verdict in a terminal: one plain sentence first, the figures under it, then what to do."""

from __future__ import annotations

from collections.abc import Mapping

from kb.answers.instruments import Tools
from kb.answers.loop import LoopAnswer, LoopQuestion
from kb.answers.reading import SAME_K, ReadingAnswer, ReadingQuestion
from kb.answers.reading_settling import Reread, Settling
from kb.answers.statement import Statement
from kb.answers.typed import SISTER
from kb.numbers.rounding import format_k, format_ohm, format_t
from kb.numbers.verdict import full_half
from kb.words.catalogue import name_of
from kb.words.phrase import Voice, ohm_span, phrase, sentence

from .instruments_used import tools_words
from .options import NamedCurve
from .strip_words import strip_words
from .terminal import aligned, caution_words, paragraphs, verdict_line, wrapped

_LEADS_COUNT = 1e-3
"""Leads below this share of a reading change nothing that is printed."""
CURVE_SEEN_SHARE = 0.02
"""Less of U than so the curve itself is not named: nothing that is printed hangs on it."""


def reading_words(
    answer: ReadingAnswer,
    *,
    named: NamedCurve,
    question: ReadingQuestion,
    steps: Mapping[str, Mapping[str, str]],
) -> str:
    """Return the whole answer for a terminal: what it is, what else, what next; then the figures.

    Parameters
    ----------
    answer, named, question
    steps : mapping of whose → field → words
        What the entries say of each instruction.
    """
    voice = Voice(unit=answer.unit, digits=answer.digits)
    figures = _figures(answer, named=named, question=question)
    return paragraphs(
        [
            verdict_line(answer.state, why=phrase(answer.headline, voice=voice)),
            _beside(answer, voice=voice),
            strip_words(answer.excluded, unit=answer.unit),
            _explanations(answer, voice=voice),
            _settling(answer.settling, named=named, voice=voice),
            _next_steps(answer, steps=steps, voice=voice),
            "\n".join([named.heading(), *aligned(figures)]),
            caution_words(answer.cautions),
        ]
    )


def _figures(
    answer: ReadingAnswer, *, named: NamedCurve, question: ReadingQuestion
) -> list[tuple[str, str]]:
    verdict, unit = answer.verdict, answer.unit
    high_ohm = verdict.high_ohm if verdict.limit_known else verdict.low_ohm
    rows = [
        (
            "Read",
            _read(
                answer.shown_ohm,
                t_c=answer.t_c,
                unit=unit,
                tools=question.tools,
                digits=answer.digits,
            ),
        ),
        ("Expected", _span(verdict.low_ohm, high_ohm, digits=answer.digits)),
    ]
    if verdict.error_k is not None:
        same = abs(verdict.error_k) < SAME_K
        sign = "" if same else "−" if verdict.error_k < 0 else "+"
        error_k = 0.0 if same else verdict.error_k
        rows.append(("Error", sign + _difference(error_k, unit=unit)))
    rows.append(("Limit", _limit(answer, question=question)))
    # Off the curve its end's slope goes on: a figure of no use to anybody.
    if verdict.uncertainty_k is not None and answer.state != "off-curve":
        shares = ", ".join(
            f"{term} {_difference(full_half(u_k), unit=unit)}"
            for term, u_k in verdict.terms_k.items()
            if term != "curve" or full_half(u_k) > CURVE_SEEN_SHARE * verdict.uncertainty_k
        )
        rows.append(("Uncertainty", f"± {_difference(verdict.uncertainty_k, unit=unit)}: {shares}"))
    rows.append(("Taken with", _taken_with(question.tools, t_c=answer.t_c)))
    return rows


def _taken_with(tools: Tools, *, t_c: float | None) -> str:
    """Name the meter alone where no temperature was taken."""
    if t_c is not None:
        return tools_words(tools)
    return tools.meter.name if tools.meter else ""


def _limit(answer: ReadingAnswer, *, question: ReadingQuestion) -> str:
    if not answer.verdict.limit_known:
        return "not known"
    own = answer.verdict.limit_k > question.sensor.allow_k
    if answer.t_c is not None:
        own = float(question.sensor.curve.tol_k(answer.t_c)) >= question.sensor.allow_k
    whose = "the part's own tolerance" if own else "what the machine tolerates"
    return f"± {_difference(answer.verdict.limit_k, unit=answer.unit)}, {whose}"


def _beside(answer: ReadingAnswer, *, voice: Voice) -> str:
    excluded = answer.excluded.statements if answer.excluded else ()
    beside = (*answer.beside, *excluded)
    return wrapped(" ".join(sentence(statement, voice=voice) for statement in beside))


def _read(shown_ohm: float, *, t_c: float | None, unit: str, tools: Tools, digits: int = 4) -> str:
    leads_ohm = tools.meter.meter.leads_ohm if tools.meter else 0.0
    counts = leads_ohm and leads_ohm >= _LEADS_COUNT * shown_ohm
    leads = f", less {format_ohm(leads_ohm, digits=2)} of leads" if counts else ""
    at = "" if t_c is None else f" at {format_t(t_c, unit=unit)}"
    return f"{format_ohm(shown_ohm, digits=digits)}{at}{leads}"


def _span(low_ohm: float, high_ohm: float, *, digits: int) -> str:
    if low_ohm == high_ohm:
        return format_ohm(low_ohm, digits=digits)
    return ohm_span(low_ohm, high_ohm=high_ohm, digits=digits)


def _difference(difference_k: float, *, unit: str) -> str:
    return format_k(abs(difference_k), unit="K" if unit == "C" else "F")


def _settling(settling: Settling | None, *, named: NamedCurve, voice: Voice) -> str:
    if settling is None:
        return ""
    advice = [sentence(statement, voice=voice) for statement in settling.statements]
    if settling.otherwise is not None:
        advice.append(sentence(settling.otherwise, voice=voice))
        if named.sensor:
            advice.append(
                f"{sentence(Statement(id='settling.compare')).rstrip('.')}: "
                f"ohmfolio round {named.sensor.family}."
            )
    rows = [wrapped(" ".join(advice))]
    if settling.ways:
        rows.append(f"{name_of('form', name='next')} read it again, best first:")
    rows += [wrapped(_way(way, voice=voice), lead="  - ", hang="    ") for way in settling.ways]
    return "\n".join(rows)


def _way(way: Reread, *, voice: Voice) -> str:
    """Return a way with how the command is told of it."""
    options = {"placement": way.placement, "meter": way.meter, "thermometer": way.thermometer}
    named = [f"--{name} {chosen}" for name, chosen in options.items() if chosen]
    how = "--sister R" if way.placement == SISTER else " ".join(named)
    return f"{phrase(way.statement, voice=voice)}: {how}"


def _explanations(answer: ReadingAnswer, *, voice: Voice) -> str:
    if not answer.explanations:
        return ""
    rows = [
        wrapped(phrase(explained.statement, voice=voice), lead="  - ", hang="    ")
        for explained in answer.explanations
    ]
    counted = [
        wrapped(sentence(statement, voice=voice), lead="  ", hang="  ")
        for statement in answer.counted
    ]
    return "\n".join(["It would also fit:", *rows, *counted])


def _next_steps(
    answer: ReadingAnswer, *, steps: Mapping[str, Mapping[str, str]], voice: Voice
) -> str:
    """Return what tells, then what the entry says: of what stays so, where something tells."""
    first = " ".join(sentence(statement, voice=voice) for statement in answer.next.first)
    words = steps.get(answer.next.whose, {}).get(answer.next.instruction, "")
    lead = name_of("form", name="stays" if first else "next")
    found = [
        f"{name_of('form', name='next')} {first}" if first else "",
        words and f"{lead} {words}",
    ]
    return "\n".join(wrapped(step) for step in found if step)


def _next_step(instruction: str, *, named: NamedCurve) -> str:
    words = getattr(named.sensor, instruction) if instruction else ""
    return wrapped(f"Next: {words}") if words else ""


def loop_words(answer: LoopAnswer, *, named: NamedCurve, question: LoopQuestion) -> str:
    """Return the whole answer on a motor's PTC loop for a terminal."""
    voice = Voice(unit=answer.unit)
    verdict = answer.verdict
    rows = [
        ("Read", _read(answer.shown_ohm, t_c=answer.t_c, unit=answer.unit, tools=question.tools)),
        ("Expected", phrase(answer.expected, voice=voice)),
    ]
    if verdict.uncertainty_ohm is not None:
        uncertainty = format_ohm(verdict.uncertainty_ohm, digits=2)
        rows.append(("Uncertainty", f"± {uncertainty} of the meter"))
    rows.append(("Trips at", format_t(question.loop.trip_c, unit=answer.unit)))
    rows.append(("Taken with", _taken_with(question.tools, t_c=answer.t_c)))
    return paragraphs(
        [
            verdict_line(answer.state, why=phrase(answer.headline, voice=voice)),
            "\n".join([named.heading(), *aligned(rows)]),
            _next_step(answer.instruction, named=named),
            caution_words(answer.cautions),
        ]
    )


def reading_as_dict(answer: ReadingAnswer) -> dict[str, object]:
    """Return what `judge --json` promises; a figure that nobody knows is null."""
    verdict = answer.verdict
    known = verdict.limit_known
    voice = Voice(unit=answer.unit, digits=answer.digits)
    return {
        "verdict": answer.state,
        "ohm_digits": answer.digits,
        "t_implied_c": verdict.t_implied_c,
        "error_k": verdict.error_k,
        "limit_k": verdict.limit_k if known else None,
        "uncertainty_k": verdict.uncertainty_k,
        "dominant": verdict.dominant,
        "low_ohm": verdict.low_ohm if known else None,
        "high_ohm": verdict.high_ohm if known else None,
        "bounds_k": [answer.excluded.low_k, answer.excluded.high_k] if answer.excluded else None,
        "limits": [
            {"name": limit.name, "low_k": limit.low_k, "high_k": limit.high_k, "is": limit.state}
            for limit in (answer.excluded.limits if answer.excluded else ())
        ],
        "next_readings": [
            {
                "placement": way.placement,
                "meter": way.meter,
                "thermometer": way.thermometer,
                "minutes": way.minutes,
                "chance": way.chance,
            }
            for way in (answer.settling.ways if answer.settling else ())
        ],
        "explanations": [
            {
                "kind": explained.explanation.kind,
                "text": phrase(explained.statement, voice=voice),
                "t_implied_c": explained.explanation.t_implied_c,
                "error_k": explained.explanation.error_k,
                "causes": [cause.kind for cause in explained.explanation.causes],
                **explained.explanation.figures,
            }
            for explained in answer.explanations
        ],
    }


def loop_as_dict(answer: LoopAnswer) -> dict[str, object]:
    """Return the same shape for a loop, which stands for no temperature."""
    return {
        "verdict": answer.state,
        "ohm_digits": None,
        "t_implied_c": None,
        "error_k": None,
        "limit_k": None,
        "uncertainty_k": None,
        "dominant": answer.verdict.dominant,
        "low_ohm": answer.verdict.low_ohm,
        "high_ohm": answer.verdict.high_ohm,
        "explanations": [],
    }
