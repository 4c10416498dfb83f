"""What a build costs beside stock site builders, in one run: prints only.

Run: python -m tests.bench.bench_build [ENTRIES] [--hugo PROGRAM] [--growth], by default 2,000 entries.
Notes come from `many_notes`. Seconds are those of all processors together, and then those on the
clock: our build uses two cores where there are two, the stock builders one. Memory is the most that
all processes of a builder hold together (what they share counted once), sampled ten times a second.
`--growth` builds five times as many as well. The stock builders get the same pages as Markdown with front matter around the same
blocks, without charts: mkdocs with mkdocs-material, its search and `navigation.prune`; hugo, where its
program is named, with a theme of two lines. Each figure is the median of its runs.
"""

from __future__ import annotations

import argparse
import filecmp
import math
import resource
import shutil
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from generators.make import make_site
from generators.plan import plan_site
from generators.release.coming_release import coming_release
from generators.site_context import SiteContext
from kb.catalog import Catalog
from kb.notes.load import load_notes
from kb.writer import write_folder
from tests.bench.many_notes import write_many_notes

RUNS = 3
BIN = Path(sys.executable).parent
STOCK = """site_name: Stock
docs_dir: pages
site_dir: site
use_directory_urls: false
theme: {name: material, font: false, features: [navigation.prune]}
plugins: [search]
markdown_extensions: [admonition, attr_list, tables]
"""
PLAIN = "<!doctype html><title>{{ .Title }}</title><h1>{{ .Title }}</h1>{{ .Content }}"
PLAIN_TOML = """baseURL = "https://example.org/"
disableKinds = ["taxonomy", "term", "RSS", "sitemap"]
[markup.goldmark.renderer]
unsafe = true
"""


@dataclass(frozen=True)
class Cost:
    """What one run took."""

    seconds: float
    """Of processor, both cores together."""
    on_the_clock: float
    megabytes: float


def cost(words: Sequence[str | Path], *, cwd: Path) -> Cost:
    """Run a program to its end; its children count too."""
    before, began, most = _used(), time.monotonic(), 0.0
    quiet = subprocess.DEVNULL
    running = subprocess.Popen(list(map(str, words)), cwd=cwd, stdout=quiet, stderr=quiet)
    while running.poll() is None:
        most = max(most, _held_by(running.pid))
        time.sleep(0.1)
    if running.returncode:
        raise subprocess.CalledProcessError(running.returncode, running.args)
    return Cost(_used() - before, time.monotonic() - began, most)


def _used() -> float:
    """Return the processor seconds of every program that ended so far."""
    used = resource.getrusage(resource.RUSAGE_CHILDREN)
    return used.ru_utime + used.ru_stime


def _held_by(pid: int) -> float:
    """Return the megabytes that a process and its children hold, as Linux shares them out."""
    process = Path("/proc", str(pid))
    try:
        lines = (process / "smaps_rollup").read_text().splitlines()
        children = (process / "task" / str(pid) / "children").read_text().split()
    except OSError:
        return 0.0
    kilobytes = sum(int(line.split()[1]) for line in lines if line.startswith("Pss:"))
    return kilobytes / 1024 + sum(_held_by(int(child)) for child in children)


def median(costs: Sequence[Cost]) -> Cost:
    """Return the median of each figure."""
    return Cost(
        statistics.median(each.seconds for each in costs),
        statistics.median(each.on_the_clock for each in costs),
        statistics.median(each.megabytes for each in costs),
    )


def stock_pages(notes: Path) -> dict[str, str]:
    """Return every page as the stock builders take it in, without charts."""
    context = SiteContext(Catalog(load_notes(notes)))
    plan = plan_site(context.notes)
    coming = coming_release(context, history=[], pages=plan.pages)
    return make_site(context, plan, charts={}, curves={}, coming=coming).pages


def stock_cost(pages: dict[str, str], *, folder: Path) -> Cost:
    """Return what mkdocs with mkdocs-material takes."""
    write_folder(folder, {"mkdocs.yml": STOCK, **{f"pages/{p}": pages[p] for p in pages}})
    return cost([BIN / "mkdocs", "build", "--quiet"], cwd=folder)


def hugo_cost(pages: dict[str, str], *, folder: Path, program: Path) -> Cost:
    """Return what hugo takes."""
    files = {
        "hugo.toml": PLAIN_TOML,
        "layouts/_default/single.html": PLAIN,
        "layouts/_default/list.html": PLAIN,
        "layouts/index.html": PLAIN,
    }
    # A folder's list is a page of its own name there, and front matter is not the same.
    content = {f"content/{path.replace('index.md', '_index.md')}": pages[path] for path in pages}
    write_folder(folder, {**files, **content})
    return cost([program, "--quiet"], cwd=folder)


