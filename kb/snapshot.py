"""Keep what the notes said, so that a later release can tell what changed."""

from __future__ import annotations

import hashlib
from pathlib import Path
from typing import SupportsFloat

from kb.model import KINDS, Curve
from kb.notes.folder import CONTENT, page_files
from kb.numbers.rounding import significant
from kb.release_format.record import Snapshot

from .catalog import Catalog

EVERY_C = 10
ALSO_C = (20.0, 25.0)
DIGITS = 7


def take_snapshot(catalog: Catalog) -> Snapshot:
    """Return what the notes say now, as plain JSON values."""
    notes = catalog.notes
    return {
        "entries": {
            kind: {
                entry.id: entry.model_dump(mode="json", exclude_defaults=True, exclude={"id"})
                for entry in notes.of_kind(kind).values()
            }
            for kind in KINDS
        },
        "numbers": {curve_id: _sampled(catalog, curve_id) for curve_id in notes.of(Curve)},
        # Who signs changes nothing of what anybody reads.
        "team": catalog.team.model_dump(mode="json", exclude={"signing"}),
        "own": _own_pages(catalog),
        "photos": {path: _checksum(file) for path, file in catalog.photos.items()},
    }


def _sampled(catalog: Catalog, curve_id: str) -> list[list[float]]:
    """Return [t_c, r_ohm, slope_ohm_per_k] at whole tens and at 20 and 25 °C, within the range."""
    curve = catalog.characteristic(curve_id)
    if curve is None:
        return []
    first = -(-int(curve.low_c) // EVERY_C) * EVERY_C
    tens = {float(t_c) for t_c in range(first, int(curve.high_c) + 1, EVERY_C)}
    within = sorted(t_c for t_c in tens | set(ALSO_C) if curve.low_c <= t_c <= curve.high_c)
    return [[t_c, *map(_rounded, (curve.r_ohm(t_c), curve.slope_ohm_per_k(t_c)))] for t_c in within]


def _rounded(value: SupportsFloat) -> float:
    return significant(float(value), digits=DIGITS)


def _own_pages(catalog: Catalog) -> dict[str, str]:
    """Return the hand-written pages by path, each as the checksum of its text."""
    folder = catalog.notes.folder / CONTENT
    return {
        path.relative_to(folder).as_posix(): _checksum(path)
        for path in page_files(catalog.notes.folder)
    }


def _checksum(file: Path) -> str:
    return hashlib.sha256(file.read_bytes()).hexdigest()[:16]
