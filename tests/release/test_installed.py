"""A phone installs in a few requests, works without a signal, and is told what changed for it."""

from __future__ import annotations

import datetime
import threading
from collections.abc import Callable
from pathlib import Path

import pytest

from generators.publish.published import open_copy
from generators.publish.verify import verify
from generators.serve import Watch, make_server
from generators.shown_site import ShownSite
from tests.release.conftest import Release
from tests.release.host import Host, documented_block
from tests.release.phones import Phone, whole

Tell = Callable[[str, str], None]
Releases = dict[int, Release]
MOST_REQUESTS = 12
EDITED_BYTES, ADDED_BYTES = 40_000, 80_000


def test_a_first_install_takes_a_few_requests_and_then_needs_no_server(
    browser: object, host: Host, releases: Releases, tell: Tell
) -> None:
    host.publish(releases[1].folder)
    host.start()
    phone = Phone(browser, host.url)
    phone.open()
    # What the first page itself loads is no part of the install.
    phone.until(whole)
    at = host.asked.index("newest.json")
    asked = [one for one in host.asked[at:] if not one.startswith("assets/")]
    assert len(asked) <= MOST_REQUESTS
    tell(
        "first install",
        f"{len(asked)} requests: {', '.join(asked)}; "
        f"{host.bytes_out / 1e3:.0f} kB with the first page",
    )
    host.kill()
    phone.cold_start()
    assert phone.mixed() == []
    assert "Complete on this phone." in phone.words("[data-ohm-status-line]")
    phone.page.fill(".ohm-find-field", "k2 5")
    phone.page.wait_for_selector(".ohm-find-hit")
    phone.page.press(".ohm-find-field", "Enter")
    phone.page.wait_for_url("**/codes/quellmark-k2-5.html")
    phone.open("curves/ntc-10k-3435.html")
    assert phone.page.locator("svg").count() > 1
    phone.open("sensors/quellmark-air-out.html")
    assert phone.page.locator("input:visible").count() > 1
    for path in sorted((releases[1].folder / "families").glob("*.html")):
        phone.open(f"families/{path.name}")
        assert phone.page.locator("h1").count() == 1
    assert phone.errors == []
    phone.close()


def test_an_update_downloads_little(
    phone: Phone, host: Host, releases: Releases, tell: Tell
) -> None:
    for number, what, most in (
        (2, "one entry edited", EDITED_BYTES),
        (3, "one entry added", ADDED_BYTES),
        (4, "a curve, a plug, and a family's name on all its pages", None),
    ):
        host.publish(releases[number].folder)
        host.forget()
        phone.check()
        phone.until(lambda state: state["ready"])
        tell(f"update: {what}", f"{host.bytes_out / 1e3:.1f} kB in {len(host.asked)} requests")
        assert most is None or host.bytes_out < most
        phone.use(releases[number].name)
    assert phone.mixed() == []


def test_each_phone_is_told_once_what_changed_since_its_own_copy(
    browser: object, host: Host, releases: Releases, tell: Tell
) -> None:
    seen = {}
    for number in (1, 2, 3):
        host.publish(releases[number].folder)
        host.start()
        phone = Phone(browser, host.url)
        phone.install()
        host.publish(releases[4].folder)
        phone.check()
        phone.until(lambda state: state["ready"])
        offer = phone.words("[data-ohm-news]")
        phone.page.click("text=Use now")
        phone.until(lambda state: state["release"] == releases[4].name)
        told = phone.words("[data-ohm-news]")
        count = offer.partition(": ")[2].partition(" about")[0]
        assert count in told and "Since your last copy" in told
        phone.page.click("text=See what changed")
        phone.page.wait_for_url(f"**/changes.html#since-{releases[number].name}")
        seen[number] = phone.words(f"#since-{releases[number].name}")
        assert "Plugs on the roof unit were renamed." in phone.words("#ohm-main")
        phone.open()
        assert phone.page.is_hidden("[data-ohm-news]")
        phone.close()
    for told in seen.values():
        first = told.index("minutes to wait for stored charge is 15 min, not 10 min")
        assert first < told.index("X29")
        assert "plug is X29, not X25" in told
    assert "K9-9" in seen[1] and "K9-9" in seen[2] and "K9-9" not in seen[3]
    assert "Tie both cables" in seen[1] and "Tie both cables" not in seen[2]
    tell("three phones, one, two and three releases behind", "each told its own changes, once")


