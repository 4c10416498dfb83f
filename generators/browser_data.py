"""What the page's scripts compute with: each curve's compiled grid, in a small script."""

from __future__ import annotations

import json
from dataclasses import dataclass

from kb.catalog import Catalog
from kb.model import Instrument
from kb.model.instrument import Thermometer
from kb.numbers.grid import Grid


@dataclass(frozen=True)
class CurveScript:
    """A curve as the page's scripts compute with it."""

    text: str
    """The script."""
    worst_error_k: float
    """How far it may be off the curve, in K."""


def curve_script_text(curve_id: str, grid: Grid) -> str:
    """Return the script that hands a curve's grid to the page.

    A script and not JSON to fetch: a page opened from a folder may not fetch anything.
    """
    grid_text = json.dumps(grid.as_dict(), separators=(",", ":"), sort_keys=True)
    name = json.dumps(curve_id)
    return f"(window.OhmCurves=window.OhmCurves||{{}})[{name}]={grid_text};\n"


def team_script_text(catalog: Catalog) -> str:
    """Return the script that tells the page what the team measures with, and how well."""
    team = {
        "short_ohm": catalog.team.short_below_ohm,
        "meters": {meter.id: _meter(meter) for meter in catalog.meters()},
        "thermometers": {
            probe.id: _thermometer(probe.name, temperature=probe.temperature)
            for probe in catalog.thermometers()
            if probe.temperature is not None
        },
    }
    # A name with `</script>` would end the script of a file that holds everything.
    packed = json.dumps(team, ensure_ascii=False, separators=(",", ":")).replace("<", "\\u003c")
    return f"window.OhmTeam={packed};\n"


def _meter(meter: Instrument) -> dict[str, object]:
    ranges = [
        {
            "span_ohm": ohms.span,
            "resolution_ohm": ohms.resolution,
            "percent": ohms.percent,
            "digits": ohms.digits,
        }
        for ohms in meter.resistance
    ]
    return {
        "name": meter.name,
        "rated_v": meter.rated_v(),
        "leads_ohm": meter.leads_ohm,
        "ranges": ranges,
    }


def _thermometer(name: str, *, temperature: Thermometer) -> dict[str, object]:
    return {
        "name": name,
        "accuracy_k": temperature.accuracy_k,
        "percent": temperature.percent,
        "resolution_k": temperature.resolution_k,
        "low_c": temperature.range_c[0],
        "high_c": temperature.range_c[1],
    }
