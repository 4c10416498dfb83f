"""A phone of the team and its host as a state machine: what may happen to them."""

from __future__ import annotations

import random
import time
from collections.abc import Callable

from tests.release.page_scripts import ASK_ON, CHANGING, FIELDS, HEARD, READY, TAP, TYPE
from tests.release.small_releases import LETTING_GO, NEWEST, SmallRelease
from tests.release.update_truth import NO_PAGE, Broken, sum_of
from tests.release.update_watch import MOMENT_S, Seen, Watched
from tests.release.walking_phone import ALL, Window, brief

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
CHECKS_TO_HEALTH = 3
WAYS_TO_BEGIN = 8


class World(Watched):
    """What may happen, step by step."""

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
        elif not self._reads():
            pass  # nothing came into the window: no page there can be asked
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
            if shown and self._shows(shown, name=str(ready)):
                self._hold_asked_on(window.ask(HEARD) or {}, own=own)
                return
            window.page.wait_for_timeout(20)
        if id(window) not in self.fresh:
            # What was offered is gone since.
            return
        raise Broken("stuck", words=f"tapped on Use now: {ready} is not shown: {brief(shown)}")

    def _shows(self, seen: Seen, *, name: str) -> bool:
        """Whether a window is of a release, which may have no such page and then says so."""
        if seen["release"]:
            return bool(seen["release"]["name"] == name)
        here = self.published.by_name[name]
        return NO_PAGE in str(seen["plain"]) and seen["by"] == here.worker

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
        typed = self.typed.setdefault(id(window), {})
        typed[selector] = value
        # A form may empty one field as another is filled in.
        now = self.phone.seen(window, spoilt=[], typed=list(typed))
        if now:
            typed.update(zip(typed, now["typed"], strict=True))

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
            seen = self._once_taken_over()
            if seen and seen["release"] and self._healthy(seen):
                self._hold_whole(newest)
                return
            # A page that came from the host, and none of which the host has any more, is left by a tap.
            if not (seen and seen["release"] and seen["by"]):
                self.open(0, 0)
        raise Broken("stuck", words=f"not well again: {brief(seen)}")

    def _once_taken_over(self) -> Seen | None:
        """Return what is seen once no worker waits that was told to take over, or after a moment."""
        ends = time.monotonic() + MOMENT_S
        while True:
            seen = self.phone.seen(self.phone.windows[0], spoilt=[], typed=[])
            waits = seen and seen["workers"][1] and not (seen["state"] or {}).get("ready")
            if not waits or time.monotonic() > ends:
                return seen
            self.phone.windows[0].page.wait_for_timeout(50)

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
        # What an older load was given is not held to what is here now.
        for other in self.phone.windows:
            for load in other.loads:
                load.answers.clear()
        self.host.publish(release.number)

    def _runs(self) -> bool:
        return bool(self.phone.windows[0].ask("() => Boolean(window.Ohm && Ohm.copy)"))

    def _reads(self) -> bool:
        return self.phone.windows[0].page.url.startswith(self.phone.url)

    def _window(self, which: int) -> Window | None:
        windows = self.phone.windows
        window = windows[which % len(windows)]
        return window if window.page.url.startswith(self.phone.url) or which == 0 else None

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
