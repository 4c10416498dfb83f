"""What is said of windings with known faults, and how often the balance limit is misjudged.

Run: python -m tests.bench.bench_windings [EACH]. Seeded. "Before" is version 0.3.0, which knew no
connection and took one reading of each pair.
"""

from __future__ import annotations

import sys
from collections import Counter

from tests.bench.measured_at_0_3_0 import WINDINGS
from tests.bench.seeded_windings import (
    ALLOWED_SHARE,
    BENCH,
    FAULTS,
    MILLIOHM,
    OUTCOMES,
    REPEATS,
    answers,
    at_the_limit,
    outcome,
)

SEED = 11
EACH = 400
CONTACTS_OHM = (0.0, 0.001, 0.005, 0.02)
JUST = 1e-6


def main(each: int = EACH) -> None:
    """Print a table of outcomes for each meter and contact, and the risks at the limit."""
    for meter, contact_ohm in ((BENCH, 0.0), (BENCH, 0.02), (MILLIOHM, 0.02)):
        title = f"\n{meter.name}, contact {contact_ohm * 1e3:g} mΩ, read {REPEATS} times"
        print(f"{title}: {each} each, in %")
        head = "".join(f"{name:>16}" for name in OUTCOMES)
        # A contact that wanders is what version 0.3.0 was measured with.
        before = (meter, contact_ohm) == (BENCH, 0.02)
        print(f"{'':32}{head}" + ("   before: right, another" if before else ""))
        for name, fault in FAULTS.items():
            found = answers(fault, count=each, meter=meter, contact_ohm=contact_ohm, seed=SEED)
            counts = Counter(outcome(answer, fault=fault) for answer in found)
            row = "".join(f"{100 * counts[way] / each:16.1f}" for way in OUTCOMES)
            was = "{:14.1f} {:8.1f}".format(*WINDINGS[name]) if before else ""
            print(f"{name:32}{row}{was}", flush=True)
    _limit_table(each)


def _limit_table(each: int) -> None:
    """Print how often a pair at the balance limit passes just beyond it, and fails just inside."""
    print(
        f"\na pair {ALLOWED_SHARE:.0%} off the mean, in %: false accept just beyond, low and high;"
    )
    print("false reject just inside, low and high")
    for meter in (BENCH, MILLIOHM):
        for contact_ohm in CONTACTS_OHM:
            for repeats in (1, 2, REPEATS):
                how = {"count": 10 * each, "meter": meter, "contact_ohm": contact_ohm}
                cells = [
                    at_the_limit(sign * (ALLOWED_SHARE + edge), repeats=repeats, **how)[state]
                    for edge, state in ((JUST, "within"), (-JUST, "outside"))
                    for sign in (-1, 1)
                ]
                shares = "".join(f"{100 * share:7.1f}" for share in cells)
                contact = f"contact {contact_ohm * 1e3:3g} mΩ"
                print(f"{meter.name:10} {contact}, read {repeats} times: {shares}", flush=True)


if __name__ == "__main__":
    main(*map(int, sys.argv[1:2]))
