"""A part's windings as read: equal to each other, and what its entry gives?"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from kb.numbers.meter import Meter
from kb.numbers.winding_balance import Balance, winding_balance

from .instruments import Kit, NamedMeter, Way
from .statement import Refusal, Statement
from .typed import TypedTemperature, typed_temperature
from .winding_faults import windings_solved, windings_uncertain
from .winding_headline import contact_leads, winding_headline
from .winding_notes import contact_first, winding_advice, winding_notes
from .winding_reading import (
    COLDEST_C,
    HOTTEST_C,
    Repeated,
    WindingFacts,
    WindingReading,
    most_ohm,
    read_winding,
)
from .winding_typed import is_unnamed, typed_windings
from .winding_unnamed import facts_by_number, lead_names, leads_found, names_notes

WORST_FIRST = ("open", "short", "outside", "undecided", "within")


@dataclass(frozen=True, kw_only=True)
class WindingQuestion:
    """What was typed for a part's windings.

    Parameters
    ----------
    readings : sequence of (lead pair, text)
        As typed; a pair with nothing typed is not read, and one that was read more than once has
        its repeats in one text or stands here again. `1-2`, `2-3`, `1-3` where nobody knows the
        names of three leads. Leads zeroed, or their reading taken off: nothing is taken off here,
        or it would come off twice.
    at : str
        The winding's temperature as typed; empty for none, then balance is judged, and of each
        winding what holds at every temperature.
    unit : str
        What a bare temperature is in: "C" or "F".
    """

    part: WindingFacts
    readings: Sequence[tuple[str, str]]
    at: str = ""
    unit: str = "C"
    meter: NamedMeter
    kit: Kit = field(default_factory=Kit)


@dataclass(frozen=True, kw_only=True)
class WindingAnswer:
    """A part's windings as read.

    Parameters
    ----------
    state : str
        The worst of all: "open", "short", "outside", "undecided", "within"; "" where the entry
        gives no limit.
    t_c : float or None
    pairs : mapping of lead pair to WindingReading
    balances : tuple of Balance
        One for each set of windings that should be equal and of which two or more read a figure.
    solved_ohm : mapping of winding to Ω
        Each by itself, where the entry says how they are joined: by lead in a star, by pair of
        leads in a delta.
    solved_u_ohm : mapping of winding to Ω
        U of each of those against the others; empty where one is broken or none was solved.
    unread : tuple of str
    names : Statement or None
        Which of leads 1, 2 and 3 is which.
    notes, advice : tuple of Statement
        What it was held against and how; what follows.
    read : Statement
        What it was read with.
    better : tuple of Way
        Meters of the team's that read these leads closer, best first, where this one cannot tell.
    """

    state: str
    unit: str
    t_c: float | None
    pairs: Mapping[str, WindingReading]
    balances: tuple[Balance, ...]
    solved_ohm: Mapping[str, float]
    solved_u_ohm: Mapping[str, float]
    unread: tuple[str, ...]
    names: Statement | None
    headline: Statement
    read: Statement
    notes: tuple[Statement, ...]
    better: tuple[Way, ...]
    advice: tuple[Statement, ...]


def answer_windings(question: WindingQuestion) -> WindingAnswer:
    """Return how a part's windings stand to each other and to its entry.

    Raises
    ------
    Refusal
        If nothing was typed, a field is unreadable, or no winding is judged so cold or so hot.
    """
    read = _read(question)
    at = _temperature(question)
    t_c = None if at is None else at.t_c
    meter, name = question.meter.meter, question.meter.name
    unnamed = is_unnamed(question.part, readings=question.readings)
    part = facts_by_number(question.part, read=read) if unnamed else question.part
    found = leads_found(read, meter=meter)
    pairs = {
        pair: read_winding(part, pair=pair, repeated=repeated, meter=meter, t_c=t_c)
        for pair, repeated in read.items()
    }
    balances = _balances(part, pairs=pairs, meter=meter, t_c=t_c)
    state = _worst(pairs, balances=balances)
    loose = contact_leads(pairs, balances=balances)
    asks = state == "undecided" and not loose
    better = _better(question, pairs=pairs, part=part, t_c=t_c) if asks else ()
    unread = tuple(pair for pair in part.pairs if pair not in read)
    solved_ohm, u_ohm = _solved(part, pairs=pairs, meter=meter)
    notes = winding_notes(
        part, pairs=pairs, solved_ohm=solved_ohm, solved_u_ohm=u_ohm, balances=balances, t_c=t_c
    )
    advice = winding_advice(part, state=state, better=bool(better) or loose, unread=unread)
    return WindingAnswer(
        state=state,
        unit=question.unit if at is None else at.unit,
        t_c=t_c,
        pairs=pairs,
        balances=balances,
        solved_ohm=solved_ohm,
        solved_u_ohm=u_ohm,
        unread=unread,
        names=lead_names(question.part, found=found) if unnamed else None,
        headline=winding_headline(
            part, state=state, pairs=pairs, balances=balances, t_c=t_c, meter=name
        ),
        read=Statement(id="winding.read", figures={"instrument": name}),
        notes=(*names_notes(found if unnamed else None), *notes),
        better=better,
        advice=(*contact_first(part, pairs=pairs, found=found), *advice),
    )


def _read(question: WindingQuestion) -> dict[str, Repeated]:
    read, refusals = typed_windings(question.part, readings=question.readings)
    if refusals:
        raise refusals[0]
    if not read:
        raise Refusal(Statement(id="winding.nothing-read"), missing=True)
    return read


def _worst(pairs: Mapping[str, WindingReading], *, balances: Sequence[Balance]) -> str:
    states = {reading.state for reading in pairs.values()}
    if "" in states:
        # One that was held against nothing: that another is right is no answer on all of them.
        states.discard("within")
    states |= {balance.state for balance in balances}
    return next((worse for worse in WORST_FIRST if worse in states), "")


def winding_refusals(question: WindingQuestion) -> tuple[Refusal, ...]:
    """Return every reading that is refused, each with its pair of leads as the field."""
    return typed_windings(question.part, readings=question.readings)[1]


def _temperature(question: WindingQuestion) -> TypedTemperature | None:
    if not question.at.strip():
        return None
    at = typed_temperature(question.at, field="at", unit=question.unit)
    if not COLDEST_C <= at.t_c <= HOTTEST_C:
        figures = {"t_c": at.t_c, "low_c": COLDEST_C, "high_c": HOTTEST_C}
        way = "hot" if at.t_c > HOTTEST_C else "cold"
        raise Refusal(Statement(id=f"winding.too-{way}", figures=figures), field="at")
    return at


def _balances(
    part: WindingFacts, *, pairs: Mapping[str, WindingReading], meter: Meter, t_c: float | None
) -> tuple[Balance, ...]:
    """Hold windings of the same value against each other, where two or more read a figure.

    One digit of the meter counts there; the entry's value needs its whole accuracy.
    """
    balances = []
    for value_ohm in dict.fromkeys(part.pairs.values()):
        equal = {
            pair: reading
            for pair, reading in pairs.items()
            if part.pairs[pair] == value_ohm and 0 < reading.r_ohm < math.inf
        }
        if len(equal) < 2:
            continue
        balances.append(
            winding_balance(
                {pair: reading.r_ohm for pair, reading in equal.items()},
                half_widths_ohm=_beside_halves_ohm(equal, meter=meter),
                t_c=20.0 if t_c is None else t_c,
                allowed_share=part.balance_share,
                constant=part.constant,
            )
        )
    return tuple(balances)


def _solved(
    part: WindingFacts, *, pairs: Mapping[str, WindingReading], meter: Meter
) -> tuple[dict[str, float], dict[str, float]]:
    """Return Ω of each winding by itself, and U of each: nothing where a reading is over range."""
    ohms = {pair: reading.r_ohm for pair, reading in pairs.items()}
    solved_ohm = windings_solved(part, ohms=ohms)
    if not solved_ohm:
        return {}, {}
    halves_ohm = _beside_halves_ohm(pairs, meter=meter)
    return solved_ohm, windings_uncertain(part, ohms=ohms, half_widths_ohm=halves_ohm)


def _beside_halves_ohm(pairs: Mapping[str, WindingReading], *, meter: Meter) -> dict[str, float]:
    """Return how far each may be off the others, by the meter's digits and the contact."""
    halves_ohm = meter.beside_half_ohm([reading.r_ohm for reading in pairs.values()])
    return {
        pair: math.hypot(half_ohm, reading.contact_half_ohm)
        for (pair, reading), half_ohm in zip(pairs.items(), halves_ohm, strict=True)
    }


def _better(
    question: WindingQuestion,
    *,
    part: WindingFacts,
    pairs: Mapping[str, WindingReading],
    t_c: float | None,
) -> tuple[Way, ...]:
    """Return the meters that would read these leads closer, the closest first."""
    to_value = any(reading.state == "undecided" for reading in pairs.values())
    readings_ohm = [
        most_ohm(part, pair=pair, t_c=t_c) if math.isinf(reading.r_ohm) else reading.r_ohm
        for pair, reading in pairs.items()
    ]

    def widest_ohm(meter: Meter) -> float:
        half = meter.half_width_ohm if to_value else meter.digit_ohm
        return max(float(half(r_ohm)) for r_ohm in readings_ohm)

    used_ohm = widest_ohm(question.meter.meter)
    closer = sorted(
        ((widest_ohm(tool.meter), tool) for tool in question.kit.meters), key=lambda each: each[0]
    )
    return tuple(
        Way(term="meter", id=tool.id, name=tool.name)
        for half_ohm, tool in closer
        if half_ohm < used_ohm
    )
