"""`ohmfolio which`: a sensor without a mark: which curves do these readings belong to?"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from pathlib import Path

import click

from kb.answers.instruments import Tools
from kb.answers.statement import Statement
from kb.answers.which import RankedCurve, WhichAnswer, WhichQuestion, answer_which
from kb.catalog import Catalog
from kb.model import Curve
from kb.notes.late import open_notes
from kb.numbers.rounding import format_ohm, format_t
from kb.words.phrase import Voice, phrase, sentence

from .instruments_used import instruments_options, tools_named, tools_words
from .options import NoAnswer, NotUnderstood, json_option, notes_option, say_json
from .pairs import ManyPairs, PairText, pair_texts
from .terminal import caution_words, paragraphs, wrapped

SHOWN = 6
"""Curves that do not fit are shown up to here: the nearest misses."""
NOT_READ = ("field.unreadable", "which.over-range")
"""Refusals of what was typed; the others are of instruments."""


@click.command(cls=ManyPairs)
@click.option(
    "--pair",
    metavar="T=R…",
    multiple=True,
    required=True,
    help="A temperature and what it read there, such as 0=32.6k or 77F=10k; more is better.",
)
@instruments_options
@notes_option
@json_option
def which(
    pair: tuple[str, ...],
    meter: str | None,
    thermometer: str | None,
    placement: str,
    notes: Path,
    as_json: bool,
) -> None:
    """Say which of the notes' curves some readings belong to.

    Ice water and a warm hand are good places to measure an unmarked sensor. Curves that cannot be
    told apart are said to be so, with the temperature at which they would part.

    Example: ohmfolio which --pair 0=32.6k 25=10k --placement ice-water
    """
    catalog = Catalog(open_notes(notes))
    pairs = pair_texts(pair, form="25=10k")
    curves = catalog.computing_curves
    if not curves:
        raise NoAnswer("the notes hold no curve that computes; see 'ohmfolio check'")
    tools = tools_named(catalog, meter=meter, thermometer=thermometer, placement=placement)
    answer = answer_which(
        WhichQuestion(
            curves=curves,
            # A terminal calls a curve by what one would type to ask for it.
            names={curve_id: curve_id for curve_id in curves},
            pairs=[(text.name, text.value) for text in pairs],
            tools=tools,
        )
    )
    _refuse(pairs, answer)
    if as_json:
        say_json(which_as_dict(answer))
        return
    names = {curve_id: catalog.get(Curve, curve_id).name for curve_id in curves}
    click.echo(which_words(answer, names=names, tools=tools))


def _refuse(pairs: Sequence[PairText], answer: WhichAnswer) -> None:
    """Raise what is wrong with the pairs, all at once."""
    voice = Voice(unit=answer.unit)
    faults, misread = [], False
    for text, pair in zip(pairs, answer.pairs, strict=True):
        if text.fault:
            faults.append(text.fault)
            misread = True
        elif pair.refusal is not None:
            faults.append(phrase(pair.refusal, voice=voice))
            misread = misread or pair.refusal.id in NOT_READ
    if faults:
        raise (NotUnderstood if misread else NoAnswer)("\n".join(faults))


def which_as_dict(answer: WhichAnswer) -> dict[str, object]:
    """Return what `which --json` promises: only curves that reach every reading are ranked."""
    ranked = [each.candidate for each in (*answer.fitting, *answer.missing)]
    reached = [candidate for candidate in ranked if math.isfinite(candidate.worst_k)]
    return {
        "ranking": [
            {
                "curve": candidate.curve,
                "worst_k": candidate.worst_k,
                "chi2": candidate.chi2 if math.isfinite(candidate.chi2) else None,
            }
            for candidate in reached
        ],
        "readings": [
            {"t_c": pair.t_c, "r_ohm": pair.shown_ohm}
            for pair in answer.pairs
            if pair.refusal is None
        ],
        "ohm_digits": answer.digits,
        "unreached": sorted(
            candidate.curve for candidate in ranked if math.isinf(candidate.worst_k)
        ),
        "separable": len(answer.fitting) == 1,
        "advice": _advice(answer),
    }


def which_words(answer: WhichAnswer, *, names: Mapping[str, str], tools: Tools) -> str:
    """Return the whole answer for a terminal."""
    voice = Voice(unit=answer.unit)
    readings = " and ".join(
        f"{format_ohm(pair.shown_ohm, digits=answer.digits)} at "
        f"{format_t(pair.t_c, unit=answer.unit)}"
        for pair in answer.pairs
        if pair.shown_ohm is not None and pair.t_c is not None
    )
    reached = [each for each in answer.missing if math.isfinite(each.candidate.worst_k)]
    misses = reached[:SHOWN]
    return paragraphs(
        [
            wrapped(_advice(answer)),
            wrapped(f"Read {readings}, with {tools_words(tools)}."),
            _listed("It fits:", answer.fitting, names=names, voice=voice),
            _listed("It does not fit:", misses, names=names, voice=voice),
            _more(len(answer.missing) - len(misses)),
            caution_words(answer.cautions),
        ]
    )


def _advice(answer: WhichAnswer) -> str:
    voice = Voice(unit=answer.unit)
    advice = " ".join(sentence(statement, voice=voice) for statement in answer.advice)
    return f"{advice} See 'ohmfolio fit'." if answer.state == "outside" else advice


def _listed(
    title: str, ranked: Sequence[RankedCurve], *, names: Mapping[str, str], voice: Voice
) -> str:
    if not ranked:
        return ""
    lines = [
        f"  {each.curve}: {phrase(each.statement, voice=voice)} ({names[each.curve]})"
        for each in ranked
    ]
    return "\n".join([title, *lines])


def _more(count: int) -> str:
    if not count:
        return ""
    more = "more-one" if count == 1 else "more-many"
    return sentence(Statement(id=f"which.{more}", figures={"count": count}))
