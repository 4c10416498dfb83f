"""A line that breaks inside one long file goes on in that file, also after the page was closed.

The host offers ranges, or does not know them. `bench_slow_line` measures a line of 4 kB/s.
"""

from __future__ import annotations

from collections import Counter

from generators.publish.pack import Packed
from tests.release.host import Host
from tests.release.phones import Phone, whole

CUT = 60_000
"""Less than the pack, and less than the longest file as it travels."""
KEPT = "async () => Array.from(await Ohm.keptRelease.all())"


def _begun(browser: object, host: Host, release: Packed) -> Phone:
    host.publish(release.to)
    host.start()
    return Phone(browser, host.url)


def test_a_pack_that_breaks_off_again_and_again_comes_in_one_piece(
    browser: object, host: Host, of_old_notes: Packed
) -> None:
    phone = _begun(browser, host, of_old_notes)
    pack = of_old_notes.to / f"releases/{of_old_notes.summary.release}/all.pack"
    host.bytes_per_s, host.cuts_after = 300_000, CUT
    phone.open()
    phone.until(whole)
    asked = [path for path in host.asked if path.endswith("all.pack")]
    # From where it broke, each time: an answer that breaks off has its head too. A page that was
    # busy while all of an answer came loses it with the line, and may ask for that part once more.
    assert len(asked) == len(host.begun_at) + 1
    assert host.begun_at == sorted(host.begun_at)
    begun = Counter(host.begun_at)
    assert len(begun) >= pack.stat().st_size // CUT
    assert max(begun.values()) <= 2
    assert not [path for path in host.asked if path.startswith("codes/")]
    assert phone.errors == []
    phone.close()


def test_what_came_before_the_page_was_closed_is_not_asked_again(
    browser: object, host: Host, of_old_notes: Packed
) -> None:
    phone = _begun(browser, host, of_old_notes)
    host.bytes_per_s = 60_000
    phone.open()
    for _ in range(100):
        if any(name.startswith("part-") for name in phone.ask(KEPT) or []):
            break
        phone.page.wait_for_timeout(100)
    host.forget()
    host.bytes_per_s = None
    phone.cold_start()
    phone.until(whole)
    assert len(host.begun_at) == 1 and host.begun_at[0] >= 16384
    assert [name for name in phone.ask(KEPT) if name.startswith("part-")] == []
    phone.close()


def test_a_host_that_knows_no_ranges_still_gives_all(
    browser: object, host: Host, of_old_notes: Packed
) -> None:
    phone = _begun(browser, host, of_old_notes)
    host.knows_ranges = False
    host.bytes_per_s, host.cuts_after = 300_000, CUT
    phone.open()
    phone.until(whole)
    assert host.begun_at
    assert phone.mixed(every=7) == []
    phone.close()
