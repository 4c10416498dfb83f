"""Whatever happens on the way, a phone has one whole release: the old one, or the new one."""

from __future__ import annotations

import os
import shutil
from collections.abc import Callable
from pathlib import Path

import pytest

from tests.release.conftest import Release
from tests.release.host import Host
from tests.release.phones import Phone, whole

Tell = Callable[[str, str], None]
Releases = dict[int, Release]


COLD_STARTS = 5
"""A window that was just closed may hold the old worker for a moment more."""


def stands(phone: Phone, release: Release, *, every: int = 5) -> None:
    """The phone shows this release, whole, from a cold start, with nothing of another."""
    state: dict[str, object] = {}
    for _ in range(COLD_STARTS):
        phone.cold_start("codes/quellmark-k1-1.html")
        state = phone.until(whole)
        if state["release"] == release.name or not state["ready"]:
            break
    assert state["release"] == release.name
    assert phone.mixed(every=every) == []


def changed_copy(release: Release, to: Path, **files: bytes | None) -> Path:
    """Return a copy of a published folder with files changed, or without those that are None."""
    shutil.copytree(release.folder, to, copy_function=os.link)
    for path, content in files.items():
        (to / path).unlink()
        if content is not None:
            (to / path).write_bytes(content)
    return to


def without_steps(release: Release, to: Path) -> Path:
    """Return a copy that has no pack for phones with an older release: they ask file by file."""
    folder = changed_copy(release, to)
    for step in (folder / "releases" / release.name).glob("*.pack"):
        step.unlink()
    return folder


def worker_of(release: Release) -> str:
    """Return where the worker stands that serves only this release."""
    return f"worker-{release.name}.js"


def by_itself(phone: Phone) -> list[bool]:
    """Let the browser ask for its worker, as it does when it likes; return which it has then."""
    return phone.page.evaluate("""async () => {
      const found = await navigator.serviceWorker.getRegistration();
      await found.update().catch(() => {});
      await new Promise((done) => { setTimeout(done, 300); });
      return [found.active, found.waiting, found.installing].map(Boolean);
    }""")


def test_a_server_killed_at_every_thirtieth_request_of_an_update(
    phone: Phone, host: Host, releases: Releases, tmp_path: Path, tell: Tell
) -> None:
    host.publish(without_steps(releases[4], tmp_path / "no-steps"))
    kills, fetched = 0, []
    while True:
        host.start()
        host.dies_at = 30
        state = phone.check()
        fetched += [one for one in host.asked if one.endswith((".html", ".js"))]
        if not state["trouble"]:
            break
        kills += 1
        assert not state["ready"]
        host.kill()
        stands(phone, releases[1], every=37)
        assert kills < 60
    assert kills >= 3
    # The last request of the last round may have been for the worker, which comes after all else.
    host.start()
    phone.check()
    state = phone.until(lambda state: state["ready"])
    assert state["ready"]["name"] == releases[4].name
    pages = [one for one in fetched if one.startswith(("codes/", "sensors/"))]
    # Six downloads run at once: those of the moment of death are asked again, no others.
    assert len(pages) <= len(set(pages)) + 6 * kills
    host.kill()
    stands(phone, releases[4], every=1)
    assert phone.errors == []
    tell(
        f"server killed at every thirtieth request ({kills} times)",
        f"old release whole each time, new one whole at last; {len(pages)} pages asked, "
        f"{len(set(pages))} needed",
    )


def test_a_tampered_file_and_a_tampered_pack(
    phone: Phone, host: Host, releases: Releases, tmp_path: Path, tell: Tell
) -> None:
    new = releases[4]
    page = (new.folder / "codes/quellmark-k1-1.html").read_bytes()
    step = f"releases/{new.name}/from-{releases[1].name}.pack"
    pack = (new.folder / step).read_bytes()
    broken = pack[:3000] + bytes([pack[3000] ^ 8]) + pack[3001:]
    folder = changed_copy(
        new,
        tmp_path / "tampered",
        **{"codes/quellmark-k1-1.html": page.replace(b"Tie", b"Cut"), step: broken},
    )
    host.publish(folder)
    state = phone.check()
    assert (state["trouble"], state["ready"]) == ("damaged", None)
    stands(phone, releases[1])
    host.publish(new.folder)
    phone.check()
    phone.until(lambda state: state["ready"])
    stands(phone, new)
    tell(
        "a tampered pack, then a tampered file",
        "refused twice, old release whole; honest copy taken",
    )


