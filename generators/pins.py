"""Where a drawing's pins lead, and where its photo lies, from any page."""

from __future__ import annotations

from kb.model import Drawing, Part, Sensor

from .site_context import SiteContext


def pins_go_to(context: SiteContext, drawing: Drawing) -> dict[str, tuple[str, str]]:
    """Return where a tap on each pin leads: the sensor or part that sits there."""
    goes: dict[str, tuple[str, str]] = {}
    pinned: list[Part | Sensor] = [
        *context.catalog.users_of(drawing, Part),
        *context.catalog.users_of(drawing, Sensor),
    ]
    for entry in pinned:
        if entry.pinned and entry.pinned.drawing == drawing.id:
            goes[entry.pinned.pin] = (context.href(entry), entry.name)
    return goes


def photo_href(context: SiteContext, drawing: Drawing) -> str | None:
    """Return where a drawing's photo lies, from the page."""
    return f"{context.root}drawings/{drawing.id}{_ending(drawing)}" if drawing.photo else None


def _ending(drawing: Drawing) -> str:
    return "." + (drawing.photo or "").rpartition(".")[2].lower()
