"""Where a drawing's pins lead, and where its photo lies, from any page."""

from __future__ import annotations

from kb.made_pages import drawing_photo_path
from kb.model import Drawing, Part, Sensor

from .site_context import SiteContext
from .sketch import Photo


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


def photo_of(context: SiteContext, drawing: Drawing) -> Photo | None:
    """Return where a drawing's photo lies, from the page, and its proportions."""
    if drawing.photo is None:
        return None
    path = drawing_photo_path(drawing)
    wide, high = context.catalog.photo_size(path)
    return Photo(href=context.root + path, wide=wide, high=high)
