"""How often readings decide: sound, 3, 5 and 10 K off, by instrument and way, before and after.

`python -m tests.bench.bench_verdicts`: seeded. Before: the guard of twice the root of squares. After:
the guard of what the rectangles cover; and how often an error of 5 K and more is ruled out.
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from kb.catalog import Catalog
from kb.facts import kit_of
from kb.model import Sensor
from kb.notes.load import load_notes

from .verdict_draws import draw

SENSORS = ("brenholt-coil-in", "veldane-liquid", "osterlyn-floor", "osterlyn-outdoor")
"""NTC of 10 and 5 kΩ, platinum, silicon: each with what its machine allows."""
METERS = ("pocket-meter", "bench-meter")
WAYS = ("held-on", "strapped", "ice-water", "sister")
OFF_K = (None, 3.0, 5.0, 10.0)


def rows(catalog: Catalog, *, sensor: str) -> Iterator[str]:
    """Yield one row for each meter and way."""
    kit = kit_of(catalog)
    meters = {tool.id: tool.meter for tool in kit.meters}
    probes = {tool.id: tool.thermometer for tool in kit.thermometers}
    entry = catalog.get(Sensor, sensor)
    curve = catalog.characteristic_of_sensor(entry)
    assert curve is not None
    for meter in METERS:
        for way in WAYS:
            cells = []
            for off_k in OFF_K:
                found = draw(
                    curve,
                    meter=meters[meter],
                    thermometer=probes["probe-thermometer"],
                    placement=way,
                    t_c=22.0,
                    off_k=off_k,
                    allow_k=entry.allow_k or 0.0,
                )
                was, now = found.shares(before=True), found.shares()
                cells.append(
                    "/".join(f"{100 * share:.0f}" for share in was)
                    + " > "
                    + "/".join(f"{100 * share:.0f}" for share in now)
                    + f" ({100 * found.ruled_out(5.0):.0f})"
                )
            yield f"  {meter:12} {way:9} " + "".join(f"{cell:>28}" for cell in cells)


def main() -> None:
    """Print the table of each sensor."""
    catalog = Catalog(load_notes(Path(__file__).resolve().parents[2]))
    print("pass/undecided/reject in %, before > after (5 K and more ruled out)")
    for sensor in SENSORS:
        entry = catalog.get(Sensor, sensor)
        print(f"\n{sensor}, {entry.curve}, ± {entry.allow_k} K allowed")
        heads = ["sound", *(f"{off_k:g} K off" for off_k in OFF_K if off_k)]
        print(" " * 25 + "".join(f"{head:>28}" for head in heads))
        for row in rows(catalog, sensor=sensor):
            print(row)


if __name__ == "__main__":
    main()
