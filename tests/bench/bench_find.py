"""How long Find takes on a phone, from key to results laid out: prints only.

Run: python -m tests.bench.bench_find SITE [NOTES], with SITE a site that was built of many notes:
`python -m tests.bench.many_notes 10000 NOTES`, then `ohmfolio build --notes NOTES --out SITE`.
Chromium is slowed down four times; own work is the page's thread alone, at full speed. With NOTES
the stock theme's search stands beside it, over the same pages: there the page's thread is slowed
alone, and not the worker that searches. Ready is when results can be asked for; for the stock
theme, when the first of them are laid out.
"""

from __future__ import annotations

import gzip
import statistics
import sys
import tempfile
import threading
from collections.abc import Iterator
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path

from playwright.sync_api import sync_playwright

from tests.bench.bench_build import stock_cost, stock_pages
from tests.conftest import CHROMIUM, FLAGS

SLOWER = 4
OPENINGS = 5
TYPED = ("k4-2", "outdoor coil", "4 long 2 short", "high pressure", "brenholt e5", "compresor")

_KEYS = """async (typed) => {
  const field = document.querySelector(".ohm-find-field");
  const took = [];
  for (const text of typed) {
    for (let end = 1; end <= text.length; end += 1) {
      const start = performance.now();
      field.value = text.slice(0, end);
      field.dispatchEvent(new Event("input", { bubbles: true }));
      document.body.offsetHeight;
      took.push([text.slice(0, end), performance.now() - start]);
      await new Promise(requestAnimationFrame);
    }
  }
  return took;
}"""


def _slowed(context: object) -> object:
    page = context.new_page()
    context.new_cdp_session(page).send("Emulation.setCPUThrottlingRate", {"rate": SLOWER})
    return page


def _shown(name: str, ready: list[float], keys: list[tuple[str, float]]) -> None:
    times = [ms for _, ms in keys]
    slowest = max(keys, key=lambda key: key[1])
    print(
        f"{name:26} ready {statistics.median(ready):8.0f} ms   a key: median"
        f" {statistics.median(times):7.1f}, most {slowest[1]:7.1f} ms ({slowest[0]!r})"
    )


def own(browser: object, site: Path) -> None:
    """Print when Find is ready, with its index opened, and what each key takes until it is laid out."""
    context = browser.new_context(viewport={"width": 390, "height": 844})
    ready, keys = [], []
    for _ in range(OPENINGS):
        page = _slowed(context)
        page.goto((site / "index.html").as_uri())
        opened = page.evaluate(
            """() => {
              const start = performance.now();
              document.querySelector(".ohm-find-field").focus();
              const opened = performance.now() - start;
              return performance.getEntriesByType("navigation")[0].domContentLoadedEventEnd + opened;
            }"""
        )
        while not page.evaluate(
            "Boolean(window.OhmFindText)"
        ):  # the policy allows no waiting for text
            page.wait_for_timeout(100)
        ready.append(opened)
        keys.append(page.evaluate(_KEYS, TYPED))
        page.close()
    context.close()
    _shown("Find", ready, [(text, statistics.median(ms)) for text, ms in _each(keys)])
    for name in ("find-index.js", "find-text.js"):
        size = len(gzip.compress((site / "assets" / name).read_bytes(), 9))
        print(f"  {name}: {size / 1e3:.0f} kB compressed")


def _each(runs: list[list[tuple[str, float]]]) -> Iterator[tuple[str, list[float]]]:
    """Yield what was typed with its times in all runs but the first, which the browser learns from."""
    for keys in zip(*runs[1:], strict=True):
        yield keys[0][0], [ms for _, ms in keys]


