"""What the page's scripts compute with: each curve's compiled grid, in a small script of its own."""

from __future__ import annotations

import json

from kb.numbers.grid import Grid


def curve_script_text(curve_id: str, grid: Grid) -> str:
    """Return the script that hands a curve's grid to the page.

    A script and not JSON to fetch: a page opened from a folder may not fetch anything.
    """
    told = json.dumps(grid.as_dict(), separators=(",", ":"), sort_keys=True)
    name = json.dumps(curve_id)
    return f"(window.OhmCurves=window.OhmCurves||{{}})[{name}]={told};\n"