def test_an_old_copy_says_so_loudly(phone: Phone, host: Host) -> None:
    host.kill()
    phone.page.clock.set_fixed_time(datetime.datetime.now() + datetime.timedelta(days=75))
    phone.open()
    told = phone.words("[data-ohm-news]")
    assert "⚠ This copy is old: it was last known to be the newest 75 days ago." in told


def test_a_young_copy_says_nothing(phone: Phone, host: Host) -> None:
    host.kill()
    phone.page.clock.set_fixed_time(datetime.datetime.now() + datetime.timedelta(days=50))
    phone.open()
    assert phone.page.is_hidden("[data-ohm-news]")


def test_a_clock_behind_the_copy_does_not_silence_the_alarm(phone: Phone, host: Host) -> None:
    host.kill()
    phone.page.clock.set_fixed_time(datetime.datetime(2026, 1, 10, 12))
    phone.open()
    told = phone.words("[data-ohm-news]")
    assert "⚠ How old this copy is cannot be told: this phone's clock says 2026-01-10" in told
    assert "Set the clock, and ask before you rely on it." in told


def test_what_is_shown_while_the_notes_are_written_is_never_called_old(
    browser: object, releases: Releases
) -> None:
    server = make_server(Watch(), shown=ShownSite(releases[1].folder), port=0)
    threading.Thread(target=server.serve_forever, daemon=True).start()
    phone = Phone(browser, f"http://127.0.0.1:{server.server_port}/")
    phone.page.clock.set_fixed_time(datetime.datetime(2027, 6, 1, 12))
    phone.open()
    assert "Shown while the notes are written" in phone.words("[data-ohm-status-line]")
    assert phone.page.is_hidden("[data-ohm-news]")
    phone.close()
    server.shutdown()
    server.server_close()


def test_the_notes_can_be_put_on_a_home_screen(phone: Phone) -> None:
    session = phone.context.new_cdp_session(phone.page)
    manifest = session.send("Page.getAppManifest")
    assert manifest["errors"] == []
    assert manifest["url"] == phone.url + "manifest.webmanifest"
    # A test's window is private, and a private one offers no home screen: that alone may stand.
    errors = session.send("Page.getInstallabilityErrors")["installabilityErrors"]
    assert {one["errorId"] for one in errors} <= {"in-incognito"}


def test_from_a_folder_there_is_no_error_and_no_offer(browser: object, releases: Releases) -> None:
    context = browser.new_context()
    page = context.new_page()
    complaints = []
    page.on("console", lambda message: complaints.append(message.text))
    page.on("pageerror", lambda error: complaints.append(str(error)))
    page.goto((releases[1].folder / "codes/quellmark-k1-1.html").as_uri())
    assert "Read from a folder: whole as it is." in page.inner_text("[data-ohm-status-line]")
    assert page.is_hidden("[data-ohm-check]")
    assert complaints == []
    context.close()


def test_a_published_copy_verifies_over_the_wire_and_a_spoilt_one_does_not(
    host: Host, releases: Releases, tmp_path: Path
) -> None:
    host.publish(releases[2].folder)
    host.start()
    assert verify(open_copy(host.url)).faults == []
    host.publish(releases[5].folder)
    assert verify(open_copy(host.url)).faults == []


@pytest.mark.parametrize("path", ["index.html", "worker.js", "assets/this-copy.js"])
def test_the_documented_server_sends_the_headers_it_promises(
    tmp_path: Path, releases: Releases, path: str
) -> None:
    import urllib.request

    assert "no-cache" in documented_block()
    host = Host(tmp_path / "documented", cache=None)
    host.publish(releases[1].folder)
    host.start()
    try:
        asked = urllib.request.Request(host.url + path, headers={"Accept-Encoding": "gzip"})
        with urllib.request.urlopen(asked, timeout=10) as told:
            assert told.headers["Cache-Control"] == "no-cache"
            assert told.headers["X-Content-Type-Options"] == "nosniff"
            assert told.headers["Content-Encoding"] == "gzip"
    finally:
        host.stop()
