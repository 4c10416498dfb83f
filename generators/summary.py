"""What a build did, and how that is said."""

from __future__ import annotations

from dataclasses import dataclass, fields, replace
from pathlib import Path


@dataclass(frozen=True)
class Summary:
    """What a build did."""

    entries: int
    pages: int
    charts_drawn: int
    charts_reused: int
    release: str
    number: int
    files: int
    bytes: int
    seconds: float
    worst_grid_error_k: float
    warnings: int
    due: int
    """Things that wait for the keeper."""
    unfit: int
    """Things in the notes that must not be published: `pack` would refuse them."""


def replace_seconds(summary: Summary, seconds: float) -> Summary:
    """Return a summary that took so long."""
    return replace(summary, seconds=seconds)


def summary_dict(summary: Summary, *, out: Path) -> dict[str, object]:
    """Return what a build did, for machines."""
    names = [field.name for field in fields(Summary)]
    return {**{name: getattr(summary, name) for name in names}, "out": str(out)}


def _not_to_publish(summary: Summary) -> list[str]:
    """Return why this site must stay in the house, if it must: nothing is held back from it."""
    if not summary.unfit:
        return []
    things = _counted(summary.unfit, noun="thing")
    return [
        f"Do not upload it: {things} in it must not be published (see ohmfolio check). "
        "ohmfolio pack makes what may be."
    ]


def summary_words(summary: Summary, *, out: Path) -> str:
    """Return what a build did, in a few lines."""
    warned = f", {_counted(summary.warnings, noun='warning')} (see ohmfolio check)"
    due = f", {_counted(summary.due, noun='thing')} due (see ohmfolio due)"
    more = (warned if summary.warnings else "") + (due if summary.due else "")
    return "\n".join(
        [
            f"{summary.entries} entries became {summary.pages} pages{more}.",
            f"Charts: {summary.charts_drawn} drawn, {summary.charts_reused} reused. "
            f"Worst interpolation error on the phone: {summary.worst_grid_error_k:.4f} K.",
            f"Release {summary.number} ({summary.release}): {summary.files} files, "
            f"{summary.bytes / 1e6:.1f} MB, {summary.seconds:.1f} s.",
            f"Open {out / 'index.html'}",
            *_not_to_publish(summary),
        ]
    )


def _counted(count: int, *, noun: str) -> str:
    # Here and not from the catalogue: a build with nothing to do must not wait for its import.
    return f"{count} {noun}{'' if count == 1 else 's'}"