def own_cold(notes: Path, *, out: Path) -> Cost:
    """Return what our first build takes: nothing is kept, every chart is drawn."""
    shutil.rmtree(notes / ".build", ignore_errors=True)
    shutil.rmtree(out, ignore_errors=True)
    return own(notes, out=out)


def own(notes: Path, *, out: Path) -> Cost:
    """Return what our build takes as things stand."""
    return cost([BIN / "ohmfolio", "build", "--notes", notes, "--out", out], cwd=notes)


def edited(notes: Path, *, run: int) -> None:
    """Change one sentence of one sensor."""
    file = sorted((notes / "docs_data/sensors").rglob("*.yaml"))[20 + run]
    text = file.read_text(encoding="utf-8")
    file.write_text(text.replace("place: ", "place: Look well. ", 1), encoding="utf-8")


def same(left: Path, right: Path) -> bool:
    """Return whether two sites hold the same bytes."""
    names = {p.relative_to(left) for p in left.rglob("*") if p.is_file()}
    if names != {p.relative_to(right) for p in right.rglob("*") if p.is_file()}:
        return False
    return all(filecmp.cmp(left / name, right / name, shallow=False) for name in names)


def main() -> None:
    """Print the table."""
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("entries", nargs="?", type=int, default=2000)
    asked.add_argument("--hugo", type=Path, help="hugo's program")
    asked.add_argument("--runs", type=int, default=RUNS)
    asked.add_argument("--growth", action="store_true", help="five times as many as well")
    given = asked.parse_args()
    with tempfile.TemporaryDirectory() as made:
        folder = Path(made)
        notes, out = folder / "notes", folder / "out"
        entries = write_many_notes(given.entries, folder=notes)
        pages = stock_pages(notes)
        print(f"{entries} entries, {len(pages)} pages; medians of {given.runs} runs")
        stock, hugo, cold, once, never = [], [], [], [], []
        for run in range(given.runs):
            stock.append(stock_cost(pages, folder=folder / "stock"))
            if given.hugo:
                hugo.append(hugo_cost(pages, folder=folder / "hugo", program=given.hugo))
            cold.append(own_cold(notes, out=out))
            never.append(own(notes, out=out))
            edited(notes, run=run)
            once.append(own(notes, out=out))
        shutil.copytree(out, folder / "warm")
        own_cold(notes, out=out)
        clean = "the same bytes as a clean build" if same(out, folder / "warm") else "OTHER BYTES"
        base, first = median(stock), median(cold)
        show("stock mkdocs-material", base, against=base, of="stock")
        if hugo:
            show("hugo, two-line theme", median(hugo), against=base, of="stock")
        show("own, cold, charts drawn", first, against=base, of="stock")
        show("own, one entry edited", median(once), against=first, of="own cold")
        show("own, nothing changed", median(never), against=first, of="own cold")
        print(f"after the edits: {clean}")
        if given.growth:
            grown(first, entries=entries, folder=folder)


def grown(small: Cost, *, entries: int, folder: Path) -> None:
    """Print what five times as many entries take, and the exponent of both growths."""
    many = write_many_notes(5 * whole_hundreds(entries), folder=folder / "many")
    large = own_cold(folder / "many", out=folder / "many-out")
    show(f"own, cold, {many} entries", large, against=small, of=f"{entries} entries")
    for name, ratio in (
        ("processor", large.seconds / small.seconds),
        ("clock", large.on_the_clock / small.on_the_clock),
        ("memory", large.megabytes / small.megabytes),
    ):
        print(f"{name}: grows as entries to the {math.log(ratio) / math.log(many / entries):.2f}")


def whole_hundreds(entries: int) -> int:
    """Return how many were asked for: whole families make a few more of them."""
    return entries // 100 * 100


def show(name: str, found: Cost, *, against: Cost, of: str) -> None:
    """Print one row."""
    ratio, clock = found.seconds / against.seconds, found.on_the_clock / against.on_the_clock
    print(
        f"{name:26} {found.seconds:8.2f} s of processor {ratio:7.3f} x, "
        f"{found.on_the_clock:8.2f} s on the clock {clock:7.3f} x {of}, {found.megabytes:6.0f} MB"
    )


if __name__ == "__main__":
    main()
