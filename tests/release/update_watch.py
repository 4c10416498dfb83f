"""A phone of the team and its host, and what must hold of both whatever happened."""

from __future__ import annotations

import time

from tests.release.scripted_host import ScriptedHost
from tests.release.small_releases import LETTING_GO, SmallRelease
from tests.release.update_truth import (
    Broken,
    Published,
    garbage_in,
    hold_offer,
    hold_shown,
    hold_words,
)
from tests.release.walking_phone import Stuck, WalkingPhone, Window

Seen = dict[str, object]
MOMENT_S = 10.0
"""What is under way may end within it."""


class Watched:
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
        self.of_host: set[int] = set()
        """Windows without a worker: the phone's first worker takes them over, once it has its own."""
        self.shown: dict[int, int] = {}
        """The number of the release that each window showed last."""
        self.checked: int | None = None
        """The window that has just asked the host by a tap."""
        self.faulty_updates = 0

    def close(self) -> None:
        """Throw both away."""
        self.phone.close()
        self.host.stop()

    def hold(self) -> None:
        """Hold everything that must hold after any step."""
        before = self._sight(self.phone.windows[0])
        # A phone that was let go within this step shows what the host gives already.
        self.unkept |= bool(before) and not self._serves(before)
        served_whole = False
        for window in list(self.phone.windows):
            seen = self._sight(window)
            self._hold_shown(window, seen=seen)
            if seen is None:
                if not (self.unkept or self.lost or self.host.number == LETTING_GO):
                    raise Broken("dark", words=f"nothing came to {window.page.url}")
                continue
            self._hold_typed(window, seen=seen, typed=self.typed.get(id(window), {}))
            if seen["release"]:
                self._hold_words(window, seen=seen)
            served_whole |= self._serves(seen)
            if seen["release"]:
                self.shown[id(window)] = int(seen["release"]["number"])
            (self.of_host.discard if seen["by"] else self.of_host.add)(id(window))
        self.unkept = not served_whole
        if self.unkept:
            # A phone that has nothing takes what the host has.
            self.highest = 0

    def _sight(self, window: Window) -> Seen | None:
        """Return what can be seen of a window once it is still."""
        typed = self.typed.get(id(window), {})
        try:
            return self.phone.seen(window, spoilt=sorted(self.lost), typed=list(typed))
        except Stuck as never:
            raise Broken("stuck", words=str(never)) from never

    def _serves(self, seen: Seen) -> bool:
        """Whether the worker has the list of what it serves."""
        active = seen["workers"][2].removeprefix("worker-").removesuffix(".js")
        return bool(seen["lists"].get(active))

    def _hold_shown(self, window: Window, *, seen: Seen | None) -> None:
        loads, window.loads = window.loads[:-1], window.loads[-1:]
        for load in [*loads, *window.loads]:
            held, load.held = load.held, True
            # With a piece missing the first page is asked of the host.
            unkept = self.unkept or (bool(self.lost) and load.path == "index.html")
            of = hold_shown(load, published=self.published, lost=self.lost, unkept=unkept)
            load.answers = load.answers[:1]
            if of is None or load is not (window.loads or [None])[-1] or seen is None:
                continue
            release = seen["release"]
            if release and release["number"] not in of:
                raise Broken("mixed", words=f"{load.path} of {of} says it is {release['number']}")
            # A window that stays open while another one goes on shows what it showed before.
            if release and not unkept and not held:
                self._hold_no_way_back(int(release["number"]))
        # A script that is missing on the phone is missed by those beside it.
        if window.errors and not self.unkept and not self.lost:
            raise Broken("garbage", words=f"a script failed: {window.errors}")
        window.errors.clear()

    def _hold_no_way_back(self, number: int) -> None:
        if number < self.highest:
            raise Broken("mixed", words=f"taken back from {self.highest} to {number}")
        self.highest = number

    def _overtaken(self, window: Window) -> bool:
        """Whether another window shows the host's newer release: the phone's own was gone then."""
        others = [self.shown.get(id(each), 0) for each in self.phone.windows if each is not window]
        return max(others, default=0) > self.shown.get(id(window), 0)

    def _hold_typed(self, window: Window, *, seen: Seen, typed: dict[str, object]) -> None:
        before = self.marks.get(id(window))
        self.marks[id(window)] = seen["mark"]
        if before is not None and before != seen["mark"]:
            self.fresh.add(id(window))
            # What somebody asked for by a tap is forgotten with the page.
            self.checked = None if self.checked == id(window) else self.checked
            if not (self.may_reload or id(window) in self.of_host or self._overtaken(window)):
                raise Broken("taken over", words=f"{seen['href']} was loaded again by itself")
        elif before is None:
            self.fresh.add(id(window))
        for (selector, value), found in zip(typed.items(), seen["typed"], strict=True):
            # The newer release may have no such page.
            if found != value and not (found is None and not seen["release"]):
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
        # A window knows what it heard itself, whatever another one was told since.
        said = self.host.said_by(seen["state"]["checked"])
        held = {"published": self.published, "said": said, "fresh": fresh, "lost": self.lost}
        untrue = list(hold_words(seen, **held))
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

    def _leaves(self, window: Window) -> None:
        """What was typed there was left by whoever went elsewhere."""
        self.typed.pop(id(window), None)
        self.marks.pop(id(window), None)
