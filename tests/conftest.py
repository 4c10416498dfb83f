"""What all tests share: one chromium, the marks that part quick tests from slow, a clean checkout."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from pathlib import Path

import pytest

from generators import chart_cache
from generators.chart import ChartData
from tests.checkout import left_behind, snapshot
from tests.scheduling import RoomScheduling

TOP = Path(__file__).resolve().parents[1]
CHROMIUM = "/usr/bin/chromium"
FLAGS = ["--no-sandbox", "--disable-gpu", "--disable-background-networking"]

BROWSER_FIXTURES = {"papers", "printed_stickers", "browser", "host"}
"""A test that asks for one of these drives chromium or nginx."""
BUILD_FIXTURES = {"releases", "of_old_notes", "pockets", "published", "wide", "german"}
"""A test that asks for one of these waits for a build of the whole demo."""
BUILDING = (
    "tests/generators/test_build.py",
    "tests/generators/test_command.py",
    "tests/release/test_pack.py",
)
"""Files whose tests build whole notes, or start the program as a shell does."""
SLOW = {
    "test_every_rule_has_a_bad_entry_that_breaks_it",
    "test_without_its_guard_the_comparison_has_the_published_risks_and_with_it_far_less",
}
"""Tests that compute for ten seconds."""


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Mark each test by where it stands and what it asks for; `tests/run quick` leaves those out."""
    for item in items:
        fixtures = set(getattr(item, "fixturenames", ()))
        path = item.path.relative_to(TOP).as_posix()
        if BROWSER_FIXTURES & fixtures:
            item.add_marker("browser")
        elif path in BUILDING or BUILD_FIXTURES & fixtures or _opens_demo(path, fixtures):
            item.add_marker("builds")
        if getattr(item, "originalname", item.name) in SLOW:
            item.add_marker("slow")


@pytest.hookimpl(optionalhook=True)
def pytest_xdist_make_scheduler(config: pytest.Config, log: object) -> RoomScheduling:
    """Share the tests out among the workers."""
    return RoomScheduling(config, log)


def _opens_demo(path: str, fixtures: set[str]) -> bool:
    # Other rooms call a folder of two pages `site`.
    return path.startswith("tests/site/") and "site" in fixtures


class CleanCheckout:
    """Fails a run that left something in the folder of the program, whatever its tests say."""

    def __init__(self) -> None:
        self._before = snapshot(TOP)
        self._left: list[str] = []

    def pytest_sessionfinish(self, session: pytest.Session) -> None:
        """Compare, once all tests are done."""
        self._left = left_behind(self._before, after=snapshot(TOP))
        if self._left and session.exitstatus == pytest.ExitCode.OK:
            session.exitstatus = pytest.ExitCode.TESTS_FAILED

    def pytest_terminal_summary(self, terminalreporter: pytest.TerminalReporter) -> None:
        """Name what was left."""
        if self._left:
            terminalreporter.section("left in the checkout: tests write to tmp_path only")
            for path in self._left:
                terminalreporter.write_line(path)


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter) -> None:
    """Print below the tests what was tried on a phone and how it ended."""
    tried = [
        value
        for reports in terminalreporter.stats.values()
        for report in reports
        for name, value in getattr(report, "user_properties", ())
        if name == "tried" and report.when == "call"
    ]
    if tried:
        terminalreporter.section("releases on a phone: what was tried, how it ended")
    for fault, outcome in tried:
        terminalreporter.write_line(f"{fault:<58} {outcome}")


def pytest_configure(config: pytest.Config) -> None:
    """Watch the checkout from the process that starts the others."""
    if not hasattr(config, "workerinput"):
        config.pluginmanager.register(CleanCheckout(), "clean-checkout")


@pytest.fixture(scope="session", autouse=True)
def charts_drawn_once() -> Iterator[Callable[[Sequence[ChartData]], Iterator[str]]]:
    """Draw a chart of the same data once: some eighty builds of these tests want the same few.

    What is drawn is held by the tests that call `draw_chart`, by every build of a new process, and
    by those that ask for `charts_drawn_anew`. Yields what draws.
    """
    drawn: dict[ChartData, str] = {}
    draw = chart_cache._drawn

    def remembered(missing: Sequence[ChartData]) -> Iterator[str]:
        new = [data for data in missing if data not in drawn]
        drawn.update(zip(new, draw(new), strict=True))
        return iter([drawn[data] for data in missing])

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(chart_cache, "_drawn", remembered)
        yield draw


@pytest.fixture()
def charts_drawn_anew(
    charts_drawn_once: Callable[[Sequence[ChartData]], Iterator[str]],
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Let every build of a test draw its charts."""
    monkeypatch.setattr(chart_cache, "_drawn", charts_drawn_once)


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
