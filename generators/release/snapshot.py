"""Keep what the notes said, so that a later release can tell what changed."""

from __future__ import annotations

import hashlib

from kb.model import KINDS, Curve
from kb.notes.folder import CONTENT
from kb.numbers.rounding import significant

from ..site_context import SiteContext

EVERY_C = 10
ALSO_C = (20.0, 25.0)
DIGITS = 7

Snapshot = dict[str, object]
"""`entries`: kind → id → what the file said. `numbers`: curve → [t_c, r_ohm, slope] at set
temperatures, so that a move is told in ohms and kelvin whatever law gives them. `team`, `own`."""


def take_snapshot(context: SiteContext) -> Snapshot:
    """Return what the notes say now, as plain JSON values."""
    notes = context.notes
    return {
        "entries": {
            kind: {
                one.id: one.model_dump(mode="json", exclude_defaults=True, exclude={"id"})
                for one in notes.of_kind(kind).values()
            }
            for kind in KINDS
        },
        "numbers": {curve_id: _sampled(context, curve_id) for curve_id in notes.of(Curve)},
        "team": context.catalog.team.model_dump(mode="json"),
        "own": _own_pages(context),
    }


def _sampled(context: SiteContext, curve_id: str) -> list[list[float]]:
    """Return [t_c, r_ohm, slope_ohm_per_k] at whole tens and at 20 and 25 °C, within the range."""
    known = context.catalog.characteristic(curve_id)
    if known is None:
        return []
    first = -(-int(known.low_c) // EVERY_C) * EVERY_C
    tens = {float(t_c) for t_c in range(first, int(known.high_c) + 1, EVERY_C)}
    within = sorted(t_c for t_c in tens | set(ALSO_C) if known.low_c <= t_c <= known.high_c)
    return [
        [
            t_c,
            *(significant(one(t_c), digits=DIGITS) for one in (known.r_ohm, known.slope_ohm_per_k)),
        ]
        for t_c in within
    ]


def _own_pages(context: SiteContext) -> dict[str, str]:
    """Return the hand-written pages by path, each as the checksum of its text."""
    folder = context.notes.folder / CONTENT
    return {
        path.relative_to(folder).as_posix(): hashlib.sha256(path.read_bytes()).hexdigest()[:16]
        for path in sorted(folder.rglob("*.md"))
        if path.is_file()
    }
