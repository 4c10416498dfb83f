"""A phone of the team: Debian's chromium with a store of its own, and what to ask of it."""

from __future__ import annotations

import json
import time
from collections.abc import Callable

PHONE = {"width": 390, "height": 844}
WAIT_S = 40.0

STATE = """async () => {
  if (!globalThis.Ohm || !Ohm.copy) return null;
  const served = navigator.serviceWorker.controller ? navigator.serviceWorker.controller.state : '';
  return { ...Ohm.copy.state, release: Ohm.release.name, number: Ohm.release.number, served };
}"""

# Asks for every file as the page would, and holds each against the list of the page's own release.
MIXED = """async ([some]) => {
  const list = await Ohm.keptRelease.list(Ohm.release.name);
  if (!list) return ['the list of ' + Ohm.release.name + ' is not here'];
  const wrong = [];
  const paths = Object.keys(list.files).filter((path, i) => i % some === 0);
  await Promise.all(paths.map(async (path) => {
    try {
      const told = await fetch(Ohm.keptRelease.scope + path);
      const sum = await Ohm.sumOf(await told.arrayBuffer());
      if (sum !== list.files[path]) wrong.push(path + ' ' + told.status);
    } catch (lost) { wrong.push(path + ' lost'); }
  }));
  return wrong;
}"""


class Phone:
    """One phone, and the pages that are open on it."""

    def __init__(self, browser: object, url: str) -> None:
        self.context = browser.new_context(viewport=PHONE, device_scale_factor=2)
        self.url = url
        self.errors: list[str] = []
        self.page = self.tab()

    def tab(self) -> object:
        """Open one more page; what goes wrong in its scripts is kept in `errors`."""
        page = self.context.new_page()
        page.on("pageerror", lambda error: self.errors.append(str(error)))
        return page

    def open(self, path: str = "index.html", *, page: object | None = None) -> object:
        """Open a page of the notes."""
        page = page or self.page
        page.goto(self.url + path)
        return page

    def open_when_still(self, path: str = "index.html") -> None:
        """Open a page of the notes, again when one that loads itself got in between."""
        for _ in range(10):
            try:
                self.open(path)
                return
            except Exception as turned_away:
                if "interrupted" not in str(turned_away) and "ABORTED" not in str(turned_away):
                    raise
                self.page.wait_for_timeout(200)
        raise AssertionError(f"{path} did not open: the page before it goes on loading itself")

    def cold_start(self, path: str = "index.html") -> object:
        """Close everything, as a phone does in a pocket, and open the notes again."""
        for page in self.context.pages:
            page.close()
        self.page = self.tab()
        return self.open(path)

    def state(self, page: object | None = None) -> dict[str, object]:
        """Return what the page knows of its copy; empty while it loads."""
        return self.ask(STATE, page=page) or {}

    def ask(self, script: str, *, page: object | None = None) -> object:
        """Return what a script says in the page; None while the page is being loaded again."""
        try:
            return (page or self.page).evaluate(script)
        except Exception as changing:  # the page is being loaded again
            if "navigation" in str(changing) or "destroyed" in str(changing):
                return None
            raise

    def until(
        self, wanted: Callable[[dict[str, object]], object], *, page: object | None = None
    ) -> dict[str, object]:
        """Wait until the state is as wanted, and return it."""
        ends = time.monotonic() + WAIT_S
        while time.monotonic() < ends:
            state = self.state(page)
            if state and wanted(state):
                return state
            (page or self.page).wait_for_timeout(40)
        raise AssertionError(f"not in {WAIT_S} s: {json.dumps(self.state(page))}")

    def install(self) -> dict[str, object]:
        """Open the notes and wait until they are whole here."""
        self.open()
        self.until(whole)
        return self.until(lambda state: not state["getting"] and state["served"])

    def check(self, page: object | None = None) -> dict[str, object]:
        """Ask the host now, and return how that ended."""
        (page or self.page).evaluate("() => Ohm.copy.check(true)")
        return self.state(page)

    def use(self, name: str) -> None:
        """Tap to use the newer release, and wait until this page is of it."""
        self.page.evaluate("() => Ohm.copy.use()")
        self.until(lambda state: state["release"] == name and whole(state))

    def mixed(self, page: object | None = None, *, every: int = 1) -> list[str]:
        """Return whatever does not belong to the page's own release, of every n-th file."""
        return (page or self.page).evaluate(MIXED, [every])

    def words(self, selector: str) -> str:
        """Return what stands there."""
        return self.page.inner_text(selector)

    def close(self) -> None:
        """Throw the phone away."""
        self.context.close()


def whole(state: dict[str, object]) -> bool:
    """True when the page's release is complete on the phone."""
    told = state.get("whole")
    return bool(told) and told["have"] == told["of"]
