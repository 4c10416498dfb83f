"""How often seeded faults are named: recall and precision by fault."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from kb.answers.reading import ReadingAnswer
from kb.answers.reading_explained import EXPLAINED
from kb.numbers.explanations import Explanation
from tests.bench.seeded_faults import Case, case

MOST_TRIES = 60
ALIKE_K = 1.0
"""Two curves nearer than this at a reading are one for whoever takes it."""
NAMES = {"plugged-unknown": "leak"}
"""A pull-up that nobody knows is said in one line with a leak: they are one circuit."""


def cases(
    faults: Sequence[str], *, each: int, second: bool, seed: int
) -> Iterator[tuple[Case, ReadingAnswer]]:
    """Yield so many of each fault that are found outside, off the curve, open or short."""
    for number, fault in enumerate(faults):
        rng = np.random.default_rng([seed, number])
        found = 0
        for _ in range(MOST_TRIES * each):
            seeded = case(rng, fault=fault, second=second)
            answer = seeded and seeded.answer
            if seeded is None or answer is None or answer.state not in EXPLAINED:
                continue
            yield seeded, answer
            found += 1
            if found == each:
                break
        else:
            raise AssertionError(f"{fault}: only {found} of {each}")


def lines_of(answer: ReadingAnswer) -> list[list[tuple[str, tuple[str, ...]]]]:
    """Return each line as what it names: kind and curves."""
    return [
        [
            (cause.kind, _curves(cause))
            for cause in (explained.explanation.causes or (explained.explanation,))
        ]
        for explained in answer.explanations
    ]


def _curves(explanation: Explanation) -> tuple[str, ...]:
    own = explanation.figures
    return tuple(own.get("curves") or ((own["curve"],) if "curve" in own else ()))


def names(case: Case, *, named: tuple[str, tuple[str, ...]]) -> bool:
    """Whether a line's kind and curves are what was wrong."""
    kind, curves = named
    if case.curve_id:
        return kind == "other-curve" and any(_alike(case, named=curve) for curve in curves)
    return kind == NAMES.get(case.fault, case.fault)


def _alike(case: Case, *, named: str) -> bool:
    """Whether a curve is the true one for all that these readings tell: within ALIKE_K."""
    sensor = case.question.sensor
    at_c = [float(case.question.at), *(float(other.at) for other in case.question.earlier)]
    curves = {**sensor.family_curves, **sensor.other_curves}
    return all(
        abs(float(curves[named].beyond_c(curves[case.curve_id].beyond_ohm(t_c))) - t_c) <= ALIKE_K
        for t_c in at_c
    )


@dataclass(kw_only=True)
class Count:
    """How often a fault was named, by lines and by all that they name."""

    cases: int = 0
    named: int = 0
    lines: int = 0
    right: int = 0
    causes: int = 0

    def add(self, case: Case, answer: ReadingAnswer) -> None:
        """Take in one answer; open and short are what the verdict itself says."""
        lines = lines_of(answer)
        right = [any(names(case, named=named) for named in line) for line in lines]
        self.cases += 1
        self.named += any(right) or case.fault == answer.state
        self.lines += len(lines)
        self.right += sum(right)
        self.causes += sum(map(len, lines))


def counted(faults: Sequence[str], *, each: int, second: bool, seed: int) -> dict[str, Count]:
    """Return the count of each fault."""
    counts = {fault: Count() for fault in faults}
    for seeded, answer in cases(faults, each=each, second=second, seed=seed):
        counts[seeded.fault].add(seeded, answer)
    return counts
