"""Fits of published tables beside the best that trying finds, in kelvin.

Run it by hand from the checkout: python -m tests.bench.bench_fits. It asserts nothing.
"""

from __future__ import annotations

from pathlib import Path

import numpy as np
import yaml

from kb.numbers.fit import fit_points
from kb.numbers.printed import printed_points
from tests.kb.numbers.brute_fit import best_possible_k

PUBLISHED = Path(__file__).resolve().parents[1] / "data" / "published"
POWERS = {"beta": (0, 1), "steinhart-hart": (0, 1, 3)}
LEAST_ROWS = 12


def tables() -> dict[str, dict[float, str]]:
    """Return the published tables of NTCs: name → temperature → resistance as printed."""
    found = {}
    for path in sorted(PUBLISHED.glob("ntc_*.yaml")):
        rows = yaml.load(path.read_text(encoding="utf-8"), Loader=yaml.BaseLoader).get("points")
        if isinstance(rows, dict) and len(rows) >= LEAST_ROWS:
            printed = {float(t_c): text for t_c, text in rows.items() if isinstance(text, str)}
            found[path.stem] = printed
    return found


def main() -> None:
    """Print the table."""
    print(f"{'table':34} {'rows':>4} {'law':15} {'fit':>9} {'possible':>9} {'between':>9}")
    for name, printed in tables().items():
        points = printed_points(printed.items())
        for law, powers in POWERS.items():
            fit = fit_points(points, law=law)
            odd_c = {suspect.t_c for suspect in fit.suspects}
            kept = [(point.t_c, point.r_ohm) for point in points if point.t_c not in odd_c]
            t_c, r_ohm = np.array(kept).T
            possible_k = best_possible_k(t_c, r_ohm=r_ohm, powers=powers)
            print(
                f"{name:34} {len(kept):4} {law:15} {fit.worst_k:7.3f} K {possible_k:7.3f} K "
                f"{fit.between_k:7.3f} K"
            )


if __name__ == "__main__":
    main()
