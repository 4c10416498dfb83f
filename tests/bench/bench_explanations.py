"""How often what explains a reading is named: prints recall and precision by fault, seeded.

Run: python -m tests.bench.bench_explanations [EACH].

The rule before this one offered every fault that fitted by itself. On the same seed, 40 of each, it
named with one reading 86 % of what one reading can tell (68 % of its lines were right: unit slips 88
and 100 %, points 98 and 55, °F 0 and 0, the family's curves 100 and 80, plugged in 100 and 66, the
board alone 100 and 73) and 23 % of the rest (40 % right: another curve 100 and 78, series 60 and 52,
none of the others); a second reading it could not take.
"""

from __future__ import annotations

import sys
from collections.abc import Mapping, Sequence

from tests.bench.explanation_counts import Count, counted
from tests.bench.seeded_faults import TELLABLE, WIDER

SEED = 11
EACH = 60


def main(each: int = EACH) -> None:
    """Print both tables: one reading, and a second beside it."""
    beyond = [fault for fault in WIDER if fault not in TELLABLE]
    _print("one reading, what it can tell", counted(TELLABLE, each=each, second=False, seed=SEED))
    _print("one reading, what it cannot", counted(beyond, each=each, second=False, seed=SEED))
    _print("with a second reading", counted(WIDER, each=each, second=True, seed=SEED))


def _print(title: str, counts: Mapping[str, Count]) -> None:
    print(f"\n{title:30} {'recall':>7} {'precision':>10} {'lines':>6} {'names':>6}")
    for fault, count in counts.items():
        _row(fault, [count])
    _row("all", list(counts.values()))


def _row(name: str, counts: Sequence[Count]) -> None:
    cases = sum(count.cases for count in counts)
    named = sum(count.named for count in counts)
    lines = sum(count.lines for count in counts)
    right = sum(count.right for count in counts)
    causes = sum(count.causes for count in counts)
    precision = f"{right / lines:10.0%}" if lines else f"{'none said':>10}"
    print(f"{name:30} {named / cases:7.0%} {precision} {lines / cases:6.2f} {causes / cases:6.2f}")


if __name__ == "__main__":
    main(*map(int, sys.argv[1:2]))
