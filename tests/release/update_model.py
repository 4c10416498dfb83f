"""A phone of the team and its host as a state machine: what may happen, and what holds after it."""

from __future__ import annotations

import random
import time
from collections.abc import Callable

from tests.release.scripted_host import FAULTS, ScriptedHost
from tests.release.small_releases import LETTING_GO, NEWEST, SmallRelease
from tests.release.update_truth import (
    Broken,
    Published,
    garbage_in,
    hold_offer,
    hold_shown,
    hold_words,
    sum_of,
)
from tests.release.walking_phone import ALL, Stuck, WalkingPhone, Window, brief

Seen = dict[str, object]
Step = list[object]
"""What happens, and with which numbers: it can be written down as JSON and done again."""

PAGES = (
    "index.html",
    "sensors/example-suction.html",
    "curves/example-10k.html",
    "codes/example-e1.html",
    "which.html",
    "families/example-unit.html",
    "jobs/example-unit.html",
    "terms/example-over-range.html",
    "codes/example-e2.html",
    "changes.html",
)
PIECES = ("page", "list", "begun", "serving", "everything", "some", "cleared", "worker", "words")
REMEMBERED = ("ohm.checked", "ohm.confirmed", "ohm.seen")
MOMENT_S = 10.0
CHECKS_TO_HEALTH = 3
WAYS_TO_BEGIN = 8

FIELDS = """() => Array.from(document.querySelectorAll('input, select, textarea'), (field, i) => {
  const box = field.getBoundingClientRect();
  if (!box.width || field.disabled || field.readOnly || field.type === 'file') return null;
  field.dataset.walk = field.dataset.walk || '';
  const form = field.closest('[data-calc]');
  if (field.id) return '#' + CSS.escape(field.id);
  if (field.classList.contains('ohm-find-field')) return '.ohm-find-field';
  return form && field.name ? `[data-calc="${form.dataset.calc}"] [name="${field.name}"]` : null;
}).filter(Boolean)"""

TYPE = """([selector, text, choice]) => {
  const field = document.querySelector(selector);
  field.focus();
  if (field.type === 'radio' || field.type === 'checkbox') {
    field.click();
    return field.checked;
  }
  if (field.tagName === 'SELECT') {
    field.selectedIndex = choice % field.options.length;
    ['input', 'change'].forEach((kind) => field.dispatchEvent(new Event(kind, { bubbles: true })));
    return field.value;
  }
  field.select();
  document.execCommand('insertText', false, text);
  return field.value;
}"""

READY = """() => window.Ohm && Ohm.copy && Ohm.copy.state.ready && Ohm.copy.state.ready.name"""

# As a page does that is still loading while another worker takes over.
ASK_ON = """([scope, paths]) => {
  sessionStorage.removeItem('walk');
  navigator.serviceWorker.addEventListener('controllerchange', () => {
    paths.forEach(async (path) => {
      const body = await (await fetch(scope + path)).arrayBuffer();
      const sum = Array.from(new Uint8Array(await crypto.subtle.digest('SHA-256', body)),
        (byte) => byte.toString(16).padStart(2, '0')).join('');
      const heard = JSON.parse(sessionStorage.getItem('walk') || '{}');
      sessionStorage.setItem('walk', JSON.stringify({ ...heard, [path]: sum }));
    });
  });
}"""
HEARD = "() => JSON.parse(sessionStorage.getItem('walk') || '{}')"
CHANGING = ("changes.html", "codes/example-e1.html", "assets/find-index.js")

TAP = """(selector) => {
  const key = Array.from(document.querySelectorAll(selector)).find((one) => !one.hidden);
  if (key) key.click();
  return Boolean(key);
}"""


