"""Changed inputs for hours: every reader of something from outside, by a seed, led by coverage.

Run it by hand: python -m tests.bench.bench_fuzz [TARGET …] [--count N] [--seconds S] [--seed N].
What breaks a rule is printed, and written into tests/data/fuzz/ with --keep: the short run in
tests/test_fuzz.py then holds it for ever. Reaching new lines of the program makes an input worth
changing again; --blind leaves that out, and is five times as fast.
"""

from __future__ import annotations

import argparse
import sys
import tempfile
import time
from pathlib import Path

from tests.fuzz.fuzzing import TARGETS, Fuzzing, keep
from tests.fuzz.reached import Reached

AT_ONCE = 50


def main() -> int:
    """Try the targets asked for; exit code 1 when anything was found."""
    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawTextHelpFormatter
    )
    parser.add_argument("targets", nargs="*", choices=[*TARGETS, []], metavar="TARGET")
    parser.add_argument("--count", type=int, default=2_000, help="inputs a target")
    parser.add_argument("--seconds", type=float, default=float("inf"), help="at most, a target")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--keep", action="store_true", help="write findings into the corpus")
    parser.add_argument("--blind", action="store_true", help="without coverage")
    asked = parser.parse_args()
    found = 0
    for name in asked.targets or TARGETS:
        with tempfile.TemporaryDirectory() as scratch:
            target = TARGETS[name](Path(scratch).resolve())
            fuzzing = Fuzzing(target, asked.seed, None if asked.blind else Reached())
            _tried(fuzzing, count=asked.count, seconds=asked.seconds, kept=asked.keep)
            found += len(fuzzing.findings)
    return bool(found)


def _tried(fuzzing: Fuzzing, *, count: int, seconds: float, kept: bool) -> None:
    name, began = fuzzing.target.name, time.monotonic()
    begun_with = len(fuzzing.pool)
    while fuzzing.tried < count and time.monotonic() - began < seconds:
        for finding in fuzzing.more(min(AT_ONCE, count - fuzzing.tried)):
            file = keep(finding) if kept else ""
            print(f"  {name}: {finding.rule}: {finding.words} {file}", flush=True)
        print(f"  {name}: {fuzzing.tried} of {count}", end="\r", file=sys.stderr, flush=True)
    lines = len(fuzzing.reached.lines) if fuzzing.reached else 0
    print(
        f"{name}: seed {fuzzing.seed}, {fuzzing.tried} inputs, {len(fuzzing.findings)} faults, "
        f"{lines} lines reached, {len(fuzzing.pool) - begun_with} inputs worth changing again, "
        f"{time.monotonic() - began:.0f} s",
        flush=True,
    )


if __name__ == "__main__":
    sys.exit(main())
