"""How often insulation at its limit is misjudged, by tester, temperature and material.

Run: python -m tests.bench.bench_insulation [COUNT]. Seeded. "Before" is the same judgement with the
winding's temperature taken for exact, as version 0.3.0 took it: computed here, not remembered.
"""

from __future__ import annotations

import sys

from kb.numbers.insulation import MATERIALS
from tests.bench.insulation_draws import risks

COUNT = 1000
PERCENTS = (0.0, 3.0, 10.0, 20.0)
AT_C = (12.0, 40.0, 60.0)


def main(count: int = COUNT) -> None:
    """Print false accept and false reject, before and after."""
    print("in %: accepted just below the limit / rejected just above it")
    print(f"{'material':14} {'tester':>7} {'winding':>8} {'before':>14} {'after':>14}")
    for material in MATERIALS:
        for percent in PERCENTS:
            for t_c in AT_C:
                how = {"t_c": t_c, "percent": percent, "material": material, "count": count}
                cells = [
                    "{:.1f} / {:.1f}".format(*(100 * share for share in risks(counted=way, **how)))
                    for way in (False, True)
                ]
                print(f"{material:14} ± {percent:3g} % {t_c:5g} °C {cells[0]:>14} {cells[1]:>14}")


if __name__ == "__main__":
    main(*map(int, sys.argv[1:2]))