def own_work(browser: object, site: Path) -> None:
    """Print what a key costs the page's thread, in script, style and layout, once all is warm."""
    page = browser.new_page(viewport={"width": 390, "height": 844})
    session = page.context.new_cdp_session(page)
    session.send("Performance.enable", {"timeDomain": "threadTicks"})

    def spent() -> float:
        metrics = {
            one["name"]: one["value"] for one in session.send("Performance.getMetrics")["metrics"]
        }
        return sum(
            metrics[name] for name in ("ScriptDuration", "LayoutDuration", "RecalcStyleDuration")
        )

    page.goto((site / "index.html").as_uri())
    _wait_for_text(page)
    costs = []
    for _ in range(OPENINGS):
        before = spent()
        page.evaluate(_KEYS, TYPED)
        costs.append((spent() - before) * 1e3 / sum(map(len, TYPED)))
    print(f"  own work of a key: first {costs[0]:.1f}, then {statistics.median(costs[1:]):.1f} ms")


def _wait_for_text(page: object) -> None:
    page.evaluate("document.querySelector('.ohm-find-field').focus()")
    while not page.evaluate("Boolean(window.OhmFindText)"):  # the policy allows no text to wait for
        page.wait_for_timeout(100)


_STOCK_FIRST = """async (text) => {
  const field = document.querySelector(".md-search__input");
  field.focus();
  field.value = text;
  field.dispatchEvent(new Event("keyup", { bubbles: true }));
  while (!document.querySelector(".md-search-result__item")) {
    await new Promise(requestAnimationFrame);
  }
  return performance.now();
}"""
_STOCK_KEYS = """async (typed) => {
  const field = document.querySelector(".md-search__input");
  const list = document.querySelector(".md-search-result__list");
  const took = [];
  for (const text of typed) {
    for (let end = 1; end <= text.length; end += 1) {
      const start = performance.now();
      const changed = new Promise((done) => {
        const watch = new MutationObserver(() => { watch.disconnect(); done(true); });
        watch.observe(list, { childList: true, subtree: true });
        setTimeout(() => { watch.disconnect(); done(false); }, 5000);
      });
      field.value = text.slice(0, end);
      field.dispatchEvent(new Event("keyup", { bubbles: true }));
      if (await changed) {
        document.body.offsetHeight;
        took.push([text.slice(0, end), performance.now() - start]);
      }
      await new Promise(requestAnimationFrame);
    }
  }
  return took;
}"""


def stock(browser: object, folder: Path) -> None:
    """Print the same of the stock theme's search, over the pages in a folder that it was built in."""
    handler = partial(Quiet, directory=str(folder / "site"))
    with ThreadingHTTPServer(("127.0.0.1", 0), handler) as server:
        threading.Thread(target=server.serve_forever, daemon=True).start()
        context = browser.new_context(viewport={"width": 390, "height": 844})
        context.set_default_timeout(10 * 60 * 1e3)
        ready, keys = [], []
        for _ in range(2):
            page = _slowed(context)
            page.goto(f"http://127.0.0.1:{server.server_port}/index.html")
            ready.append(page.evaluate(_STOCK_FIRST, TYPED[3]))
            keys.append(dict(page.evaluate(_STOCK_KEYS, TYPED)))
            page.close()
        context.close()
        server.shutdown()
    last = list(keys[-1].items())
    _shown("stock theme's search", ready, last)
    index = folder / "site/search/search_index.json"
    print(f"  its index: {len(gzip.compress(index.read_bytes(), 9)) / 1e3:.0f} kB compressed")


class Quiet(SimpleHTTPRequestHandler):
    """Serves a folder and says nothing."""

    def log_message(self, *_: object) -> None:
        """Stay silent."""


def main(site: Path, notes: Path | None) -> None:
    with sync_playwright() as started:
        browser = started.chromium.launch(executable_path=CHROMIUM, args=FLAGS)
        own(browser, site)
        own_work(browser, site)
        if notes is not None:
            with tempfile.TemporaryDirectory() as folder:
                stock_cost(stock_pages(notes), folder=Path(folder))
                stock(browser, Path(folder))
        browser.close()


if __name__ == "__main__":
    main(Path(sys.argv[1]), Path(sys.argv[2]) if len(sys.argv) > 2 else None)
