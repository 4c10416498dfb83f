"""What a release weighs: first install, one edit, its record. Prints only.

Run: python -m tests.bench.bench_release [ENTRIES], by default 10,000 entries. Notes come from
`many_notes`; one sentence of one sensor is edited between two runs of `pack`.
"""

from __future__ import annotations

import argparse
import tempfile
from pathlib import Path

from generators.publish.pack import pack
from kb.release_format.places import record_path, step_pack_path, whole_pack_path
from tests.bench.bench_build import BIN, cost, edited
from tests.bench.many_notes import write_many_notes


def main() -> None:
    """Print the table."""
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("entries", nargs="?", type=int, default=10_000)
    given = asked.parse_args()
    with tempfile.TemporaryDirectory() as made:
        notes, host = Path(made, "notes"), Path(made, "host")
        entries = write_many_notes(given.entries, folder=notes)
        first = pack(notes, to=host, after=0).summary
        print(f"{entries} entries, {first.pages} pages, {first.bytes / 1e6:.1f} MB of files")
        weigh("first install", host / whole_pack_path(first.release))
        weigh("record", host / record_path(first.release))
        edited(notes, run=0)
        words = [BIN / "ohmfolio", "pack", "--notes", notes, "--to", host]
        second = cost(words, cwd=notes)
        (step,) = host.glob(step_pack_path("*", older=first.release))
        weigh("one edit, for a phone", step)
        weigh("one edit, its record", step.with_name(Path(record_path("a")).name))
        print(
            f"pack after one edit: {second.seconds:.1f} s of processor, "
            f"{second.on_the_clock:.1f} s on the clock, {second.megabytes:.0f} MB"
        )


def weigh(name: str, file: Path) -> None:
    """Print one row."""
    print(f"{name:24} {file.stat().st_size:12,} bytes")


if __name__ == "__main__":
    main()
