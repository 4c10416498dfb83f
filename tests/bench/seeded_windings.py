"""Windings with a known fault, read by a meter through a contact that is never the same twice."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from kb.answers.instruments import NamedMeter
from kb.answers.winding import WindingAnswer, WindingQuestion, answer_windings
from kb.answers.winding_reading import WindingFacts
from kb.numbers.meter import Meter, OhmRange
from kb.numbers.repeated import contact_u_ohm
from kb.numbers.verdict import full_half
from kb.numbers.winding_balance import winding_balance
from kb.words.catalogue import template

PHASE_OHM = 1.2
RUN_OHM, START_OHM = 2.1, 5.2
SCATTER_SHARE = 0.005
"""Sound windings of one motor differ by so much at most, each value as likely as the next."""
ALLOWED_SHARE, TOLERANCE_SHARE = 0.03, 0.08
REPEATS = 3
BENCH = NamedMeter(
    id="bench",
    name="Bench",
    meter=Meter(ranges=(OhmRange(span_ohm=200.0, resolution_ohm=0.01, percent=0.2, digits=10),)),
)
MILLIOHM = NamedMeter(
    id="milliohm",
    name="Milliohm",
    meter=Meter(ranges=(OhmRange(span_ohm=20.0, resolution_ohm=0.001, percent=0.3, digits=3),)),
)


@dataclass(frozen=True, kw_only=True)
class Fault:
    """What is put in, and what naming it is.

    Parameters
    ----------
    joined : str
        "star", "delta" or "single-phase".
    what : str
        A winding (`U` of a star, `U-V` of a delta, `C-R`), or `lead U` or `across R-S`.
    times : float
        Its ohms become so many times what they were; infinity breaks it. Of a lead: so many times
        a winding's ohms more; of a path across: so many times beside it.
    """

    joined: str
    what: str
    times: float

    @property
    def names(self) -> set[str]:
        """Return what is to be named: a winding, a lead, or that three readings do not add up."""
        how, _, what = self.what.rpartition(" ")
        if how == "across":
            return {SUM, what}
        if self.joined == "single-phase" and math.isinf(self.times):
            # Of two pairs over range nobody can tell the winding from its lead.
            return {what[-1]}
        return {what} if what else set()


FAULTS = {
    "star, sound": Fault(joined="star", what="", times=1),
    "star, turns of one shorted": Fault(joined="star", what="U", times=0.8),
    "star, joint of one bad": Fault(joined="star", what="U", times=1.25),
    "star, one broken": Fault(joined="star", what="U", times=math.inf),
    "delta, sound": Fault(joined="delta", what="", times=1),
    "delta, turns of one shorted": Fault(joined="delta", what="U-V", times=0.75),
    "delta, joint inside one bad": Fault(joined="delta", what="U-V", times=1.3),
    "delta, one broken": Fault(joined="delta", what="U-V", times=math.inf),
    "delta, joint of a lead bad": Fault(joined="delta", what="lead W", times=0.1),
    "delta, a lead broken": Fault(joined="delta", what="lead W", times=math.inf),
    "C-R-S, sound": Fault(joined="single-phase", what="", times=1),
    "C-R-S, turns of run shorted": Fault(joined="single-phase", what="C-R", times=0.8),
    "C-R-S, joint of start bad": Fault(joined="single-phase", what="C-S", times=1.25),
    "C-R-S, start broken": Fault(joined="single-phase", what="C-S", times=math.inf),
    "C-R-S, relay still across": Fault(joined="single-phase", what="across R-S", times=3),
}
PAIRS = {
    "star": ("U-V", "V-W", "W-U"),
    "delta": ("U-V", "V-W", "W-U"),
    "single-phase": ("C-R", "C-S", "R-S"),
}
SUM = "the sum"
"""Named where three readings do not add up."""
OUTCOMES = ("within", "undecided", "right", "right and more", "another", "none named")
"""What was said: nothing wrong, not decided; wrong and the right one named, alone or with others,
only others, or none."""


def facts_of(joined: str) -> WindingFacts:
    """Return what the entry says: balance between three alike, a value for each of two unlike."""
    if joined == "single-phase":
        values = dict(zip(PAIRS[joined], (RUN_OHM, START_OHM, RUN_OHM + START_OHM), strict=True))
        return WindingFacts(
            pairs=values, tolerance_share=TOLERANCE_SHARE, connection=joined, wound=True
        )
    value = 2 * PHASE_OHM if joined == "star" else PHASE_OHM * 2 / 3
    return WindingFacts(
        pairs=dict.fromkeys(PAIRS[joined], value),
        balance_share=ALLOWED_SHARE,
        connection=joined,
        wound=True,
    )


def true_ohms(rng: np.random.Generator, fault: Fault) -> dict[str, float]:
    """Return what each pair of leads has, in Ω."""
    scatter = 1 + SCATTER_SHARE * rng.uniform(-1, 1, 3)
    if fault.joined == "single-phase":
        return _two_windings(scatter, fault=fault)
    own = dict(zip("UVW" if fault.joined == "star" else PAIRS["delta"], scatter, strict=True))
    own = {name: PHASE_OHM * share for name, share in own.items()}
    if fault.what in own:
        own[fault.what] *= fault.times
    if fault.joined == "star":
        return {pair: own[pair[0]] + own[pair[2]] for pair in PAIRS["star"]}
    found = {pair: _across(own, pair=pair) for pair in PAIRS["delta"]}
    if fault.what.startswith("lead"):
        lead, more_ohm = fault.what[-1], PHASE_OHM * fault.times
        found = {pair: r + (more_ohm if lead in pair else 0.0) for pair, r in found.items()}
    return found


def _across(own: dict[str, float], *, pair: str) -> float:
    """Return a delta's winding beside the two others in a row."""
    around_ohm = sum(r_ohm for name, r_ohm in own.items() if name != pair)
    return 1 / (1 / own[pair] + 1 / around_ohm)


