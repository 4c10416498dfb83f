"""What the page's scripts compute with: each curve's compiled grid, in a small script."""

from __future__ import annotations

import json

from kb.catalog import Catalog
from kb.numbers.grid import Grid


def curve_script_text(curve_id: str, grid: Grid) -> str:
    """Return the script that hands a curve's grid to the page.

    A script and not JSON to fetch: a page opened from a folder may not fetch anything.
    """
    told = json.dumps(grid.as_dict(), separators=(",", ":"), sort_keys=True)
    name = json.dumps(curve_id)
    return f"(window.OhmCurves=window.OhmCurves||{{}})[{name}]={told};\n"


def team_script_text(catalog: Catalog) -> str:
    """Return the script that tells the page what the team measures with, and how well."""
    told = {
        "short_ohm": catalog.team.short_below_ohm,
        "meters": {
            one.id: {
                "name": one.name,
                "leads_ohm": one.leads_ohm,
                "ranges": [
                    {
                        "span_ohm": r.span,
                        "resolution_ohm": r.resolution,
                        "percent": r.percent,
                        "digits": r.digits,
                    }
                    for r in one.resistance
                ],
            }
            for one in catalog.meters()
        },
        "thermometers": {
            one.id: {
                "name": one.name,
                "accuracy_k": one.temperature.accuracy_k,
                "percent": one.temperature.percent,
                "resolution_k": one.temperature.resolution_k,
                "low_c": one.temperature.range_c[0],
                "high_c": one.temperature.range_c[1],
            }
            for one in catalog.thermometers()
        },
    }
    return f"window.OhmTeam={json.dumps(told, ensure_ascii=False, separators=(',', ':'))};\n"