class World:
    """One phone, one host, and what the model knows of both."""

    def __init__(self, browser: object, *, releases: dict[int, SmallRelease]) -> None:
        self.host = ScriptedHost(releases)
        self.published = Published(releases)
        self.phone = WalkingPhone(browser, url=self.host.url)
        self.lost: set[str] = set()
        self.unkept = True
        """Whether the phone may have to show what the host gives, since it has nothing of its own."""
        self.full = False
        self.highest = 0
        self.typed: dict[int, dict[str, object]] = {}
        self.marks: dict[int, float] = {}
        self.fresh: set[int] = set()
        self.may_reload = False
        self.checked: int | None = None
        """The window that has just asked the host by a tap."""
        self.faulty_updates = 0

    def close(self) -> None:
        """Throw both away."""
        self.phone.close()
        self.host.stop()

    def step(self, step: Step) -> None:
        """Let something happen, and hold all that must hold after it."""
        kind, *numbers = step
        # A phone that is let go loads its pages again, whenever it hears of it.
        self.may_reload = self.unkept or self.host.number == LETTING_GO
        self.checked = None
        ACTIONS[str(kind)](self, *numbers)
        self.hold()

    # What the host does.

    def publish(self, number: int) -> None:
        """Another release stands at the host."""
        self.host.publish(number)

    def fail(self, fault: str, at: int, seed: int) -> None:
        """The host has a fault."""
        self.host.fail(fault, at=at, seed=seed)

    def careless(self, careless: bool) -> None:
        """The host says that everything may be cached."""
        self.host.careless = careless

    # What happens to the phone.

    def lose(self, piece: str, seed: int, garbage: bool) -> None:
        """A piece of what is kept is gone, or is garbage."""
        chance = random.Random(seed)
        content = chance.choice(("", "garbage", "{}", "<h1>garbage</h1>")) if garbage else None
        self.fresh.clear()
        names = self._kept()
        if piece == "cleared":
            self.phone.clear()
        elif piece == "worker":
            self.phone.windows[0].ask(
                "(scope) => navigator.serviceWorker.getRegistration(scope)"
                ".then((found) => found && found.unregister())",
                words=self.phone.url,
            )
        elif piece == "words":
            self.phone.windows[0].ask(
                "([key, words]) => localStorage.setItem(key, words)",
                words=[f"{chance.choice(REMEMBERED)} {self.phone.url}", content or "-1"],
            )
        contents = [name for name in names if len(name) == 64]
        gone = {
            "page": chance.sample(contents, k=1) if contents else [],
            "some": chance.sample(contents, k=len(contents) // 2),
            "everything": names,
        }.get(piece, [name for name in names if name.startswith(piece)])
        self.phone.spoil(gone, content=content)
        self.lost |= {*gone, *(names if piece == "cleared" else ())}
        # A list is held to its name, and the mark of what is served tells of the windows' release.
        self.unkept |= piece in ("list", "everything", "cleared", "worker")
        self.may_reload |= self.unkept

    def fill(self, full: bool) -> None:
        """There is no room on the phone any more, or there is again."""
        self.full = full
        self.phone.room(1000 if full else None)

    def stop(self) -> None:
        """The phone is short of memory and stops the worker."""
        self.phone.stop_workers()

    # What people do.

    def open(self, which: int, page: int) -> None:
        """Open a page in a window."""
        window = self._window(which)
        if window is None:
            return
        self._leaves(window)
        window.go(PAGES[page % len(PAGES)])

    def second(self, page: int) -> None:
        """Open a second window, or close it."""
        windows = self.phone.windows
        if len(windows) == 2:
            window = windows.pop()
            self._leaves(window)
            window.page.close()
            return
        windows.append(Window(self.phone))
        windows[-1].go(PAGES[page % len(PAGES)])

    def cold(self, page: int) -> None:
        """Close everything and open the notes again."""
        for window in self.phone.windows:
            self._leaves(window)
            window.page.close()
        self.phone.windows = [Window(self.phone)]
        self.phone.windows[0].go(PAGES[page % len(PAGES)])

    def check(self, which: int) -> None:
        """Tap on Check now."""
        window = self._window(which)
        self._count()
        self.host.forget()
        heard = self.host.said
        self.host.said = None
        tapped = window is not None and window.ask(TAP, words="[data-ohm-check]")
        if tapped and window is not None:
            self.checked = id(window)
            self.phone.seen(window, spoilt=[], typed=[])
        self.heard = self.host.said
        self.host.said = self.host.said or heard
        self.may_reload |= bool(self.host.said and self.host.said.get("offline") is False)

    def check_in_both(self) -> None:
        """Both windows ask at once."""
        self._count()
        for window in self.phone.windows:
            window.ask(TAP, words="[data-ohm-check]")

    def cut(self, which: int, page: int, ms: int) -> None:
        """Tap on Check now, and go elsewhere while it runs."""
        window = self._window(which)
        if window is None:
            return
        self._count()
        window.ask(TAP, words="[data-ohm-check]")
        window.page.wait_for_timeout(ms)
        self._leaves(window)
        window.go(PAGES[page % len(PAGES)])

    def use(self, which: int) -> None:
        """Tap on Use now."""
        window = self._window(which)
        if window is None:
            return
        seen, shown = self.phone.seen, None
        ready = window.ask(READY)
        if not ready:
            return
        own = self.published.by_name.get(str(window.ask("() => Ohm.release.name")))
        window.ask(ASK_ON, words=[self.phone.url, CHANGING])
        if not window.ask(TAP, words=".ohm-news-ready button"):
            return
        self.may_reload = True
        for _ in range(200):
            shown = seen(window, spoilt=[], typed=[])
            if shown and (shown["release"] or {}).get("name") == ready:
                self._hold_asked_on(window.ask(HEARD) or {}, own=own)
                return
            window.page.wait_for_timeout(20)
        if id(window) not in self.fresh:
            # What was offered is gone since.
            return
        raise Broken("stuck", words=f"tapped on Use now: {ready} is not shown: {brief(shown)}")

    def _hold_asked_on(self, heard: dict[str, str], *, own: SmallRelease | None) -> None:
        """What a page asked for while the workers changed was of its own release."""
        of = {path: own.listed.get(path) for path in heard} if own else heard
        wrong = {path for path, found in heard.items() if found != of[path]}
        if wrong and not self.unkept and not self.lost:
            raise Broken("mixed", words=f"while the workers changed: {sorted(wrong)}")

    def type(self, which: int, field: int, text: int) -> None:
        """Type words into a form, or choose in it."""
        window = self._window(which)
        if window is None:
            return
        fields = window.ask(FIELDS) or []
        if not fields:
            return
        selector = fields[field % len(fields)]
        value = window.ask(TYPE, words=[selector, f"{text % 90 + 1}.5", text])
        self.typed.setdefault(id(window), {})[selector] = value

    # What holds.

    def hold(self) -> None:
        """Hold everything that must hold after any step."""
        served_whole = False
        for window in list(self.phone.windows):
            typed = self.typed.get(id(window), {})
            try:
                seen = self.phone.seen(window, spoilt=sorted(self.lost), typed=list(typed))
            except Stuck as never:
                raise Broken("stuck", words=str(never)) from never
            self._hold_shown(window, seen=seen)
            if seen is None:
                continue
            self._hold_typed(window, seen=seen, typed=typed)
            if seen["release"]:
                self._hold_words(window, seen=seen)
            active = seen["workers"][2].removeprefix("worker-").removesuffix(".js")
            served_whole |= bool(seen["lists"].get(active))
        self.unkept = not served_whole

    def _hold_shown(self, window: Window, *, seen: Seen | None) -> None:
        loads, window.loads = window.loads[:-1], window.loads[-1:]
        for load in [*loads, *window.loads]:
            # With a piece missing the first page is asked of the host.
            unkept = self.unkept or (bool(self.lost) and load.path == "index.html")
            of = hold_shown(load, published=self.published, lost=self.lost, unkept=unkept)
            load.answers = load.answers[:1]
            if of is None or load is not (window.loads or [None])[-1] or seen is None:
                continue
            release = seen["release"]
            if release and release["number"] not in of:
                raise Broken("mixed", words=f"{load.path} of {of} says it is {release['number']}")
            if release and unkept <= self.unkept:
                self._hold_no_way_back(int(release["number"]))
        # A script that is missing on the phone is missed by those beside it.
        if window.errors and not self.unkept and not self.lost:
            raise Broken("garbage", words=f"a script failed: {window.errors}")
        window.errors.clear()

    def _hold_no_way_back(self, number: int) -> None:
        if number < self.highest and not self.unkept:
            raise Broken("mixed", words=f"taken back from {self.highest} to {number}")
        self.highest = number

    def _hold_typed(self, window: Window, *, seen: Seen, typed: dict[str, object]) -> None:
        before = self.marks.get(id(window))
        self.marks[id(window)] = seen["mark"]
        if before is not None and before != seen["mark"]:
            self.fresh.add(id(window))
            if not self.may_reload:
                raise Broken("taken over", words=f"{seen['href']} was loaded again by itself")
        elif before is None:
            self.fresh.add(id(window))
        for (selector, value), found in zip(typed.items(), seen["typed"], strict=True):
            if found != value:
                raise Broken(
                    "typed", words=f"{seen['href']} {selector}: {value!r} became {found!r}"
                )

    def _hold_words(self, window: Window, *, seen: Seen) -> None:
        """Hold the words to be true; what is under way, such as a change of workers, may end first."""
        ends = time.monotonic() + MOMENT_S
        while untrue := self._untrue(window, seen=seen):
            if time.monotonic() > ends:
                words = (
                    f"{untrue}; {seen['line']!r} {seen['news']} {seen['workers']} {seen['state']}"
                )
                raise Broken("untrue", words=words)
            window.page.wait_for_timeout(50)
            now = self.phone.seen(window, spoilt=sorted(self.lost), typed=[])
            seen = now if now and now["release"] else seen
        if id(window) == self.checked:
            self.fresh.add(id(window))

    def _untrue(self, window: Window, *, seen: Seen) -> list[str]:
        if not (seen["release"] and seen["state"]):
            return []
        checked = id(window) == self.checked
        fresh = checked or id(window) in self.fresh
        said = self.host.said
        untrue = list(hold_words(seen, published=self.published, said=said, fresh=fresh))
        return untrue + (self._after_a_check(seen) if checked else [])

    def _after_a_check(self, seen: Seen) -> list[str]:
        trouble = seen["state"]["trouble"]
        untrue = list(hold_offer(seen, published=self.published, heard=self.heard))
        items = [item["text"] for item in seen["news"] if item["kind"] == "trouble"]
        if bool(trouble) != bool(items):
            untrue.append(f"trouble {trouble!r}, and the words are {items}")
        fault = self.host.fault
        if trouble and not fault and not self.full:
            untrue.append(f"the host is well, and there is trouble: {trouble}")
        if trouble == "full" and not self.full:
            untrue.append("there is room")
        if trouble == "missing" and not (self.host.missed or self.lost):
            untrue.append("nothing was missing at the host")
        if trouble == "slow" and fault != "hang":
            untrue.append("the host was not slow")
        if trouble == "host" and self.host.missed and fault in ("no-packs", "no-worker", "half"):
            untrue.append("the host was reached; something was missing there")
        if not trouble and not seen["state"]["hostOlder"] and self.heard:
            own = self.published.by_name.get(str(self.heard["name"]))
            if own and seen["lists"].get(own.name) and garbage_in(seen, release=own):
                untrue.append("checked, and there is garbage in what is kept")
        return untrue

    # Back to health.

    def heal(self) -> None:
        """The host is well and has the newest release: so is the phone, in a few steps."""
        self.publish(NEWEST)
        self.fill(False)
        newest = self.published.releases[NEWEST]
        if self.phone.windows[0].page.url == "about:blank" or not self._runs():
            self.open(0, 0)
            self.hold()
        for _ in range(CHECKS_TO_HEALTH):
            self.may_reload = True
            self.check(0)
            self.hold()
            self.may_reload = True
            self.use(0)
            self.hold()
            seen = self.phone.seen(self.phone.windows[0], spoilt=[], typed=[])
            if seen and seen["release"] and self._healthy(seen):
                self._hold_whole(newest)
                return
            if not (seen and seen["release"]):
                self.open(0, 0)
        raise Broken("stuck", words=f"not well again: {brief(seen)}")

    def _healthy(self, seen: Seen) -> bool:
        newest = self.published.releases[NEWEST]
        return (
            seen["release"]["name"] == newest.name
            and "Complete on this phone." in seen["line"]
            and seen["workers"][1:] == ["", newest.worker]
            and not any(item["kind"] == "trouble" for item in seen["news"])
        )

    def _hold_whole(self, release: SmallRelease) -> None:
        """Without a host every file of the release comes, as it was published."""
        self.host.fail("down")
        window = self.phone.windows[0]
        if not window.ask("() => Boolean(navigator.serviceWorker.controller)"):
            self._leaves(window)
            window.go("index.html")
            self.hold()
        sums = window.ask(ALL, words=[self.phone.url, sorted(release.listed)])
        wrong = {
            path: found for path, found in sums.items() if found != sum_of(release.files[path])
        }
        if wrong:
            raise Broken("mixed", words=f"not as published: {wrong}")
        self.lost.clear()
        self.host.publish(release.number)

    def _runs(self) -> bool:
        return bool(self.phone.windows[0].ask("() => Boolean(window.Ohm && Ohm.copy)"))

    def _window(self, which: int) -> Window | None:
        windows = self.phone.windows
        window = windows[which % len(windows)]
        return window if window.page.url.startswith(self.phone.url) or which == 0 else None

    def _leaves(self, window: Window) -> None:
        """What was typed there was left by whoever went elsewhere."""
        self.typed.pop(id(window), None)
        self.marks.pop(id(window), None)

    def _kept(self) -> list[str]:
        seen = self.phone.seen(self.phone.windows[0], spoilt=[], typed=[])
        return sorted(seen["kept"] or ()) if seen else []

    def _count(self) -> None:
        self.faulty_updates += bool(self.host.fault or self.lost or self.full)


ACTIONS: dict[str, Callable[..., None]] = {
    "publish": World.publish,
    "fail": World.fail,
    "careless": World.careless,
    "lose": World.lose,
    "fill": World.fill,
    "stop": World.stop,
    "open": World.open,
    "second": World.second,
    "cold": World.cold,
    "check": World.check,
    "check in both": World.check_in_both,
    "cut": World.cut,
    "use": World.use,
    "type": World.type,
    "heal": World.heal,
}


def random_step(chance: random.Random) -> Step:
    """Return something that may happen."""
    kind = chance.choices(
        (
            "publish",
            "fail",
            "lose",
            "fill",
            "stop",
            "open",
            "second",
            "cold",
            "check",
            "check in both",
            "cut",
            "use",
            "type",
            "heal",
        ),
        weights=(12, 16, 9, 2, 3, 6, 3, 3, 18, 3, 4, 10, 8, 1),
    )[0]
    page, seed = chance.randrange(len(PAGES)), chance.randrange(10_000)
    which = chance.randrange(2)
    numbers: dict[str, list[object]] = {
        "publish": [chance.choices((1, 2, 3, 4, LETTING_GO), weights=(3, 4, 4, 4, 1))[0]],
        "fail": [chance.choice(FAULTS), chance.randrange(1, 9), seed],
        "lose": [chance.choice(PIECES), seed, chance.random() < 0.5],
        "fill": [chance.random() < 0.6],
        "open": [which, page],
        "second": [page],
        "cold": [page],
        "check": [which],
        "cut": [which, page, chance.choice((0, 5, 20, 60))],
        "use": [which],
        "type": [which, chance.randrange(50), seed],
    }
    return [kind, *numbers.get(kind, [])]
