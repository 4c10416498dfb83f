"""The scripts of a pocket file: which ones its pages ask for, and their texts in the file."""

from __future__ import annotations

import posixpath
from collections.abc import Iterable
from pathlib import Path

from ..forms.scripts import BASE, MORE
from ..html_tags import Tag

ONCE = {BASE, MORE, "team"}
"""Scripts that no page has to itself: what they keep lasts as long as the file is open."""
NEEDS_A_HOST = {"release", "this-copy"}
"""Scripts of every page that have nothing to do in a single file."""


def script_names(tags: Iterable[Tag], *, path: str) -> list[str]:
    """Return the names of the scripts that some tags of a page ask for, in the order they run."""
    scripts = (tag.attributes for tag in tags if tag.name == "script")
    # What a page brings late is in the file from the beginning, but for other families' curves.
    sources = (
        script.get("src") or script.get("data-later")
        for script in scripts
        if "data-curve" not in script
    )
    return [_name(source, path=path) for source in sources if source]


def script_text(site: Path, *, name: str) -> str:
    """Return a script as the site sends it: without blanks already.

    Raises
    ------
    ValueError
        When the script would end the file's own.
    """
    text = (site / f"assets/{name}.js").read_text(encoding="utf-8")
    if "</script" in text.lower():
        raise ValueError(f"{name} would end the file's script")
    return text.strip("\n") + "\n"


def runs_once(name: str) -> bool:
    """Return whether a script only brings what others use, and never touches a page itself."""
    return name in ONCE or name.startswith("curves/")


def on_call(site: Path, *, names: Iterable[str]) -> str:
    """Return scripts that only some pages want, each as a function to be called on such a page."""
    functions = (
        f'OhmPocket["{name}"]=function(){{\n{script_text(site, name=name)}}};' for name in names
    )
    return "var OhmPocket={};\n" + "\n".join(functions)


def _name(source: str, *, path: str) -> str:
    target = posixpath.normpath(posixpath.join(posixpath.dirname(path), source))
    return target.removeprefix("assets/").removesuffix(".js")
