"""Which sentences an insulation reading asks for: the verdict, each limit, what to mind."""

from __future__ import annotations

import math
from dataclasses import dataclass

from kb.numbers.insulation import HIGH_C, LOW_C, InsulationVerdict, LimitCheck
from kb.numbers.winding_value import TEMPERATURE_HALF_K

from .insulation_damp import Damp, damp_headline, damp_notes
from .insulation_tested import InsulationFacts, Tested
from .insulation_watched import Watched, ratio_note, trend_note
from .statement import Statement

BROUGHT_TO_C = 40.0
"""The temperature that windings are compared at."""


@dataclass(frozen=True, kw_only=True)
class Shown:
    """A test, and the verdict on it."""

    part: InsulationFacts
    test: Tested
    t_c: float | None
    verdict: InsulationVerdict
    damp: Damp
    seen: Watched

    @property
    def spoilt(self) -> bool:
        """Whether it is too little, and water or dirt on the surface may be why.

        Nothing at all is no damp.
        """
        return self.verdict.state == "outside" and self.test.r_ohm > 0 and self.damp.doubtful

    @property
    def state(self) -> str:
        """The verdict; too little on a wet surface says nothing of the winding."""
        return "undecided" if self.spoilt else self.verdict.state

    @property
    def waits(self) -> bool:
        """Whether it is a winding whose temperature nobody took."""
        return self.part.wound and self.t_c is None

    def amount(self, r_ohm: float) -> Statement:
        """Return how to say ohms: as they are, as more than that, or as over range."""
        if math.isinf(r_ohm):
            return Statement(id="insulation.amount-over-range")
        name = "amount-more" if self.test.over_range else "amount"
        return Statement(id=f"insulation.{name}", figures={"r_ohm": r_ohm})


def insulation_headline(shown: Shown) -> Statement:
    """Return the one sentence: by the part's own limit, brought to 40 °C or as read."""
    if shown.waits:
        return _at_any_warmth(shown)
    own, test = shown.verdict.checks[0], shown.test
    figures: dict[str, object] = {"reading": shown.amount(own.reading_ohm), "t_c": shown.t_c}
    if shown.spoilt:
        return damp_headline(shown.damp, figures=figures)
    if shown.verdict.beyond:
        return _beyond(shown, own=own, figures=figures)
    if shown.verdict.at_40_ohm is None:
        place = "as-read"
    else:
        place = "brought"
        figures = {"reading": shown.amount(shown.verdict.at_40_ohm), "at_c": BROUGHT_TO_C}
    if test.over_range and own.state == "undecided":
        return _too_little(shown, place=place, figures=figures)
    return Statement(id=f"insulation.{own.state}-{place}", figures=figures)


def _at_any_warmth(shown: Shown) -> Statement:
    """Say what holds from 10 °C up or up to 85 °C, where the temperature is not known."""
    test = shown.test
    figures: dict[str, object] = {
        "reading": shown.amount(test.most_ohm if test.over_range else test.r_ohm)
    }
    if shown.verdict.state == "outside":
        return Statement(id="insulation.outside-nothing", figures=figures)
    if shown.verdict.state == "undecided":
        return Statement(id="insulation.over-range-unknown")
    if shown.verdict.beyond == "cold":
        return Statement(id="insulation.enough-from", figures={**figures, "low_c": LOW_C})
    return Statement(id="insulation.too-little-to", figures={**figures, "high_c": HIGH_C})


def _beyond(shown: Shown, *, own: LimitCheck, figures: dict[str, object]) -> Statement:
    """Say what a reading tells where no correction holds, and what to do."""
    if own.state == "outside" and own.reading_ohm == 0:
        return Statement(id="insulation.outside-nothing", figures={"reading": figures["reading"]})
    if own.state == "outside":
        return Statement(id="insulation.outside-cold", figures={**figures, "limit_c": own.limit_c})
    if own.state == "within":
        return Statement(id="insulation.within-hot", figures=figures)
    if shown.verdict.beyond == "hot":
        return Statement(id="insulation.undecided-hot", figures={**figures, "high_c": HIGH_C})
    over = "-over" if shown.test.over_range else ""
    hermetic = "-hermetic" if shown.part.hermetic else ""
    name = f"undecided-cold{over}{hermetic}"
    return Statement(id=f"insulation.{name}", figures={**figures, "low_c": LOW_C})


