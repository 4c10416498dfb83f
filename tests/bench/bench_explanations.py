"""How often what explains a reading is named: prints recall and precision by fault, seeded.

Run: python -m tests.bench.bench_explanations [EACH].

"Before" is version 0.3.0, which offered every fault that fitted by itself and took no second reading;
measured with the same seed (`measured_at_0_3_0.py` says how).
"""

from __future__ import annotations

import sys
from collections.abc import Mapping, Sequence

from tests.bench.explanation_counts import Count, counted
from tests.bench.measured_at_0_3_0 import EXPLAINED
from tests.bench.seeded_faults import TELLABLE, WIDER

SEED = 11
EACH = 60


def main(each: int = EACH) -> None:
    """Print both tables: one reading, and a second beside it."""
    beyond = [fault for fault in WIDER if fault not in TELLABLE]
    _print("one reading, what it can tell", counted(TELLABLE, each=each, second=False, seed=SEED))
    _print("one reading, what it cannot", counted(beyond, each=each, second=False, seed=SEED))
    _print("with a second reading", counted(WIDER, each=each, second=True, seed=SEED), before=False)


def _print(title: str, counts: Mapping[str, Count], *, before: bool = True) -> None:
    heads = f"{'recall':>7} {'precision':>10} {'lines':>6} {'names':>6}"
    print(f"\n{title:30} {heads}" + (f"   before: {heads[:25]}" if before else ""))
    for fault, count in counts.items():
        _row(fault, [count], before=[fault] if before else ())
    _row("all", list(counts.values()), before=list(counts) if before else ())


def _row(name: str, counts: Sequence[Count], *, before: Sequence[str]) -> None:
    cases = sum(count.cases for count in counts)
    causes = sum(count.causes for count in counts)
    now = _shares(
        named=sum(count.named for count in counts),
        cases=cases,
        right=sum(count.right for count in counts),
        lines=sum(count.lines for count in counts),
    )
    was = ""
    if before:
        named, of, right, lines = (
            sum(column) for column in zip(*(EXPLAINED[fault] for fault in before), strict=True)
        )
        was = f"{'':11}" + _shares(named=named, cases=of, right=right, lines=lines)
    print(f"{name:30} {now} {causes / cases:6.2f}{was}")


def _shares(*, named: int, cases: int, right: int, lines: int) -> str:
    precision = f"{right / lines:10.0%}" if lines else f"{'none said':>10}"
    return f"{named / cases:7.0%} {precision} {lines / cases:6.2f}"


if __name__ == "__main__":
    main(*map(int, sys.argv[1:2]))
