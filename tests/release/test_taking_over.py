"""A newer worker takes over at once, and what happens in one window is seen in the other."""

from __future__ import annotations

import time
from collections.abc import Callable, Iterator

import pytest

from tests.release.page_scripts import TAP
from tests.release.scripted_host import ScriptedHost
from tests.release.small_releases import LETTING_GO, SmallRelease, small_releases
from tests.release.walking_phone import WalkingPhone, Window

Seen = dict[str, object]
PATIENCE_S = 20.0
OLD, NEW, NEWER = 1, 2, 3
FREED = "Read from the host for now"


@pytest.fixture(scope="module")
def small(tmp_path_factory: pytest.TempPathFactory) -> dict[int, SmallRelease]:
    """Return five releases of the starter's bare notes."""
    return small_releases(tmp_path_factory.mktemp("small"))


@pytest.fixture
def walking(
    browser: object, small: dict[int, SmallRelease]
) -> Iterator[tuple[ScriptedHost, WalkingPhone]]:
    """Return a host of the first release, and a phone that has it."""
    host = ScriptedHost(small)
    phone = WalkingPhone(browser, url=host.url)
    phone.windows[0].go("index.html")
    until(phone, phone.windows[0], lambda seen: "Complete on this phone." in seen["line"])
    yield host, phone
    phone.close()
    host.stop()


def until(phone: WalkingPhone, window: Window, holds: Callable[[Seen], bool]) -> Seen:
    """Return what is seen of a window as soon as something holds."""
    ends = time.monotonic() + PATIENCE_S
    while True:
        seen = phone.seen(window, spoilt=[], typed=[])
        if seen and holds(seen):
            return seen
        assert time.monotonic() < ends, seen and (seen["line"], seen["news"], seen["workers"])
        window.page.wait_for_timeout(50)


def check(window: Window) -> None:
    """Tap on Check now."""
    assert window.ask(TAP, words="[data-ohm-check]")


def test_no_question_keeps_a_worker_that_goes(
    walking: tuple[ScriptedHost, WalkingPhone], small: dict[int, SmallRelease]
) -> None:
    host, phone = walking
    window = phone.windows[0]
    phone.spoil(sorted(phone.seen(window, spoilt=[], typed=[])["kept"]), content="garbage")
    host.publish(NEWER)
    # A page that is gone brings the first page from the host, which has a newer release.
    window.go("codes/example-e1.html")
    window.go("index.html")
    taken = lambda seen: seen["workers"] == ["", "", small[NEWER].worker]  # noqa: E731
    until(phone, window, taken)
    assert "Complete on this phone." in until(phone, window, lambda seen: seen["by"])["line"]


def test_what_one_window_brought_the_other_offers(
    walking: tuple[ScriptedHost, WalkingPhone], small: dict[int, SmallRelease]
) -> None:
    host, phone = walking
    phone.windows.append(Window(phone))
    first, second = phone.windows
    second.go("which.html")
    for number in (NEW, NEWER):
        host.publish(number)
        check(first)
        name = small[number].name
        offers = lambda seen, name=name: (seen["state"]["ready"] or {}).get("name") == name  # noqa: E731
        until(phone, second, offers)


def test_a_window_that_was_let_go_hears_that_another_keeps_the_notes_again(
    walking: tuple[ScriptedHost, WalkingPhone],
) -> None:
    host, phone = walking
    phone.windows.append(Window(phone))
    first, second = phone.windows
    second.go("which.html")
    host.publish(LETTING_GO)
    check(first)
    until(phone, first, lambda seen: seen["workers"] == [""] * 3)
    for window in phone.windows:
        window.go("which.html")
        until(phone, window, lambda seen: FREED in seen["line"])
    host.publish(NEW)
    first.go("index.html")
    until(phone, first, lambda seen: "Complete on this phone." in seen["line"])
    until(phone, second, lambda seen: FREED not in seen["line"])
