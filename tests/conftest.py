"""One chromium for every test that opens a page: Playwright allows one at a time in a process."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

CHROMIUM = "/usr/bin/chromium"
FLAGS = ["--no-sandbox", "--disable-gpu", "--disable-background-networking"]


@pytest.fixture(scope="session")
def browser() -> Iterator[object]:
    """Debian's chromium, started once."""
    playwright = pytest.importorskip("playwright.sync_api")
    if not Path(CHROMIUM).exists():
        pytest.skip(f"no {CHROMIUM}: tests/run installs it")
    with playwright.sync_playwright() as started:
        launched = started.chromium.launch(executable_path=CHROMIUM, args=FLAGS)
        yield launched
        launched.close()
