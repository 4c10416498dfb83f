"""A curve asked both ways, beside another, and stood in for: from the typed text to the words."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator

import numpy as np

from kb.answers.comparison import compare_curves
from kb.answers.curve_lookup import ohm_at, temperature_of
from kb.answers.instruments import Tools
from kb.answers.stand_in import BoardSide, StandInQuestion, answer_stand_in
from kb.numbers.characteristic import Characteristic
from kb.numbers.e_series import SERIES
from kb.numbers.grid import Grid, compile_grid
from kb.numbers.ntc_beta import NtcBeta

from .page_names import page_names
from .said import said
from .vector_readings import one_of, reading_ohm, temperature_c
from .vector_rounds import which_of
from .vector_sensors import ALL_METERS, ALL_PROBES, UNREADABLE, typed_ohm, typed_t


def _typed_border_t(rng: np.random.Generator, grid: Grid) -> tuple[str, str]:
    """Return a temperature as typed, one in three on the very end of a piece of its curve."""
    if rng.random() < 0.06:
        return one_of(rng, UNREADABLE), one_of(rng, "CF")
    if rng.random() < 0.65:
        return typed_t(rng, temperature_c(rng, grid))
    pieces_end_c = [float(band.nodes_c[-1]) for band in grid.bands[:-1]]
    end_c = one_of(rng, (grid.low_c, grid.high_c, *pieces_end_c))
    in_f = f"{end_c * 9 / 5 + 32:.2f}"
    texts = (f"{end_c:g}", f"{end_c:g}C", f"{end_c:g} ℃", f"{in_f}F", f"{in_f} °F", f"{in_f}°f")
    return one_of(rng, texts).replace(".", one_of(rng, ".,")), one_of(rng, "CCF")


def lookup_asked(rng: np.random.Generator, grids: dict[str, Grid]) -> tuple[object, Callable]:
    """A temperature or a reading on one curve."""
    curve_id = one_of(rng, grids)
    grid = grids[curve_id]
    if rng.random() < 0.6:
        text, unit = _typed_border_t(rng, grid)
        way, ask = "ohmAt", ohm_at
    else:
        way, ask, unit = "temperatureOf", temperature_of, one_of(rng, "CF")
        low_ohm, high_ohm = grid.range_ohm
        r_ohm = math.exp(rng.uniform(math.log(low_ohm), math.log(high_ohm)))
        if rng.random() < 0.3:
            r_ohm = reading_ohm(rng, grid, t_c=temperature_c(rng, grid))
        text = one_of(rng, UNREADABLE) if rng.random() < 0.06 else typed_ohm(rng, r_ohm)

    def answer() -> dict[str, object]:
        found = ask(text, curve=grid, curve_id=curve_id, unit=unit)
        return {"answer": found, "said": said(found, unit=found.unit, digits=found.digits)}

    return {"way": way, "text": text, "curveId": curve_id, "unit": unit}, answer


def stand_in_asked(rng: np.random.Generator, grids: dict[str, Grid]) -> tuple[object, Callable]:
    """Resistors for a temperature, out of every drawer, with and without the board's side."""
    curve_id = one_of(rng, grids)
    at, unit = _typed_border_t(rng, grids[curve_id])
    series = one_of(rng, ("E12",) * 4 + ("E24",) * 4 + ("E96",))
    board = one_of(rng, (None, BoardSide(supply_v=5.0, pull_up_ohm=10e3)))
    return _stand_in(curve_id, grids, at=at, unit=unit, series=series, board=board)


def _stand_in(
    curve_id: str,
    grids: dict[str, Grid],
    *,
    at: str,
    series: str,
    unit: str = "C",
    board: BoardSide | None = None,
) -> tuple[dict[str, object], Callable]:
    question = StandInQuestion(
        curve=grids[curve_id], curve_id=curve_id, at=at, unit=unit, series=series, board=board
    )

    def answer() -> dict[str, object]:
        found = answer_stand_in(question)
        return {"answer": found, "said": said(found, unit=found.unit, digits=found.digits)}

    page = {"curveId": curve_id, "at": at, "unit": unit, "series": series}
    return {**page, "board": page_names(board)}, answer


def pair_asked(rng: np.random.Generator, grids: dict[str, Grid]) -> tuple[object, Callable]:
    """Two curves at a temperature; now and then one beside itself, or one that shares none."""
    first, second = one_of(rng, grids), one_of(rng, grids)
    if rng.random() < 0.1:
        second = first
    text, unit = _typed_border_t(rng, grids[one_of(rng, (first, second))])
    return _pair(first, second, grids, text=text, unit=unit)


def _pair(
    first: str, second: str, grids: dict[str, Grid], *, text: str, unit: str = "C"
) -> tuple[dict[str, object], Callable]:
    def answer() -> dict[str, object]:
        found = compare_curves(text, curve=grids[first], other=grids[second], unit=unit)
        return {"answer": found, "said": said(found, unit=found.unit, digits=found.digits)}

    return {"one": first, "other": second, "text": text, "unit": unit}, answer


NARROW = {
    name: compile_grid(
        Characteristic(law=NtcBeta(r_ref=10e3, b_k=3500), low_c=low_c, high_c=high_c, id=name)
    )
    for name, low_c, high_c in (
        ("to-25", -20.0, 25.0),
        ("from-25", 25.0, 60.0),
        ("a-hair", 20.0, 20.01),
    )
}
"""Curves that touch at one temperature, and one that no resistor of a series is on."""


def directed_lookups(_: dict[str, Grid]) -> Iterator[tuple[object, Callable]]:
    """Yield what the wide curves never meet: no temperature shared, no resistor on the curve."""
    for series in SERIES:
        for at in ("20", "68F", "20,01", "68.018 °F", "20.02", "19.99", "68.00F", ""):
            yield _on_narrow("answer-stand-in", *_stand_in("a-hair", NARROW, at=at, series=series))
    for text in ("25", "", "77F", "x"):
        for first, second in (("to-25", "from-25"), ("a-hair", "from-25"), ("a-hair", "to-25")):
            yield _on_narrow("answer-pair", *_pair(first, second, NARROW, text=text))
    pairs = [("25", "10k"), ("77 °F", "10k")]
    for typed in (pairs[:1], pairs[1:], pairs, [("25 ℃", "9.6k")], [("30", "8.2k")]):
        tools = Tools(meter=ALL_METERS[1], thermometer=ALL_PROBES[0], placement="held-on")
        yield _on_narrow(
            "answer-which", *which_of(NARROW, list(NARROW), pairs=typed, unit="C", tools=tools)
        )


def _on_narrow(kind: str, page: dict[str, object], answer: Callable) -> tuple[object, Callable]:
    compiled = {name: grid.as_dict() for name, grid in NARROW.items()}
    return {"kind": kind, "asked": page, "compiled": compiled}, answer
