"""What a page costs before anybody touches it: everything that a browser asks for, compressed.

Counted in a browser and not from the page's text: what a script brings by itself is counted too.
"""

from __future__ import annotations

import gzip
from collections.abc import Callable
from functools import cache
from pathlib import Path
from urllib.parse import unquote, urlsplit

import pytest

MOST_BYTES = 75_000
"""A sensor's page, its scripts and styles: ten seconds where a phone has hardly any signal."""
MOST_BYTES_ELSEWHERE = 90_000


QUIET_MS = 100
"""A page that asked for nothing more for so long has all that it brings by itself."""


def _asked(page: object, *, path: Path) -> list[str]:
    """Return the addresses that a page asks for by itself."""
    asked: list[str] = []
    page.on("request", lambda request: asked.append(request.url))
    page.goto(path.as_uri())
    before = 0
    while len(asked) > before:
        before = len(asked)
        page.wait_for_timeout(QUIET_MS)
    return asked


@cache
def _compressed(file: Path) -> int:
    return len(gzip.compress(file.read_bytes(), 9))


def _costs(browser: object, site: Path, *, kind: str, every: int = 1) -> dict[str, dict[str, int]]:
    """Return the compressed size of each file that each page of a kind, or every so many, asks for."""
    costs = {}
    for path in sorted(site.glob(f"{kind}/*.html"))[::every]:
        context = browser.new_context(viewport={"width": 390, "height": 844})
        asked = _asked(context.new_page(), path=path)
        context.close()
        ways = {unquote(urlsplit(url).path) for url in asked if url.startswith("file:")}
        costs[path.relative_to(site).as_posix()] = {
            Path(way).relative_to(site).as_posix(): _compressed(Path(way)) for way in ways
        }
    return costs


@pytest.fixture(scope="module")
def sensor_pages(browser: object, site: Path) -> dict[str, dict[str, int]]:
    found = _costs(browser, site, kind="sensors", every=2)
    return {path: asked for path, asked in found.items() if path != "sensors/index.html"}


def test_no_sensor_page_costs_more_than_a_weak_signal_brings(
    sensor_pages: dict[str, dict[str, int]], record_property: Callable[[str, object], None]
) -> None:
    sums = {path: sum(asked.values()) for path, asked in sensor_pages.items()}
    worst = max(sums, key=lambda path: sums[path])
    median = sorted(sums.values())[len(sums) // 2]
    sizes = f"worst {sums[worst] / 1e3:.1f} kB, median {median / 1e3:.1f} kB"
    record_property("tried", ("first load of a sensor page", sizes))
    assert len(sums) >= 20
    assert sums[worst] <= MOST_BYTES, f"{worst}: {sensor_pages[worst]}"


def test_what_is_wanted_late_does_not_come_with_the_page(
    sensor_pages: dict[str, dict[str, int]],
) -> None:
    for path, asked in sensor_pages.items():
        assert "assets/ohmfolio.css" in asked, path
        assert "assets/find-text.js" not in asked, path
        assert {name for name in asked if name.endswith(".html")} == {path}


def test_families_and_parts_do_not_grow_beside_it(browser: object, site: Path) -> None:
    costs = _costs(browser, site, kind="families") | _costs(browser, site, kind="parts", every=3)
    sums = {path: sum(asked.values()) for path, asked in costs.items()}
    worst = max(sums, key=lambda path: sums[path])
    assert sums[worst] <= MOST_BYTES_ELSEWHERE, f"{worst}: {costs[worst]}"
