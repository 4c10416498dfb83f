"""How long a phone takes from keystroke to verdict, and until a page is usable: prints only.

Run: python -m tests.bench.bench_pages SITE, with SITE a built site. Chromium is slowed down four
times, which stands for an older phone.
"""

from __future__ import annotations

import statistics
import sys
import tempfile
from pathlib import Path

from playwright.sync_api import sync_playwright

from tests.conftest import CHROMIUM, FLAGS

SLOWER = 4
KEYSTROKES = 300
OPENINGS = 15
SETTLE_MS = 150
JOBS = (
    ("sensor: verdict", "sensors/quellmark-coil-out.html", '[name="reading"]', "12.{:03d}k"),
    ("sensor: outside", "sensors/quellmark-coil-out.html", '[name="reading"]', "7.{:03d}k"),
    ("round of eight", "families/quellmark-rooftop.html", "#r-quellmark-coil-out", "12.{:03d}k"),
    ("which curve, two fit", "which.html", "#r-1", "10.{:03d}k"),
    ("curve: both ways", "curves/ntc-10k-3435.html", '[name="reading"]', "12.{:03d}k"),
    ("find: blinks", "index.html", ".ohm-find-field", "rooftop flashes {} long 2 short"),
    ("find: a word", "index.html", ".ohm-find-field", "outdoor coil {}"),
    ("curve: stand-ins", "curves/ntc-10k-3435.html", '[name="stand-at"]', "20.{:03d}"),
)

_TIME = """async ([selector, values]) => {
  const input = document.querySelector(selector);
  const took = [];
  for (const value of values) {
    // The verdict is in the page when the event has run; a frame is let go by between two.
    const start = performance.now();
    input.value = value;
    input.dispatchEvent(new Event("input", { bubbles: true }));
    document.body.offsetHeight;
    took.push(performance.now() - start);
    await new Promise(requestAnimationFrame);
  }
  return took;
}"""


def _percentile(values: list[float], share: float) -> float:
    return sorted(values)[min(len(values) - 1, int(share * len(values)))]


def _slow_page(context: object) -> object:
    page = context.new_page()
    context.new_cdp_session(page).send("Emulation.setCPUThrottlingRate", {"rate": SLOWER})
    return page


def _prepare(page: object, path: str) -> None:
    if path.startswith("families/"):
        for field in page.locator('[data-calc="round"] li input').all():
            field.fill("12k")
    if path == "which.html":
        page.locator("#t-1").fill("25")


def main(site: Path) -> None:
    """Print one line per job: keystroke to verdict, laid out, and time until usable."""
    with sync_playwright() as started:
        browser = started.chromium.launch(executable_path=CHROMIUM, args=FLAGS)
        context = browser.new_context(viewport={"width": 390, "height": 844})
        print(f"{KEYSTROKES} keystrokes, {OPENINGS} openings from file://, {SLOWER} times slower")
        print("Own work: what the page itself costs its thread at full speed; other work on the")
        print("machine lengthens the rest and not this.")
        print(
            f"{'':22} {'keystroke to verdict':>28} {'usable, tapped':>18}"
            f" {'usable, new tab':>18} {'own work':>9}   ms"
        )
        print(f"{'':22} {'median':>10} {'99 %':>8} {'most':>8}" + f" {'median':>9} {'most':>8}" * 2)
        for name, path, selector, pattern in JOBS:
            page = _slow_page(context)
            page.goto((site / path).as_uri())
            _prepare(page, path)
            values = [pattern.format(i) for i in range(KEYSTROKES)]
            typed = page.evaluate(_TIME, [selector, values])
            page.close()
            tapped, cold = _tapped_ms(context, site, path), _cold_ms(context, site / path)
            work = statistics.median(_own_work_ms(context, site / path) for _ in range(OPENINGS))
            print(
                f"{name:22} {statistics.median(typed):10.2f} {_percentile(typed, 0.99):8.2f}"
                f" {max(typed):8.2f} {statistics.median(tapped):9.0f} {max(tapped):8.0f}"
                f" {statistics.median(cold):9.0f} {max(cold):8.0f} {work:9.0f}"
            )
        with tempfile.NamedTemporaryFile("w", suffix=".html") as empty:
            empty.write("<!doctype html><title>Empty</title>")
            empty.flush()
            cold = _cold_ms(context, Path(empty.name))
        print(f"an empty page, in a new tab: {statistics.median(cold):.0f} ms")
        browser.close()


def _usable_ms(page: object, path: Path) -> float:
    """All deferred scripts have run when DOMContentLoaded ends: every form answers then."""
    page.wait_for_timeout(SETTLE_MS)
    page.goto(path.as_uri())
    return page.evaluate(
        "() => performance.getEntriesByType('navigation')[0].domContentLoadedEventEnd"
    )


def _tapped_ms(context: object, site: Path, path: str) -> list[float]:
    """As a phone opens it from a link: a tab that shows the site already."""
    page = _slow_page(context)
    took = []
    for _ in range(OPENINGS):
        page.goto((site / "index.html").as_uri())
        took.append(_usable_ms(page, site / path))
    page.close()
    return took


def _cold_ms(context: object, file: Path) -> list[float]:
    """In a process of the browser's that has shown nothing yet: its own start counts too."""
    took = []
    for _ in range(OPENINGS):
        page = _slow_page(context)
        took.append(_usable_ms(page, file))
        page.close()
    return took


def _own_work_ms(context: object, path: Path) -> float:
    """Processor time of the page's thread from opening to loaded, not slowed down."""
    page = context.new_page()
    session = context.new_cdp_session(page)
    session.send("Performance.enable", {"timeDomain": "threadTicks"})
    page.goto(path.as_uri())
    told = {one["name"]: one["value"] for one in session.send("Performance.getMetrics")["metrics"]}
    page.close()
    return 1000 * told["TaskDuration"]


if __name__ == "__main__":
    main(Path(sys.argv[1]))
