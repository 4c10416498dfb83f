"""Install a release over a slow line that breaks, and say how long that takes and what it costs.

    python -m tests.bench.bench_slow_line [--bytes-per-s 4000] [--breaks-after-s 20] [--limit-s 600]

A release of the bare beginner's notes, all answers together at that pace, the line cut each time after so long.
The limit ends what would never end: "before" is what a checkout of an older version says.
"""

from __future__ import annotations

import argparse
import shutil
import tempfile
import time
from pathlib import Path

from playwright.sync_api import sync_playwright

from generators.publish.pack import pack
from tests.conftest import CHROMIUM, FLAGS
from tests.release.host import Host
from tests.release.phones import Phone

STARTER = Path(__file__).resolve().parents[2] / "kb/starter"

SAVES_DATA = "Object.defineProperty(navigator, 'connection', {value: {saveData: true}});"


def main() -> None:
    """Print one line: how it ended, seconds, bytes, requests."""
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("--bytes-per-s", type=float, default=4000)
    asked.add_argument("--breaks-after-s", type=float, default=20)
    asked.add_argument("--limit-s", type=float, default=600)
    asked.add_argument("--no-ranges", action="store_true")
    options = asked.parse_args()
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as started:
        notes = Path(shutil.copytree(STARTER, Path(folder) / "notes"))
        packed = pack(notes, to=Path(folder) / "release", after=0)
        host = Host(Path(folder) / "host")
        host.publish(packed.to)
        host.start()
        host.knows_ranges = not options.no_ranges
        browser = started.chromium.launch(executable_path=CHROMIUM, args=FLAGS)
        phone = Phone(browser, host.url)
        # The first page is there, and asks before it downloads: what is slow is the copy.
        phone.context.add_init_script(SAVES_DATA)
        phone.open()
        phone.until(lambda state: state["wanted"])
        host.bytes_per_s = options.bytes_per_s
        host.forget()
        breaks_at = time.monotonic() + options.breaks_after_s
        phone.page.evaluate("() => { Ohm.copy.check(true); }")
        begun, tries, state = time.monotonic(), 0, phone.state()
        while time.monotonic() - begun < options.limit_s:
            if time.monotonic() > breaks_at:
                host.break_line()
                breaks_at += options.breaks_after_s
            state = phone.state()
            whole = state.get("whole")
            if whole and whole["have"] == whole["of"]:
                break
            if state.get("trouble") and not state.get("getting"):
                tries += 1
                phone.page.evaluate("() => { Ohm.copy.check(true); }")
            phone.page.wait_for_timeout(500)
        whole = state.get("whole") or {"have": 0, "of": packed.summary.files}
        pack_file = packed.to / f"releases/{packed.summary.release}/all.pack"
        print(
            f"pack {pack_file.stat().st_size / 1e3:.0f} kB; {whole['have']} of {whole['of']} files "
            f"after {time.monotonic() - begun:.0f} s, {host.bytes_out / 1e3:.0f} kB, "
            f"{len(host.asked)} requests, asked again by hand {tries} times"
        )
        phone.close()
        browser.close()
        host.stop()


if __name__ == "__main__":
    main()
