"""What the model of updates goes each time: a few walks by their seeds, and each that ever failed."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from tests.release.small_releases import SmallRelease, small_releases
from tests.release.update_walks import found_before, random_walk, shrunk, walk

SEEDS, LENGTH = (1,), 10
OF_FOUND = 3
"""So many of the walks that failed once; `tests/bench/bench_updates.py` goes all of them."""
Tell = Callable[[str, str], None]


@pytest.fixture(scope="module")
def small(tmp_path_factory: pytest.TempPathFactory) -> dict[int, SmallRelease]:
    """Return five releases of the starter's bare notes."""
    return small_releases(tmp_path_factory.mktemp("small"))


@pytest.mark.parametrize("seed", SEEDS)
def test_whatever_happens_a_phone_shows_a_whole_release_and_true_words(
    browser: object, small: dict[int, SmallRelease], tell: Tell, seed: int
) -> None:
    outcome = walk(random_walk(seed, length=LENGTH), browser=browser, releases=small)
    assert outcome.broken is None
    tell(f"{outcome.steps} steps at random, seed {seed}", "whole, of one release, true, well again")


@pytest.mark.parametrize("found", found_before()[:OF_FOUND], ids=lambda found: found["showed"])
def test_a_walk_that_failed_once_does_not_again(
    browser: object, small: dict[int, SmallRelease], found: dict[str, object]
) -> None:
    assert walk(found["walk"], browser=browser, releases=small).broken is None


def test_a_walk_is_shrunk_to_what_makes_it_fail() -> None:
    steps = [["check", number] for number in range(9)]
    fails = lambda fewer: ["check", 3] in fewer and ["check", 7] in fewer  # noqa: E731
    assert shrunk(steps, fails=fails, tries=60) == [["check", 3], ["check", 7]]
