"""What is kept on a phone is looked at again, and nothing takes over that cannot answer."""

from __future__ import annotations

import json
import time
from collections.abc import Callable
from pathlib import Path

from tests.release.conftest import Release
from tests.release.host import Host
from tests.release.phones import Phone, whole
from tests.release.test_faults import by_itself, changed_copy, stands, worker_of

Tell = Callable[[str, str], None]
Releases = dict[int, Release]

SPOIL = """async ([kind, mark]) => {
  const store = await caches.open('ohmfolio ' + Ohm.keptRelease.scope);
  const list = await Ohm.keptRelease.list(Ohm.release.name);
  const path = Ohm.keptRelease.scope + '.kept/';
  const name = kind === 'list' ? 'list-' + Ohm.release.name
    : kind === 'serving' ? kind : list.files[kind];
  await store.put(path + name, new Response(mark));
}"""
PLACES = 4
"""A worker is cut at so many places, the first of them before its first byte."""


def news(release: Release, **fields: object) -> bytes:
    """Return what the host says of this release, with fields changed, or without those of None."""
    said = json.loads((release.folder / "newest.json").read_bytes()) | fields
    return json.dumps({key: value for key, value in said.items() if value is not None}).encode()


def test_a_worker_that_is_cut_takes_nothing_over(
    phone: Phone, host: Host, releases: Releases, tmp_path: Path, tell: Tell
) -> None:
    old, new = releases[1], releases[2]
    worker = (new.folder / "worker.js").read_bytes()
    for place in range(PLACES):
        cut = worker[: len(worker) * place // PLACES]
        files = {"worker.js": cut, worker_of(new): cut}
        host.publish(changed_copy(new, tmp_path / f"cut-{place}", **files))
        assert phone.check()["trouble"] == "damaged"
        by_itself(phone)
        # Half of an upload over the folder that stands: the old worker's place is not touched.
        host.publish(changed_copy(old, tmp_path / f"old-{place}", **{"worker.js": cut}))
        phone.check()
        by_itself(phone)
    host.kill()
    stands(phone, old)
    host.start()
    host.publish(new.folder)
    phone.check()
    phone.until(lambda state: state["ready"])
    stands(phone, new)
    tell(f"a worker cut at {PLACES} places", "refused each time, old release whole without a host")


def test_garbage_in_the_store_is_never_shown_and_comes_anew(
    phone: Phone, host: Host, releases: Releases, tell: Tell
) -> None:
    page = "codes/quellmark-k1-1.html"
    phone.cold_start()
    phone.page.evaluate(SPOIL, [page, "<h1>garbage</h1>"])
    host.kill()
    phone.open(page)
    assert "garbage" not in phone.page.content()
    assert "missing on this phone" in phone.page.content()
    phone.open()
    state = phone.until(lambda state: state["whole"])
    assert state["whole"]["have"] == state["whole"]["of"] - 1
    # What nobody has opened is found by the next check.
    phone.page.evaluate(SPOIL, ["sensors/quellmark-air-out.html", "garbage"])
    host.start()
    phone.check()
    phone.until(whole)
    for kind in ("list", "serving"):
        phone.page.evaluate(SPOIL, [kind, "{garbage"])
        phone.open()
        phone.check()
        phone.until(whole)
        host.publish(releases[2].folder)
        phone.check()
        phone.until(lambda state: state["ready"] or state["release"] == releases[2].name)
        host.publish(releases[1].folder)
    host.publish(releases[2].folder)
    host.kill()
    stands(phone, releases[2], every=1)
    assert phone.errors == []
    tell("garbage in a page, the list, the mark of what is served", "never shown; whole again")


def test_a_window_says_that_a_piece_is_gone_as_soon_as_it_is_known(
    phone: Phone, host: Host
) -> None:
    page = "codes/quellmark-k1-1.html"
    phone.cold_start()
    state = phone.until(whole)
    phone.page.evaluate(SPOIL, [page, "<h1>garbage</h1>"])
    host.kill()
    other = phone.open(page, page=phone.tab())
    assert "missing on this phone" in other.content()
    of = state["whole"]["of"]
    phone.until(lambda state: state["whole"] == {"have": of - 1, "of": of})
    assert f"{of - 1} of {of} on this phone." in phone.words("[data-ohm-status-line]")


def test_news_that_are_forged_or_short_take_no_phone_back(
    phone: Phone, host: Host, releases: Releases, tmp_path: Path, tell: Tell
) -> None:
    host.publish(releases[2].folder)
    phone.check()
    phone.until(lambda state: state["ready"])
    phone.use(releases[2].name)
    for name, forged in {
        "number": news(releases[1], number=99),
        "date": news(releases[1], number=2, date="2026-12-31"),
        "name": b'{"name": "../x", "number": 99}',
        "list": b"[]",
    }.items():
        host.publish(changed_copy(releases[1], tmp_path / name, **{"newest.json": forged}))
        state = phone.check()
        assert (state["trouble"] or state["hostOlder"]) and not state["ready"], name
    stands(phone, releases[2])
    host.publish(
        changed_copy(
            releases[2], tmp_path / "short", **{"newest.json": news(releases[2], offline=None)}
        )
    )
    assert not phone.check()["freed"]
    assert "Complete on this phone." in phone.words("[data-ohm-status-line]")
    host.publish(releases[3].folder)
    phone.check()
    phone.until(lambda state: state["ready"])
    tell(
        "four forged news, one without `offline`", "the newer release stands, and the next is taken"
    )


SLOW = """async () => {
  // A line of 4 kB/s: a piece each second, for longer than a host may keep silent.
  const ask = fetch;
  window.fetch = async () => {
    let left = 25;
    return new Response(new ReadableStream({ async pull(line) {
      if (!left--) { line.close(); return; }
      await new Promise((done) => { setTimeout(done, 1000); });
      line.enqueue(new TextEncoder().encode('x'.repeat(4000)));
    } }, { highWaterMark: 0 }));
  };
  try { return (await Ohm.bytes('long')).length; } catch (failed) { return failed.message; } finally {
    window.fetch = ask;
  }
}"""


def test_a_long_file_arrives_on_a_slow_line(phone: Phone) -> None:
    phone.page.clock.install(time=time.time())
    phone.page.evaluate("(text) => { window.arriving = eval('(' + text + ')')(); }", SLOW)
    for _ in range(30):
        phone.page.clock.run_for(1000)
    assert phone.page.evaluate("() => window.arriving") == 100_000


def test_use_now_in_another_window_loses_nothing_that_is_typed(
    phone: Phone, host: Host, releases: Releases, tell: Tell
) -> None:
    curve = phone.open("curves/ntc-10k-3435.html", page=phone.tab())
    sensor = phone.open("sensors/quellmark-air-out.html", page=phone.tab())
    host.publish(releases[2].folder)
    phone.check()
    phone.until(lambda state: state["ready"])
    curve.fill('[data-calc="both-ways"] [name="reading"]', "8.2k")
    said = curve.inner_text('[data-calc="both-ways"] output')
    sensor.evaluate("() => { document.querySelector('#stand-at').closest('details').open = true; }")
    sensor.wait_for_selector("#stand-at:visible")
    sensor.fill("#stand-at", "7")
    phone.use(releases[2].name)
    for page in (curve, sensor):
        phone.until(lambda state: state["release"] == releases[2].name, page=page)
    curve.wait_for_function(
        "(said) => document.querySelector('form output').innerText === said", arg=said
    )
    assert curve.input_value('[data-calc="both-ways"] [name="reading"]') == "8.2k"
    sensor.wait_for_selector("#stand-at:visible")
    assert sensor.input_value("#stand-at") == "7"
    assert "stands for 7.0 °C" in sensor.inner_text('[data-calc="stand-in"] output').replace(
        "\u00a0", " "
    )
    assert phone.errors == []
    tell("use now, with a curve's form and the stand-in form open elsewhere", "all typed is there")