def test_a_half_uploaded_release(
    phone: Phone, host: Host, releases: Releases, tmp_path: Path, tell: Tell
) -> None:
    old, new = releases[1], releases[4]
    # The wrong order: the news and the list are there, half of the files are not.
    half = changed_copy(new, tmp_path / "half")
    for path in sorted((half / "codes").glob("*.html")) + sorted((half / "sensors").glob("*.html")):
        path.unlink()
        before = old.folder / path.relative_to(half)
        if before.is_file():
            os.link(before, path)
    shutil.rmtree(half / "releases")
    host.publish(half)
    state = phone.check()
    assert state["trouble"] in ("damaged", "host", "missing") and not state["ready"]
    stands(phone, old)
    # The right order: files first. Nothing is announced yet.
    first = changed_copy(new, tmp_path / "first")
    for path in ("release.json", "newest.json", "worker.js", "assets/release.js"):
        (first / path).unlink()
        os.link(old.folder / path, first / path)
    host.publish(first)
    state = phone.check()
    assert (state["trouble"], state["ready"]) == ("", None)
    stands(phone, old)
    # Everything but the worker: the release is fetched and waits for it.
    old_worker = (old.folder / "worker.js").read_bytes()
    no_worker: dict[str, bytes | None] = {"worker.js": old_worker, worker_of(new): None}
    host.publish(changed_copy(new, tmp_path / "no-worker", **no_worker))
    state = phone.check()
    assert (state["trouble"], state["ready"]) == ("", None)
    stands(phone, old)
    host.publish(new.folder)
    host.forget()
    phone.check()
    phone.until(lambda state: state["ready"])
    asked = [one.partition("?")[0] for one in host.asked]
    # The page asks for the worker's text, the browser for the worker; of the old one it may ask too.
    assert asked[0] == "newest.json"
    assert asked.count(worker_of(new)) >= 2
    assert set(asked) <= {"newest.json", worker_of(new), worker_of(old)}
    stands(phone, new)
    tell("half uploaded: list first / files first / no worker", "old release whole each time")


def test_a_browser_that_asks_by_itself_finds_no_other_worker(
    phone: Phone, host: Host, releases: Releases, tmp_path: Path
) -> None:
    old, new = releases[1], releases[4]
    for number, held in enumerate((b"", b"// nothing", (new.folder / "worker.js").read_bytes())):
        host.publish(changed_copy(old, tmp_path / str(number), **{"worker.js": held}))
        assert by_itself(phone) == [True, False, False]
        assert phone.check()["trouble"] == ""
    # The folder was swapped for that of the new release: the old worker's place is empty.
    host.publish(new.folder)
    assert by_itself(phone) == [True, False, False]
    host.kill()
    stands(phone, old)


def test_a_full_disk(phone: Phone, host: Host, releases: Releases, tell: Tell) -> None:
    session = phone.context.new_cdp_session(phone.page)
    origin = host.url.split("/team/")[0]
    session.send("Storage.overrideQuotaForOrigin", {"origin": origin, "quotaSize": 1000})
    host.publish(releases[4].folder)
    state = phone.check()
    assert (state["trouble"], state["ready"]) == ("full", None)
    assert "There is no room on this phone" in phone.words("[data-ohm-news]")
    assert phone.mixed(every=5) == []
    session.send("Storage.overrideQuotaForOrigin", {"origin": origin})
    phone.check()
    phone.until(lambda state: state["ready"])
    stands(phone, releases[4])
    tell("a full disk", "said so, old release whole; taken when there was room")


def test_two_tabs_download_once_and_change_together(
    phone: Phone, host: Host, releases: Releases, tell: Tell
) -> None:
    other = phone.open("sensors/quellmark-air-out.html", page=phone.tab())
    host.publish(releases[4].folder)
    host.forget()
    for page in (phone.page, other):
        page.evaluate("() => { Ohm.copy.check(true); }")
    for page in (phone.page, other):
        phone.until(lambda state: state["ready"], page=page)
    assert sum("from-" in one for one in host.asked) == 1
    for page in (phone.page, other):
        assert phone.state(page)["release"] == releases[1].name
        assert phone.mixed(page, every=9) == []
    phone.use(releases[4].name)
    phone.until(lambda state: state["release"] == releases[4].name and whole(state), page=other)
    for page in (phone.page, other):
        assert phone.mixed(page, every=9) == []
    assert "X29" in other.inner_text("#ohm-main")
    tell("two tabs", "one download; no silent takeover; both change on one tap")


