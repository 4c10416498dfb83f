"""How long after an entry is saved a page in a browser shows it, on the demo: prints only.

Run: python -m tests.bench.bench_serve. `ohmfolio serve` runs over a copy of the demo; a sensor's page
is open in Chromium while its entry is saved again and again with other words.
"""

from __future__ import annotations

import shutil
import socket
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from playwright.sync_api import sync_playwright

from kb.writer import copy_tree
from tests.conftest import CHROMIUM, FLAGS

ROOT = Path(__file__).resolve().parents[2]
ENTRY = "docs_data/sensors/quellmark-rooftop/quellmark-coil-out.yaml"
PAGE = "sensors/quellmark-coil-out.html"
SAVES = 8


def free_port() -> int:
    """Return a port that nobody listens on."""
    with socket.socket() as there:
        there.bind(("127.0.0.1", 0))
        return int(there.getsockname()[1])


def main() -> None:
    """Print the median, the quickest and the slowest."""
    with tempfile.TemporaryDirectory() as folder:
        notes = Path(folder) / "notes"
        for name in ("docs_data", "content"):
            copy_tree(ROOT / name, notes / name)
        port = free_port()
        program = Path(sys.executable).with_name("ohmfolio")
        words = [program, "serve", "--notes", notes, "--port", str(port)]
        with subprocess.Popen(words, stdout=subprocess.PIPE, text=True) as serving:
            try:
                assert serving.stdout is not None
                if not any("Open" in line for line in serving.stdout):
                    raise SystemExit("serve did not start")
                took_s = saved_to_seen_s(notes / ENTRY, address=f"http://127.0.0.1:{port}/{PAGE}")
            finally:
                serving.terminate()
        print(f"save to reloaded page, {SAVES} saves: median {statistics.median(took_s):.2f} s,")
        print(f"quickest {min(took_s):.2f} s, slowest {max(took_s):.2f} s")
        shutil.rmtree(notes)


def saved_to_seen_s(entry: Path, *, address: str) -> list[float]:
    """Return for each save how long it took until the open page held the new words."""
    text, took_s = entry.read_text(encoding="utf-8"), []
    with sync_playwright() as started:
        browser = started.chromium.launch(executable_path=CHROMIUM, args=FLAGS)
        page = browser.new_page()
        page.goto(address)
        page.wait_for_timeout(500)
        for i in range(SAVES):
            began = time.monotonic()
            entry.write_text(
                text.replace("place: ", f"place: Look {i} times. ", 1), encoding="utf-8"
            )
            page.get_by_text(f"Look {i} times.").first.wait_for(timeout=60_000, state="attached")
            took_s.append(time.monotonic() - began)
            page.wait_for_timeout(300)
        browser.close()
    return took_s


if __name__ == "__main__":
    main()
