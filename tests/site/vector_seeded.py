"""Seeds with what is drawn from them: the page must draw the same."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from kb.numbers.seeded import MOST_SEED, Seeded

DRAWS = 12


def seeded_draws(rng: np.random.Generator, _: object) -> tuple[object, Callable[[], object]]:
    """A seed, its stream, and how many there are to draw from: few, many, nearly all words."""
    seed = int(rng.choice((0, 1, MOST_SEED, int(rng.integers(MOST_SEED)), 2**32 - 1)))
    stream = int(rng.choice((0, 1, int(rng.integers(1000)), 2**31)))
    count = int(rng.choice((1, 2, 3, 7, 10, 1000, 2**31 + 1, 2**32 - 1)))
    weights = [float(weight) for weight in rng.integers(0, 6, size=5)]
    weights[2] += 1.0

    def drawn() -> dict[str, object]:
        draw = Seeded(seed, stream=stream)
        return {
            "below": [draw.below(count) for _ in range(DRAWS)],
            "share": draw.share(),
            "between": draw.between(-20.0, high=35.5),
            "order": draw.shuffled(list(range(9))),
            "weighted": [draw.weighted(weights) for _ in range(DRAWS)],
            "chosen": draw.chosen("abcde"),
        }

    return {"seed": seed, "stream": stream, "count": count, "weights": weights}, drawn
