"""Updates of a phone as a state machine against the real worker, walks found before first: prints only.

Run: python -m tests.bench.bench_updates --seed 1 --walks 80 --length 25 --depth 2
Again: python -m tests.bench.bench_updates --replay '[["open", 0, 0], ["publish", 2], ["heal"]]'

A walk that fails is shrunk and printed as a command that goes it again.
"""

from __future__ import annotations

import argparse
import json
import shlex
import tempfile
import time
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

from playwright.sync_api import sync_playwright

from tests.conftest import CHROMIUM, FLAGS
from tests.release.small_releases import small_releases
from tests.release.update_model import Step
from tests.release.update_walks import all_walks, found_before, random_walk, shrunk, walk


def arguments() -> argparse.Namespace:
    """Return what was asked for."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument(
        "--seed", type=int, default=1, help="of the first walk; the next has the next"
    )
    parser.add_argument("--walks", type=int, default=80, help="so many at random")
    parser.add_argument("--length", type=int, default=25, help="so many steps each")
    parser.add_argument("--depth", type=int, default=0, help="all walks of so many steps")
    parser.add_argument("--share", default="1/1", help="the first of two halves: 1/2")
    parser.add_argument("--tries", type=int, default=40, help="to shrink a walk that fails")
    parser.add_argument("--replay", help="one walk, as it was printed")
    return parser.parse_args()


def wanted(asked: argparse.Namespace) -> Iterator[tuple[str, list[Step]]]:
    """Yield each walk and what it is called."""
    if asked.replay:
        yield "replay", json.loads(asked.replay)
        return
    for found in found_before():
        yield f"found before: {found['showed']}", found["walk"]
    for seed in range(asked.seed, asked.seed + asked.walks):
        yield f"seed {seed}", random_walk(seed, length=asked.length)
    part, _, parts = asked.share.partition("/")
    for number, steps in enumerate(all_walks(asked.depth) if asked.depth else ()):
        if number % int(parts) == int(part) - 1:
            yield f"depth {asked.depth}, walk {number}", steps


def main() -> None:
    """Go all walks, and print what was found and how much was tried."""
    asked, tried, kinds = arguments(), Counter[str](), Counter[str]()
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as started:
        releases = small_releases(Path(folder))
        browser = started.chromium.launch(executable_path=CHROMIUM, args=FLAGS)
        began = time.monotonic()
        try:
            for name, steps in wanted(asked):
                outcome = walk(steps, browser=browser, releases=releases)
                tried.update(walks=1, steps=outcome.steps, faulty_updates=outcome.faulty_updates)
                if outcome.broken is None:
                    continue
                kind = outcome.broken.kind
                kinds[kind] += 1
                print(f"{name}, step {outcome.steps}: {str(outcome.broken)[:600]}", flush=True)

                def fails(fewer: list[Step], *, kind: str = kind) -> bool:
                    again = walk(fewer, browser=browser, releases=releases).broken
                    return again is not None and again.kind == kind

                short = shrunk(steps[: outcome.steps], fails=fails, tries=asked.tries)
                again = shlex.quote(json.dumps(short))
                print(f"  python -m tests.bench.bench_updates --replay {again}", flush=True)
        finally:
            # Also when somebody stops it: what was gone until then counts.
            took_s = time.monotonic() - began
            print(
                f"{tried['walks']} walks, {tried['steps']} steps, {tried['faulty_updates']} faulty "
                f"updates, {tried['steps'] / took_s:.1f} steps a second; broken: "
                f"{dict(kinds) or 'none'}",
                flush=True,
            )
        browser.close()


if __name__ == "__main__":
    main()
