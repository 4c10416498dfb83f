"""How long Find takes on a phone, beside the stock theme's own search of the same pages: prints only.

Run: python -m tests.bench.bench_find SITE, with SITE a site that was built of many notes:
`python -m tests.bench.many_notes 10000 FOLDER`, then `ohmfolio build --notes FOLDER --out SITE`.
Chromium is slowed down four times. The stock theme's worker is handed the title and the words of
each page, as its index holds them, in one piece a page: less than a stock build makes of it, so its
times are the least that it can take; nothing is drawn of what it finds.
"""

from __future__ import annotations

import contextlib
import gzip
import http.server
import json
import re
import statistics
import sys
import threading
from collections.abc import Iterator
from pathlib import Path

import material
from playwright.sync_api import sync_playwright

from tests.conftest import CHROMIUM, FLAGS

SLOWER = 4
OPENINGS = 5
TYPED = ("k4-2", "outdoor coil", "4 long 2 short", "high pressure", "brenholt e5", "compresor")
_TAG = re.compile(r"<(script|style|svg)\b.*?</\1>|<[^>]*>", re.DOTALL)
_MAIN = re.compile(r"<main\b.*?</main>", re.DOTALL)
_TITLE = re.compile(r"<title>(.*?)</title>", re.DOTALL)

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
_STOCK = """async ([index, typed]) => {
  const begun = performance.now();
  const { docs } = await (await fetch(index)).json();
  const worker = new Worker("worker.js");
  const answer = (type, data, wanted) => new Promise((resolve) => {
    worker.onmessage = ({ data: said }) => { if (said.type === wanted) resolve(said.data); };
    worker.postMessage({ type, data });
  });
  const config = { lang: ["en"], separator: "[\\\\s\\\\-]+", pipeline: ["stopWordFilter"] };
  await answer(0, { config, docs, options: { suggest: false } }, 1);
  const ready = performance.now() - begun;
  const took = [];
  for (const text of typed) {
    for (let end = 1; end <= text.length; end += 1) {
      const start = performance.now();
      await answer(2, text.slice(0, end), 3);
      took.push([text.slice(0, end), performance.now() - start]);
    }
  }
  return { ready, took };
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
        page.wait_for_function("window.OhmFindText !== undefined")
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


def stock_index(site: Path) -> str:
    """Return the pages as the stock theme's index holds them, each in one piece."""
    docs = []
    for path in sorted(site.rglob("*.html")):
        text = path.read_text("utf-8")
        title, main = _TITLE.search(text), _MAIN.search(text)
        docs.append(
            {
                "location": path.relative_to(site).as_posix(),
                "title": title[1] if title else path.stem,
                "text": " ".join(_TAG.sub(" ", main[0] if main else text).split()),
            }
        )
    return json.dumps({"docs": docs})


@contextlib.contextmanager
def _served(files: dict[str, tuple[str, bytes]]) -> Iterator[str]:
    class Handler(http.server.BaseHTTPRequestHandler):
        def do_GET(self) -> None:
            kind, content = files.get(self.path, ("text/html", b"<!doctype html><title>x</title>"))
            self.send_response(200)
            self.send_header("Content-Type", kind)
            self.end_headers()
            self.wfile.write(content)

        def log_message(self, *_: object) -> None:
            pass

    server = http.server.ThreadingHTTPServer(("127.0.0.1", 0), Handler)
    threading.Thread(target=server.serve_forever, daemon=True).start()
    try:
        yield f"http://127.0.0.1:{server.server_port}/"
    finally:
        server.shutdown()


def stock(browser: object, site: Path) -> None:
    """Print when the stock theme's worker has its index, and what each key takes until it answers."""
    assets = Path(material.__file__).parent / "templates/assets/javascripts/workers"
    (script,) = assets.glob("search.*.min.js")
    index = stock_index(site)
    files = {
        "/worker.js": ("text/javascript", script.read_bytes()),
        "/index.json": ("application/json", index.encode()),
    }
    with _served(files) as address:
        context = browser.new_context()
        page = _slowed(context)
        page.goto(address)
        found = page.evaluate(_STOCK, ["index.json", TYPED])
        context.close()
    _shown("stock theme's worker", [found["ready"]], found["took"])
    print(f"  its index: {len(gzip.compress(index.encode(), 9)) / 1e3:.0f} kB compressed")
    print("  The browser slows the page down and not its worker: the worker ran at full speed.")


def main(site: Path) -> None:
    with sync_playwright() as started:
        browser = started.chromium.launch(executable_path=CHROMIUM, args=FLAGS)
        own(browser, site)
        stock(browser, site)
        browser.close()


if __name__ == "__main__":
    main(Path(sys.argv[1]))