def _two_windings(scatter: np.ndarray, *, fault: Fault) -> dict[str, float]:
    own = {"C-R": RUN_OHM * scatter[0], "C-S": START_OHM * scatter[1]}
    if fault.what in own:
        own[fault.what] *= fault.times
    both_ohm = own["C-R"] + own["C-S"]
    if fault.what.startswith("across"):
        both_ohm = 1 / (1 / both_ohm + 1 / (fault.times * both_ohm))
    return {**own, "R-S": float(both_ohm)}


def shown(
    rng: np.random.Generator, r_ohm: float, *, gain: float, meter: Meter, contact_ohm: float
) -> str:
    """Return what somebody writes down for a pair, read REPEATS times with the leads zeroed."""
    if math.isinf(r_ohm):
        return "OL"
    digit_ohm = meter.ranges[0].resolution_ohm
    contact = rng.normal(0.0, contact_ohm, REPEATS)
    counts = np.round((r_ohm * (1 + gain) + contact) / digit_ohm + rng.uniform(-0.5, 0.5, REPEATS))
    return " ".join(f"{count * digit_ohm:.3f}" for count in counts)


def answers(
    fault: Fault, *, count: int, meter: NamedMeter, contact_ohm: float, seed: int
) -> Iterator[WindingAnswer]:
    """Yield what is said of so many motors with this fault."""
    rng = np.random.default_rng(seed)
    percent = meter.meter.ranges[0].percent
    for _ in range(count):
        gain = rng.uniform(-1, 1) * percent / 100
        readings = tuple(
            (pair, shown(rng, r_ohm, gain=gain, meter=meter.meter, contact_ohm=contact_ohm))
            for pair, r_ohm in true_ohms(rng, fault).items()
        )
        yield answer_windings(
            WindingQuestion(part=facts_of(fault.joined), readings=readings, at="20", meter=meter)
        )


def outcome(answer: WindingAnswer, *, fault: Fault) -> str:
    """Return which of OUTCOMES an answer is."""
    named = named_by(answer)
    if fault.names & named:
        return "right" if named <= fault.names else "right and more"
    if answer.state in ("within", "undecided", ""):
        return answer.state or "undecided"
    return "another" if named else "none named"


def named_by(answer: WindingAnswer) -> set[str]:
    """Return the windings and leads that an answer's words accuse, and SUM.

    Where a winding or a lead is named, the pairs beside it are its readings and no more.
    """
    figures = answer.headline.figures
    faults = figures.get("faults", (answer.headline,) if answer.state == "open" else ())
    named = {SUM for note in answer.advice if note.id.startswith("winding.sum-")}
    for statement in faults:
        words = template(statement.id)
        keys = [key for key in ("winding", "lead") if f"{{{key}}}" in words]
        named |= {str(statement.figures[key]) for key in keys}
        if not keys:
            pairs = statement.figures.get("pairs", ())
            named |= {str(statement.figures["pair"])} if "pair" in statement.figures else {*pairs}
    return named


def at_the_limit(
    off_share: float,
    *,
    count: int,
    meter: NamedMeter,
    contact_ohm: float,
    repeats: int = REPEATS,
    seed: int = 1,
) -> dict[str, float]:
    """Return the share of each state where one pair of three is off their mean by so much.

    Parameters
    ----------
    off_share : float
        Of the mean; below zero for less. The two other pairs are alike.
    contact_ohm : float
        What the contact does from one reading to the next, as a standard deviation in Ω.
    """
    rng = np.random.default_rng(seed)
    used, mean_ohm = meter.meter.ranges[0], 2 * PHASE_OHM
    true_ohm = mean_ohm * np.array([1 + off_share, 1 - off_share / 2, 1 - off_share / 2])
    gains = 1 + rng.uniform(-1, 1, (count, 1, 1)) * used.percent / 100
    contact = rng.normal(0.0, contact_ohm, (count, 3, repeats))
    digits = rng.uniform(-1, 1, (count, 3, 1)) * used.resolution_ohm
    read_ohm = true_ohm[:, None] * gains + contact + digits
    beside_ohm = used.resolution_ohm
    states: Counter[str] = Counter()
    for each in read_ohm.tolist():
        typed = dict(zip(PAIRS["star"], each, strict=True))
        u_ohm = contact_u_ohm(typed)
        states[
            winding_balance(
                {pair: sum(values) / repeats for pair, values in typed.items()},
                half_widths_ohm={
                    pair: math.hypot(beside_ohm, full_half(u)) for pair, u in u_ohm.items()
                },
                t_c=20.0,
                allowed_share=ALLOWED_SHARE,
            ).state
        ] += 1
    return {state: states[state] / count for state in ("within", "undecided", "outside")}
