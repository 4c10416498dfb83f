"""What a round of readings says of machines with known faults, beside what was put in.

`.venv/bin/python -m tests.bench.bench_round [COUNT]`. Below each row stands "before": the same machines
by the rules of version 0.3.0, which held each place against the median of its sensors
(`measured_at_0_3_0.py` says how).
"""

from __future__ import annotations

import sys
from collections.abc import Sequence
from dataclasses import dataclass

from tests.bench.measured_at_0_3_0 import ROUND
from tests.round_machines import Faults, Machine, machines

CASES = {
    "sound": Faults(),
    "one 3 K off": Faults(drifts_k=(3,)),
    "one 5 K off": Faults(drifts_k=(5,)),
    "one 10 K off": Faults(drifts_k=(10,)),
    "two 10 K off": Faults(drifts_k=(10, 10)),
    "three 10 K off": Faults(drifts_k=(10, 10, 10)),
    "one 5 K off, measured": Faults(drifts_k=(5,), thermometer=True),
    "two 10 K off, measured": Faults(drifts_k=(10, 10), thermometer=True),
    "exchanged": Faults(exchanged=True),
    "exchanged, measured": Faults(exchanged=True, thermometer=True),
    "exchanged, 10 K off": Faults(drifts_k=(10,), exchanged=True),
    "exchanged, 10 K off, open": Faults(drifts_k=(10,), exchanged=True, opens=1),
}
"""Case → its faults; "measured" is with a temperature strapped on in every place."""
SEED = 11


@dataclass(kw_only=True)
class Tally:
    """How often each came out.

    Parameters
    ----------
    named, drifted : int
        Drifted sensors, and those of them that stand out or are suspicious.
    told, decidable : int
        The same where a majority of their place is sound, or a thermometer stands there.
    narrow_named, narrow : int
        The same again of those whose machine allows 2.5 K at most.
    both, pairs : int
        Machines of two drifted ones that can be decided, and those where both are named.
    alike : int
        Of the rest those where exchanged plugs would read the same, and are listed.
    accused, sound : int
        Sound sensors, and those of them that are named.
    groups : int
        Places said to fall into two groups, which is honest and not counted as found.
    exchange_sure, exchange_listed, exchange_shows : int
        Exchanged pairs that show: named, listed among what may be, and all.
    exchange_wrong : int
        Machines where another pair only is surely exchanged.
    """

    named: int = 0
    drifted: int = 0
    decidable_named: int = 0
    decidable: int = 0
    narrow_named: int = 0
    narrow: int = 0
    both: int = 0
    pairs: int = 0
    alike: int = 0
    accused: int = 0
    sound: int = 0
    groups: int = 0
    exchange_sure: int = 0
    exchange_listed: int = 0
    exchange_shows: int = 0
    exchange_wrong: int = 0

    def add(self, machine: Machine) -> None:
        """Count one machine."""
        named = machine.named
        decidable = {name for name in machine.drifted if machine.majority(name)}
        narrow = {name for name in decidable if machine.allows_k(name) <= 2.5}
        self.drifted += len(machine.drifted)
        self.named += len(machine.drifted & named)
        self.decidable += len(decidable)
        self.decidable_named += len(decidable & named)
        self.narrow += len(narrow)
        self.narrow_named += len(narrow & named)
        # Two that drifted by what their places differ read as two exchanged plugs do.
        alike = decidable & {name for pair in machine.answer.exchanged for name in pair}
        if len(decidable) > 1 and decidable == machine.drifted:
            self.alike += bool(alike) and not decidable <= named
            self.pairs += 1
            self.both += decidable <= named
        sound = {row.sensor for row in machine.answer.rows} - machine.faulty
        self.sound += len(sound)
        self.accused += len(sound & named)
        self.groups += sum(place.outcome == "split" for place in machine.answer.places)
        pairs = [set(pair) for pair in machine.answer.exchanged]
        sure = machine.answer.exchanged_sure
        listed = machine.pair is not None and set(machine.pair) in pairs
        if machine.pair and machine.pair_shows:
            self.exchange_shows += 1
            self.exchange_sure += sure and listed
            self.exchange_listed += listed
        self.exchange_wrong += sure and not listed

    def words(self) -> str:
        """Return the row of the table."""
        shares = (
            (self.named, self.drifted),
            (self.decidable_named, self.decidable),
            (self.narrow_named, self.narrow),
            (self.both, self.pairs),
            (self.both, self.pairs - self.alike),
            (self.accused, self.sound),
            (self.exchange_sure, self.exchange_shows),
            (self.exchange_listed, self.exchange_shows),
        )
        percents = [100 * part / whole if whole else None for part, whole in shares]
        return f"{row_of((*percents, self.exchange_wrong))}  {self.groups:4}"


def row_of(cells: Sequence[float | None]) -> str:
    """Return shares in % and, last, the count of wrong pairs as they stand in the table."""
    *percents, wrong = cells
    words = ["    -" if percent is None else f"{percent:5.1f}" for percent in percents]
    return "  ".join([*words, f"{wrong:3}"])


def tally(faults: Faults, *, count: int, meter: str, seed: int = SEED) -> Tally:
    """Return how so many machines with these faults came out."""
    counted = Tally()
    for machine in machines(faults, count=count, meter=meter, seed=seed):
        counted.add(machine)
    return counted


def main(count: int) -> None:
    """Print the table for a good meter and for one from the pocket."""
    heads = "drifted  of which a majority tells (allowed 2.5 K)  all of several, less what exchanged plugs read too  sound accused  "
    print(heads + "pair that shows: sure, listed; wrong pair; places in two groups")
    for meter in ("bench-meter", "pocket-meter"):
        print(f"\n{meter}, {count} machines each, in %; the last two are counts")
        for name, faults in CASES.items():
            print(f"{name:26} {tally(faults, count=count, meter=meter).words()}", flush=True)
            print(f"{'before':>26} {row_of(ROUND[meter][name])}", flush=True)


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 400)
