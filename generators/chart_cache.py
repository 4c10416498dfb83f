"""Draw only the charts that changed: each is kept under a name made of all that went into it."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import asdict
from functools import cache, partial
from importlib.metadata import version
from pathlib import Path

from kb.writer import write_if_changed

from .chart import ChartData, draw_chart
from .workers import on_all_cores

Progress = Callable[[int, int], None]


def chart_name(data: ChartData) -> str:
    """Return a chart's file name: a hash of its data, of the drawing code, of matplotlib."""
    shown = json.dumps(asdict(data), sort_keys=True)
    mixed = "\0".join((shown, *_drawn_by()))
    return hashlib.sha256(mixed.encode()).hexdigest()[:24] + ".svg"


@cache
def _drawn_by() -> tuple[str, str]:
    code = Path(__file__).with_name("chart.py").read_text(encoding="utf-8")
    return code, version("matplotlib")


def charts_for(
    wanted: Mapping[str, str],
    *,
    data_of: Callable[[str], ChartData],
    folder: Path,
    progress: Progress = lambda done, of: None,
) -> tuple[dict[str, str], int]:
    """Return every wanted chart by curve id, and how many had to be drawn.

    Parameters
    ----------
    wanted : mapping of curve id → name of its chart
    data_of : callable
        Returns what a curve's chart shows, when it has to be drawn.
    folder : Path
        Where drawn charts are kept between builds.
    progress : callable
        Told how many are done, of how many.
    """
    charts: dict[str, str] = {}
    missing: list[ChartData] = []
    for curve_id, name in wanted.items():
        kept = folder / name
        if kept.is_file():
            charts[curve_id] = kept.read_text(encoding="utf-8")
        else:
            missing.append(data_of(curve_id))
    progress(len(charts), len(wanted))
    for data, svg in zip(missing, _drawn(missing), strict=True):
        write_if_changed(folder / wanted[data.curve_id], svg)
        charts[data.curve_id] = svg
        progress(len(charts), len(wanted))
    return charts, len(missing)


def _drawn(missing: Sequence[ChartData]) -> Iterator[str]:
    jobs = [partial(draw_chart, data) for data in missing]
    # A worker's start costs as much as a dozen charts: below that one process is quicker.
    return on_all_cores(jobs, share=2, least=12)
