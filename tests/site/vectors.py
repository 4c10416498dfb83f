"""Random questions with Python's answers to hold the page's to; the same ones every time."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

import numpy as np

from kb.answers.statement import Refusal
from kb.numbers.grid import Grid
from kb.numbers.notation import Unreadable
from kb.numbers.out_of_range import OutOfRange

from .page_names import page_names
from .vector_board_sides import controller_asked, rating_asked, volts_asked
from .vector_codes import blinks_written, codes_asked, families_asked, spelling
from .vector_drills import drills_asked
from .vector_lookups import directed_lookups, lookup_asked, pair_asked, stand_in_asked
from .vector_part_answers import insulation_asked, windings_asked
from .vector_parts import divider, insulation, winding, winding_beside_maker, winding_corrected
from .vector_practice import practice_asked
from .vector_readings import (
    a_round,
    explained,
    interpolated,
    judged,
    stand_in,
    two_curves,
    two_exchanged,
    which,
)
from .vector_rounds import directed_rounds, round_asked, which_asked
from .vector_seeded import seeded_draws
from .vector_sensors import loop_asked, reading_asked
from .vector_texts import notation, rounding

SEED = 20_000
COUNTS = {
    "grid": 2500,
    "verdict": 5000,
    "explain": 1800,
    "round": 1500,
    "which": 900,
    "stand-in": 500,
    "divider": 700,
    "winding": 900,
    "winding-corrected": 200,
    "insulation": 900,
    "notation": 1300,
    "rounding": 1100,
    "winding-value": 300,
    "curve-pair": 300,
    "exchanged": 400,
    "answer-reading": 4200,
    "answer-loop": 1200,
    "answer-winding": 6500,
    "answer-insulation": 4000,
    "spelling": 800,
    "blinks": 2000,
    "find-codes": 2000,
    "answer-round": 1400,
    "answer-which": 600,
    "answer-lookup": 1200,
    "answer-stand-in": 500,
    "answer-pair": 400,
    "directed-round": 1260,
    "directed-lookup": 41,
    "families-named": 1500,
    "answer-volts": 1300,
    "answer-controller": 1300,
    "live-rating": 400,
    "seeded": 400,
    "drills": 350,
    "practice": 250,
}


@dataclass(frozen=True)
class Vector:
    """One question as the page gets it, and Python's answer in the page's names."""

    kind: str
    asked: object
    told: dict[str, object]


def vectors(grids: dict[str, Grid]) -> list[Vector]:
    """Return all of COUNTS, kind after kind."""
    makers: dict[str, Callable[..., tuple[object, Callable[[], object]]]] = {
        "grid": interpolated,
        "verdict": judged,
        "explain": explained,
        "round": a_round,
        "which": which,
        "stand-in": stand_in,
        "divider": divider,
        "winding": winding,
        "winding-corrected": winding_corrected,
        "insulation": insulation,
        "notation": lambda rng, _: notation(rng),
        "rounding": lambda rng, _: rounding(rng),
        "winding-value": winding_beside_maker,
        "curve-pair": two_curves,
        "exchanged": two_exchanged,
        "answer-reading": reading_asked,
        "answer-loop": loop_asked,
        "answer-winding": windings_asked,
        "answer-insulation": insulation_asked,
        "spelling": spelling,
        "blinks": blinks_written,
        "find-codes": codes_asked,
        "answer-round": round_asked,
        "answer-which": which_asked,
        "answer-lookup": lookup_asked,
        "answer-stand-in": stand_in_asked,
        "answer-pair": pair_asked,
        "directed-round": _one_by_one(directed_rounds),
        "directed-lookup": _one_by_one(directed_lookups),
        "families-named": families_asked,
        "answer-volts": volts_asked,
        "answer-controller": controller_asked,
        "live-rating": rating_asked,
        "seeded": seeded_draws,
        "drills": drills_asked,
        "practice": practice_asked,
    }
    return [
        vector
        for number, (kind, count) in enumerate(COUNTS.items())
        for vector in _made(kind, makers[kind], count, np.random.default_rng([SEED, number]), grids)
    ]


def _one_by_one(
    directed: Callable[[dict[str, Grid]], Iterator[tuple[object, Callable[[], object]]]],
) -> Callable[..., tuple[object, Callable[[], object]]]:
    """Return a maker that hands out directed cases in their order."""
    cases: list[Iterator[tuple[object, Callable[[], object]]]] = []

    def next_case(_: np.random.Generator, grids: dict[str, Grid]) -> tuple[object, Callable]:
        if not cases:
            cases.append(directed(grids))
        return next(cases[0])

    return next_case


def _made(
    kind: str, maker: Callable, count: int, rng: np.random.Generator, grids: dict[str, Grid]
) -> Iterator[Vector]:
    for _ in range(count):
        asked, answer = maker(rng, grids)
        try:
            told = {"answer": page_names(answer())}
        except Refusal as refusal:
            told = {"refusal": page_names(vars(refusal))}
        except OutOfRange as error:
            named = {key: getattr(error, key) for key in ("value", "low", "high", "unit")}
            told = {"outOfRange": named}
        except Unreadable as error:
            told = {"unreadable": {"why": error.why, "figures": error.figures}}
        except ValueError as error:
            told = {"refused": str(error)}
        yield Vector(kind, asked, told)
