"""Walks through the model of updates: at random, all of them to a small depth, shrunk, and done again."""

from __future__ import annotations

import itertools
import json
import random
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path

from tests.release.scripted_host import FAULTS
from tests.release.small_releases import LETTING_GO, NEWEST, SmallRelease
from tests.release.update_model import PAGES, PIECES, Step, World
from tests.release.update_truth import Broken
from tests.release.walking_phone import Stuck

FOUND = Path(__file__).resolve().parents[1] / "data" / "update_walks.json"
"""Each walk that ever failed, shrunk, with what it showed."""
BEGIN: list[Step] = [["open", 0, 0]]
END: list[Step] = [["heal"]]

SMALL: tuple[Step, ...] = (
    ["publish", NEWEST],
    ["fail", "dies", 2, 3],
    ["fail", "half", 1, 5],
    ["fail", "news-number", 1, 0],
    ["lose", "list", 1, True],
    ["lose", "everything", 1, False],
    ["stop"],
    ["type", 0, 3, 7],
    ["check", 0],
    ["use", 0],
)
"""What may happen, for all walks of three steps."""
WIDE: tuple[Step, ...] = (
    *SMALL,
    ["publish", 5],
    ["publish", 3],
    ["fail", "down", 1, 0],
    ["fail", "sign-in", 1, 0],
    ["fail", "hang", 2, 0],
    ["fail", "short", 2, 3],
    ["fail", "flip-page", 1, 1],
    ["fail", "no-worker", 1, 0],
    ["fail", "worker-cut", 1, 3],
    ["fail", "worker-older", 1, 0],
    ["lose", "page", 2, True],
    ["lose", "serving", 3, True],
    ["lose", "worker", 1, False],
    ["fill", True],
    ["second", 2],
    ["cold", 1],
    ["cut", 0, 1, 20],
)
"""What may happen, for all walks of two steps."""


def random_step(chance: random.Random) -> Step:
    """Return something that may happen."""
    kind = chance.choices(
        (
            "publish",
            "fail",
            "lose",
            "fill",
            "stop",
            "open",
            "second",
            "cold",
            "check",
            "check in both",
            "cut",
            "use",
            "type",
            "heal",
        ),
        weights=(12, 16, 9, 2, 3, 6, 3, 3, 18, 3, 4, 10, 8, 1),
    )[0]
    page, seed = chance.randrange(len(PAGES)), chance.randrange(10_000)
    which = chance.randrange(2)
    numbers: dict[str, list[object]] = {
        "publish": [chance.choices((1, 2, 3, 4, LETTING_GO), weights=(3, 4, 4, 4, 1))[0]],
        "fail": [chance.choice(FAULTS), chance.randrange(1, 9), seed],
        "lose": [chance.choice(PIECES), seed, chance.random() < 0.5],
        "fill": [chance.random() < 0.6],
        "open": [which, page],
        "second": [page],
        "cold": [page],
        "check": [which],
        "cut": [which, page, chance.choice((0, 5, 20, 60))],
        "use": [which],
        "type": [which, chance.randrange(50), seed],
    }
    return [kind, *numbers.get(kind, [])]


@dataclass(frozen=True)
class Outcome:
    """How a walk ended."""

    steps: int
    faulty_updates: int
    broken: Broken | None = None


def walk(steps: list[Step], *, browser: object, releases: dict[int, SmallRelease]) -> Outcome:
    """Go a walk on a fresh phone, and hold what must hold after each step."""
    world, done = World(browser, releases=releases), 0
    try:
        for step in steps:
            done += 1
            world.step(step)
    except Broken as broken:
        return Outcome(done, world.faulty_updates, broken)
    except Stuck as never:
        return Outcome(done, world.faulty_updates, Broken("stuck", words=str(never)))
    finally:
        world.close()
    return Outcome(done, world.faulty_updates)


def random_walk(seed: int, *, length: int) -> list[Step]:
    """Return a walk drawn by a seed, from an installed phone back to a healthy one."""
    chance = random.Random(seed)
    return [*BEGIN, *(random_step(chance) for _ in range(length)), *END]


def all_walks(depth: int) -> Iterator[list[Step]]:
    """Yield every walk of so many steps, each followed by a check, a tap on Use now and a healing."""
    for steps in itertools.product(SMALL if depth > 2 else WIDE, repeat=depth):
        yield [*BEGIN, ["publish", 2], *steps, ["check", 0], ["use", 0], *END]


def shrunk(steps: list[Step], *, fails: Callable[[list[Step]], bool], tries: int) -> list[Step]:
    """Return fewer steps that still fail, by leaving out halves, quarters and single steps.

    Parameters
    ----------
    steps : list of Step
    fails : callable
        Whether a walk still fails in the same way.
    tries : int
        So many walks at most are gone.
    """
    size = max(1, len(steps) // 2)
    while tries > 0:
        at, found = 0, False
        while at < len(steps) and tries > 0:
            fewer = steps[:at] + steps[at + size :]
            tries -= 1
            if fewer and fails(fewer):
                steps, found = fewer, True
            else:
                at += size
        if size == 1 and not found:
            break
        size = max(1, size // 2)
    return steps


def found_before() -> list[dict[str, object]]:
    """Return the walks that failed once: what they showed, and their steps."""
    return json.loads(FOUND.read_text(encoding="utf-8"))
