"""A sensor without a mark: which curves do these readings belong to, and what would tell them?"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from kb.numbers.measured import Measured
from kb.numbers.ohm_digits import ohm_digits
from kb.numbers.which_curve import Candidate, Which, which_curve

from .instruments import Tools
from .sensor_facts import Curve
from .statement import Refusal, Statement
from .typed import typed_reading_ohm, typed_temperature

CAUTIONS = ("sensor-unplugged", "maker-first")
"""What stands under every ranking, by id."""
AWAY_K = 20.0
"""So far from the first a second reading tells most curves apart. Common practice, no source."""

UNKNOWN_DIGITS = 4
"""So many digits of ohms where no curve says what they must tell."""


@dataclass(frozen=True, kw_only=True)
class WhichQuestion:
    """What was typed, with what, and the curves it may belong to.

    Parameters
    ----------
    curves : mapping of curve id to curve
    names : mapping of curve id to name
        What to call each.
    pairs : sequence of (temperature, reading)
        As typed; a pair of which a half is empty counts for nothing.
    unit : str
        What a bare temperature is in: "C" or "F".
    """

    curves: Mapping[str, Curve]
    names: Mapping[str, str]
    pairs: Sequence[tuple[str, str]]
    unit: str = "C"
    tools: Tools


@dataclass(frozen=True, kw_only=True)
class ReadPair:
    """A temperature and a reading, or why they cannot be taken.

    Parameters
    ----------
    t_c, shown_ohm : float or None
        None where a half is empty or refused.
    field : str
        The field to look at again: `at`, `reading` or `thermometer`.
    refusal : Statement or None
    """

    t_c: float | None = None
    shown_ohm: float | None = None
    field: str = ""
    refusal: Statement | None = None


@dataclass(frozen=True, kw_only=True)
class RankedCurve:
    """How one curve stands to the readings, and how to say it."""

    curve: str
    candidate: Candidate
    statement: Statement


@dataclass(frozen=True, kw_only=True)
class WhichAnswer:
    """The curves ranked against the readings.

    Parameters
    ----------
    unit : str
        "C" or "F": that of the first pair.
    digits : int
        So many significant digits of ohms tell what a kelvin needs on every curve that fits; on
        the nearest where none does.
    pairs : tuple of ReadPair
        As asked, in their order.
    state : str
        "within" where one fits, "undecided" where several do, "outside" where none does; "" where
        no pair could be read.
    title : Statement
        What was found, in few words.
    advice : tuple of Statement
        What the ranking means and what to do next.
    fitting, missing : tuple of RankedCurve
        The best first; `missing` holds those that do not fit, unreached ones last.
    """

    unit: str
    digits: int
    pairs: tuple[ReadPair, ...]
    state: str
    title: Statement
    advice: tuple[Statement, ...]
    fitting: tuple[RankedCurve, ...] = ()
    missing: tuple[RankedCurve, ...] = ()
    cautions: tuple[str, ...] = CAUTIONS


def answer_which(question: WhichQuestion) -> WhichAnswer:
    """Return the curves ranked; a pair that cannot be read is refused in its own place."""
    pairs, readings, units = [], [], []
    for at, reading in question.pairs:
        pair, measured, unit = _read_pair(question, at=at, reading=reading)
        pairs.append(pair)
        if measured is not None:
            readings.append(measured)
            units.append(unit)
    if not readings:
        begun = any(at.strip() or reading.strip() for at, reading in question.pairs)
        return WhichAnswer(
            unit=question.unit,
            digits=UNKNOWN_DIGITS,
            pairs=tuple(pairs),
            state="",
            title=Statement(id="which.title-none-read"),
            advice=(Statement(id="which.half-pair" if begun else "which.no-pair"),),
        )
    ranked = which_curve(question.curves, readings=readings)
    fitting = [candidate for candidate in ranked.ranking if candidate.fits]
    missing = [candidate for candidate in ranked.ranking if not candidate.fits]
    return WhichAnswer(
        unit=units[0],
        digits=max(
            (
                ohm_digits(question.curves[candidate.curve])
                for candidate in fitting or ranked.ranking[:1]
            ),
            default=UNKNOWN_DIGITS,
        ),
        pairs=tuple(pairs),
        state={0: "outside", 1: "within"}.get(len(fitting), "undecided"),
        title=_title(fitting, names=question.names),
        advice=tuple(_advice(ranked, fitting, names=question.names, read=len(readings))),
        fitting=tuple(_ranked(candidate) for candidate in fitting),
        missing=tuple(_ranked(candidate) for candidate in missing),
    )


def _read_pair(
    question: WhichQuestion, *, at: str, reading: str
) -> tuple[ReadPair, Measured | None, str]:
    """Return the pair, the reading with its half-widths, and the unit its temperature is in."""
    try:
        temperature = typed_temperature(at, field="at", unit=question.unit)
        shown_ohm = typed_reading_ohm(reading, field="reading")
        measured = question.tools.take(shown_ohm, t_c=temperature.t_c)
        if math.isinf(measured.r_ohm):
            raise Refusal(Statement(id="which.over-range"), field="reading")
    except Refusal as refusal:
        # A pair that is not typed yet is no fault; one that is, with no word on how, is asked.
        if refusal.missing and refusal.field != "how":
            return ReadPair(), None, ""
        return ReadPair(field=refusal.field, refusal=refusal.statement), None, ""
    return ReadPair(t_c=temperature.t_c, shown_ohm=shown_ohm), measured, temperature.unit


def _title(fitting: Sequence[Candidate], *, names: Mapping[str, str]) -> Statement:
    if not fitting:
        return Statement(id="which.title-none")
    if len(fitting) == 1:
        return Statement(id="which.title-only", figures={"curve": names[fitting[0].curve]})
    return Statement(id="which.title-many", figures={"count": len(fitting)})


def _advice(
    ranked: Which, fitting: Sequence[Candidate], *, names: Mapping[str, str], read: int
) -> list[Statement]:
    if not fitting:
        return [Statement(id="which.none")]
    if len(fitting) == 1:
        only = Statement(id="which.only", figures={"curve": names[fitting[0].curve]})
        more = Statement(id="which.one-more", figures={"away_k": AWAY_K})
        return [only, more] if read == 1 else [only]
    curves = [names[candidate.curve] for candidate in fitting]
    lead = Statement(id="which.not-told-apart", figures={"curves": curves})
    first, second = curves[:2]
    figures: dict[str, object] = {"first": first, "second": second}
    parting = ranked.parting
    if parting is None:
        return [lead, Statement(id="which.no-shared", figures=figures)]
    figures |= {"at_c": parting.at_c, "by_k": parting.by_k, "needed_k": parting.needed_k}
    part = "part" if parting.certain else "never-part"
    return [lead, Statement(id=f"which.{part}", figures=figures)]


def _ranked(candidate: Candidate) -> RankedCurve:
    if math.isinf(candidate.worst_k):
        statement = Statement(id="which.unreached")
    else:
        statement = Statement(id="which.off", figures={"worst_k": candidate.worst_k})
    return RankedCurve(curve=candidate.curve, candidate=candidate, statement=statement)
