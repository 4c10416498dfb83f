"""What the phone's drills are made from, in a script that pages of learning alone load.

Curves and instruments are not in it: they come as they do on other pages.
"""

from __future__ import annotations

import dataclasses
import json
import re
from collections.abc import Mapping

from kb.answers.drill_notes import DrillNotes

SCRIPT = "drill-notes"


def drill_script_text(notes: DrillNotes) -> str:
    """Return the script that hands it to the page."""
    packed = json.dumps(
        {
            **{name: _plain(getattr(notes, name)) for name in ("families", "sensors", "codes")},
            "parts": _plain(notes.parts),
            "pins": notes.pins,
            "overShows": notes.over_shows,
            "shortOhm": notes.short_ohm,
        },
        ensure_ascii=False,
        separators=(",", ":"),
    )
    # A name with `</script>` would end the script of a file that holds everything.
    return f"window.OhmDrills={packed.replace('<', chr(92) + 'u003c')};\n"


def drawings_of(notes: DrillNotes) -> list[str]:
    """Return the drawings that are tapped, in order of id."""
    taken = [id_ for sensor in notes.sensors for id_ in (sensor.drawing, sensor.plug_drawing)]
    return sorted({drawing for drawing in taken if drawing in notes.pins})


def _plain(value: object) -> object:
    """Return plain lists and objects, the names of fields as scripts have them."""
    if dataclasses.is_dataclass(value):
        return {
            _camel(field.name): _plain(getattr(value, field.name))
            for field in dataclasses.fields(value)
        }
    if isinstance(value, Mapping):
        return {key: _plain(inner) for key, inner in value.items()}
    return [_plain(item) for item in value] if isinstance(value, list | tuple) else value


def _camel(name: str) -> str:
    return re.sub(r"_(\w)", lambda found: found[1].upper(), name)
