"""Tell a phone how to put the notes on its home screen (W3C Web Application Manifest)."""

from __future__ import annotations

import json

from kb.words.catalogue import template

from .icons import GROUND, ICONS

PATH = "manifest.webmanifest"
SHORT = 12
"""About as many letters fit below an icon."""


def manifest_text(*, title: str, team: str) -> str:
    """Return the manifest; every address in it is relative, so that a sub-folder will do."""
    first = team.split()[0]
    fields = {
        "name": title,
        "short_name": title if len(title) <= SHORT else first[:SHORT],
        "start_url": "index.html",
        "scope": "./",
        "display": "standalone",
        "background_color": _hex(GROUND),
        "theme_color": _hex(GROUND),
        "lang": template("language.code"),
        "icons": [
            {
                "src": path,
                "sizes": f"{pixels}x{pixels}",
                "type": "image/png",
                "purpose": "maskable" if "-cut-" in path else "any",
            }
            for path, (pixels, _, _) in ICONS.items()
            if "-180" not in path
        ]
        + [{"src": "assets/mark.svg", "sizes": "any", "type": "image/svg+xml"}],
    }
    return json.dumps(fields, indent=1, ensure_ascii=False) + "\n"


def _hex(colour: tuple[int, int, int]) -> str:
    return "#" + "".join(f"{level:02x}" for level in colour)
