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
from .winding_headline import winding_headline
from .winding_notes import winding_advice, winding_notes
from .winding_reading import (
    COLDEST_C,
    HOTTEST_C,
    WindingFacts,
    WindingReading,
    most_ohm,
    read_winding,
    typed_windings,
)

WORST_FIRST = ("open", "short", "outside", "undecided", "within")


@dataclass(frozen=True, kw_only=True)
class WindingQuestion:
    """What was typed for a part's windings.

    Parameters
    ----------
    readings : sequence of (lead pair, text)
        As typed; a pair with nothing typed is not read. Leads zeroed, or their reading taken off:
        nothing is taken off here, or it would come off twice.
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
    unread : tuple of str
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
    unread: tuple[str, ...]
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

    Notes
    -----
    Balance holds windings against each other, so one digit of the meter counts there; the entry's
    value needs its whole accuracy.
    """
    part, meter = question.part, question.meter.meter
    read, refusals = typed_windings(part, readings=question.readings)
    if refusals:
        raise refusals[0]
    if not read:
        raise Refusal(Statement(id="winding.nothing-read"), missing=True)
    at = _temperature(question)
    t_c = None if at is None else at.t_c
    shown = {pair: math.inf if r_ohm > meter.span_ohm else r_ohm for pair, r_ohm in read.items()}
    pairs = {
        pair: read_winding(part, pair=pair, r_ohm=r_ohm, meter=meter, t_c=t_c)
        for pair, r_ohm in shown.items()
    }
    balances = _balances(part, shown=shown, meter=meter, t_c=t_c)
    state = _worst(pairs, balances=balances)
    unread = tuple(pair for pair in part.pairs if pair not in read)
    better = _better(question, pairs=pairs, t_c=t_c) if state == "undecided" else ()
    name = question.meter.name
    return WindingAnswer(
        state=state,
        unit=question.unit if at is None else at.unit,
        t_c=t_c,
        pairs=pairs,
        balances=balances,
        unread=unread,
        headline=winding_headline(
            part, state=state, pairs=pairs, balances=balances, t_c=t_c, meter=name
        ),
        read=Statement(id="winding.read", figures={"instrument": name}),
        notes=winding_notes(part, balanced=bool(balances), t_c=t_c, waits=_waits(pairs)),
        better=better,
        advice=winding_advice(part, state=state, better=bool(better), unread=unread),
    )


def _worst(pairs: Mapping[str, WindingReading], *, balances: Sequence[Balance]) -> str:
    states = {reading.state for reading in pairs.values()}
    if "" in states:
        # One that was held against nothing: that another is right is no answer on all of them.
        states.discard("within")
    states |= {balance.state for balance in balances}
    return next((worse for worse in WORST_FIRST if worse in states), "")


def _waits(pairs: Mapping[str, WindingReading]) -> bool:
    """Return whether one of them was held against nothing yet."""
    return any(reading.state == "" for reading in pairs.values())


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
    part: WindingFacts, *, shown: Mapping[str, float], meter: Meter, t_c: float | None
) -> tuple[Balance, ...]:
    """Hold windings of the same value against each other, where two or more read a figure."""
    balances = []
    for value_ohm in dict.fromkeys(part.pairs.values()):
        equal = {
            pair: r_ohm
            for pair, r_ohm in shown.items()
            if part.pairs[pair] == value_ohm and 0 < r_ohm < math.inf
        }
        if len(equal) < 2:
            continue
        halves_ohm = meter.beside_half_ohm(list(equal.values()))
        balances.append(
            winding_balance(
                equal,
                half_widths_ohm=dict(zip(equal, halves_ohm, strict=True)),
                t_c=20.0 if t_c is None else t_c,
                allowed_share=part.balance_share,
                constant=part.constant,
            )
        )
    return tuple(balances)


def _better(
    question: WindingQuestion, *, pairs: Mapping[str, WindingReading], t_c: float | None
) -> tuple[Way, ...]:
    """Return the meters that would read these leads closer, the closest first."""
    to_value = any(reading.state == "undecided" for reading in pairs.values())
    readings_ohm = [
        most_ohm(question.part, pair=pair, t_c=t_c) if math.isinf(reading.r_ohm) else reading.r_ohm
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