def test_a_tap_while_a_page_still_asks_for_files(
    phone: Phone, host: Host, releases: Releases, tell: Tell
) -> None:
    host.publish(releases[4].folder)
    phone.check()
    phone.until(lambda state: state["ready"])
    page = phone.page
    # The new worker hands out files from here on, and this page has not been loaded again yet.
    page.evaluate("""() => {
      sessionStorage.setItem('told', '[]');
      const own = `"name":"${Ohm.release.name}"`;
      const ask = async (i) => {
        const text = await (await fetch(`${Ohm.keptRelease.scope}assets/release.js?${i}`)).text();
        const told = JSON.parse(sessionStorage.getItem('told'));
        sessionStorage.setItem('told', JSON.stringify(told.concat(text.includes(own))));
      };
      navigator.serviceWorker.addEventListener('controllerchange', () => {
        for (let i = 0; i < 20; i++) ask(i);
      });
      Ohm.copy.use();
    }""")
    phone.until(lambda state: state["release"] == releases[4].name)
    told = page.evaluate("() => JSON.parse(sessionStorage.getItem('told'))")
    assert told and all(told)
    tell("a page that loads during the change", f"{len(told)} answers, all of its own release")


@pytest.mark.parametrize("lost", ["everything", "some contents", "the list"])
def test_an_evicted_cache(
    phone: Phone, host: Host, releases: Releases, tell: Tell, lost: str
) -> None:
    phone.cold_start()
    phone.page.evaluate(
        """async (lost) => {
      const kept = Ohm.keptRelease;
      if (lost === 'everything') return kept.forget();
      const store = await caches.open('ohmfolio ' + kept.scope);
      for (const one of await store.keys()) {
        const gone = lost === 'the list' ? one.url.includes('list-') : /[0-9a-f]{63}[02468a]$/.test(one.url);
        if (gone) await store.delete(one);
      }
    }""",
        lost,
    )
    # Without a signal: the old page is not mixed with anything; what is gone says so.
    host.kill()
    if lost == "some contents":
        missing = phone.mixed()
        assert missing and {one.rpartition(" ")[2] for one in missing} == {"503"}
    host.start()
    phone.open("codes/quellmark-k1-1.html")
    phone.check()
    phone.until(whole)
    host.kill()
    stands(phone, releases[1])
    tell(f"evicted: {lost}", "whole again at the next check")


def test_a_rolled_back_host(phone: Phone, host: Host, releases: Releases, tell: Tell) -> None:
    host.publish(releases[3].folder)
    phone.check()
    phone.until(lambda state: state["ready"])
    phone.use(releases[3].name)
    host.publish(releases[2].folder)
    state = phone.check()
    assert state["hostOlder"] and not state["ready"] and not state["trouble"]
    assert "The host has an older one" in phone.words("[data-ohm-status-line]")
    stands(phone, releases[3])
    host.publish(releases[4].folder)
    phone.check()
    phone.until(lambda state: state["ready"])
    stands(phone, releases[4])
    tell("a rolled-back host", "the phone keeps its newer release, and takes the next one")


def test_a_server_that_never_answers(
    phone: Phone, host: Host, releases: Releases, tell: Tell
) -> None:
    host.publish(releases[2].folder)
    host.hangs_on = "newest.json"
    phone.page.clock.install()
    phone.page.evaluate("() => { Ohm.copy.check(true); }")
    phone.page.wait_for_timeout(200)
    phone.page.clock.fast_forward(21_000)
    assert phone.until(lambda state: state["trouble"])["trouble"] == "slow"
    stands(phone, releases[1])
    tell("a server that never answers", "given up after 20 s, old release whole")


def test_the_kill_switch_frees_a_phone_and_a_fresh_install_works_after_it(
    phone: Phone, host: Host, releases: Releases, tell: Tell
) -> None:
    host.publish(releases[5].folder)
    phone.check()
    left = """async () => [(await navigator.serviceWorker.getRegistrations()).length,
      (await caches.keys()).length]"""
    # The freed page loads itself again: a question that falls into that has no answer yet, and what
    # is opened at that moment is turned away.
    seen = None
    for _ in range(200):
        phone.page.wait_for_timeout(50)
        seen = phone.ask(left)
        if seen == [0, 0]:
            break
    assert seen == [0, 0]
    phone.open_when_still()
    state = phone.check()
    assert state["freed"] and state["served"] == ""
    assert "Read from the host for now" in phone.words("[data-ohm-status-line]")
    back = releases[4].folder
    host.publish(back)
    phone.open("index.html?again")
    phone.check()
    # The browser's own cache may still give an older page, as this host tells it to.
    phone.until(lambda state: whole(state) or state["ready"])
    host.kill()
    stands(phone, releases[4])
    tell("the kill switch", "worker and store gone; a fresh install works after it")