def _too_little(shown: Shown, *, place: str, figures: dict[str, object]) -> Statement:
    tester = shown.test.tester
    if tester is None:
        return Statement(id="insulation.over-range-unknown")
    return Statement(
        id=f"insulation.over-range-{place}", figures={**figures, "instrument": tester.name}
    )


def insulation_beside(shown: Shown) -> tuple[Statement, ...]:
    """Return that it fell, and what the standard would say where its own limit differs."""
    found = [Statement(id="insulation.falling")] if shown.seen.trend == "falling" else []
    if shown.verdict.beyond or shown.waits or shown.spoilt:
        return tuple(found)
    own, *standard = shown.verdict.checks
    for check in standard:
        figures = {"limit_ohm": check.limit_ohm}
        if own.state == "within" and check.state == "outside":
            found.append(Statement(id="insulation.standard-less", figures=figures))
        elif own.state == "within" and check.state == "undecided":
            name = "standard-beyond" if shown.test.over_range else "standard-close"
            found.append(Statement(id=f"insulation.{name}", figures=figures))
        elif own.state == "outside" and check.state == "within":
            found.append(Statement(id="insulation.standard-passes"))
    return tuple(found)


def check_line(shown: Shown, *, check: LimitCheck) -> Statement:
    """Return one limit beside what was read, with its verdict."""
    whose = "part" if check.whose == "part" else "standard"
    if whose == "standard" and shown.part.hermetic:
        whose = "hermetic"
    figures = {
        "limit_ohm": check.limit_ohm,
        "limit_c": check.limit_c,
        "reading": shown.amount(check.reading_ohm),
    }
    return Statement(id=f"insulation.{whose}-{check.state}", figures=figures)


def read_line(shown: Shown) -> Statement:
    """Return what was read, where and with what."""
    test = shown.test
    figures: dict[str, object] = {
        "r_ohm": math.inf if test.over_range else test.r_ohm,
        "test_volts": test.volts,
    }
    at = "" if shown.t_c is None else "-at"
    if shown.t_c is not None:
        figures["t_c"] = shown.t_c
    if test.tester is None or test.used is None:
        return Statement(id=f"insulation.read-unknown{at}", figures=figures)
    figures |= {"instrument": test.tester.name, "error_share": test.used.percent / 100}
    return Statement(id=f"insulation.read{at}", figures=figures)


def insulation_notes(shown: Shown) -> tuple[Statement, ...]:
    """Return how it was brought there, and what to mind before it is believed."""
    part, verdict = shown.part, shown.verdict
    notes = _brought(shown)
    if shown.test.volts < part.test_volts:
        most = {"most_volts": part.test_volts}
        notes.append(Statement(id="insulation.below-voltage", figures=most))
    close = verdict.state == "undecided" and not verdict.beyond and not shown.test.over_range
    if (verdict.state == "outside" and not shown.spoilt) or close:
        notes.append(Statement(id=f"insulation.damp{'-hermetic' if part.hermetic else ''}"))
    notes += trend_note(shown.seen, state=shown.state)
    notes += ratio_note(shown.seen)
    notes += damp_notes(shown.damp, wound=part.wound, winding_c=shown.t_c)
    return tuple(notes)


def _brought(shown: Shown) -> list[Statement]:
    """Return how it was brought to another temperature; what a winding without one needs."""
    if shown.waits:
        waiting = shown.verdict.state == ""
        words = Statement(id="insulation.without-temperature", figures={"at_c": BROUGHT_TO_C})
        return [words] if waiting else []
    figures: dict[str, object] = {
        "material": Statement(id=f"insulation.material-{shown.part.material}"),
        "at_c": BROUGHT_TO_C,
        "half_k": TEMPERATURE_HALF_K,
    }
    corrected = "uncorrected" if shown.verdict.beyond else "corrected"
    return [
        Statement(id=f"insulation.{corrected if shown.part.wound else 'as-read'}", figures=figures)
    ]
