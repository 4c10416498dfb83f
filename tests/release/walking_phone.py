"""A phone whose time runs fast, and everything that can be seen of it: what it shows, keeps and says."""

from __future__ import annotations

import time
from dataclasses import dataclass, field

PHONE = {"width": 390, "height": 844}
PATIENCE_S = 90.0
"""No state that is waited for takes so long, on a machine that is busy with other things."""
STILL_S = 0.03
CHANGING_S = 2.0
"""So long a window may hear nothing yet of a worker that took over."""

QUICK = """(() => {
  // A phone's patience with a silent host is shortened, and what it does is counted.
  const later = window.setTimeout;
  const sooner = { 20000: 1500 };
  window.setTimeout = (what, ms, ...more) => later.call(window, what, sooner[ms] || ms, ...more);
  window.walk = { mark: Math.random(), pending: 0 };
  document.addEventListener('DOMContentLoaded', () => {
    const copy = window.Ohm && Ohm.copy;
    if (!copy) return;
    const check = copy.check;
    copy.check = (forced) => {
      walk.pending++;
      const run = check.call(copy, forced);
      const done = () => { walk.pending--; };
      run.then(done, done);
      return run;
    };
  });
})();"""

# Everything that can be known of a window and of what is kept, in one answer.
SEEN = """async ([scope, spoilt, typed]) => {
  if (!navigator.serviceWorker) return { nothing: true };
  const copy = window.Ohm && Ohm.copy;
  const seen = { href: location.href, ready: document.readyState, mark: window.walk && walk.mark,
    pending: window.walk ? walk.pending : 0, release: window.Ohm && Ohm.release || null,
    state: copy ? copy.state : null, kept: null, lists: {}, sums: {}, serving: null };
  const text = (selector) => (document.querySelector(selector) || { innerText: '' }).innerText;
  seen.line = text('[data-ohm-status-line]');
  seen.short = text('[data-ohm-release]');
  seen.news = Array.from(document.querySelectorAll('[data-ohm-news] > *'),
    (item) => ({ kind: item.className.replace('ohm-news-', ''), text: item.innerText }));
  seen.plain = copy ? '' : document.body ? document.body.innerText.slice(0, 200) : '';
  seen.typed = typed.map((selector) => {
    const field = document.querySelector(selector);
    return field && (field.type === 'radio' || field.type === 'checkbox' ? field.checked : field.value);
  });
  const found = await navigator.serviceWorker.getRegistration(scope);
  seen.workers = ['installing', 'waiting', 'active'].map((at) => found && found[at]
    ? found[at].scriptURL.split('/').pop().split('?')[0] : '');
  const by = navigator.serviceWorker.controller;
  seen.by = by ? by.scriptURL.split('/').pop().split('?')[0] : '';
  const STORE = 'ohmfolio ' + scope;
  if (!(await caches.has(STORE))) return seen;
  const sum = async (body) => Array.from(new Uint8Array(await crypto.subtle.digest('SHA-256', body)),
    (byte) => byte.toString(16).padStart(2, '0')).join('');
  const store = await caches.open(STORE);
  const read = async (name) => {
    const there = await store.match(scope + '.kept/' + name);
    return there && there.arrayBuffer();
  };
  seen.kept = (await store.keys()).map((one) => one.url.slice((scope + '.kept/').length));
  await Promise.all(seen.kept.filter((name) => name.startsWith('list-')).map(async (name) => {
    const body = await read(name);
    seen.lists[name.slice(5)] = Boolean(body) && (await sum(body)).startsWith(name.slice(5));
  }));
  await Promise.all(spoilt.map(async (name) => {
    const body = await read(name);
    if (body) seen.sums[name] = await sum(body);
  }));
  return seen;
}"""

ALL = """async ([scope, paths]) => {
  const sums = {};
  await Promise.all(paths.map(async (path) => {
    try {
      const answer = await fetch(scope + path);
      const body = await answer.arrayBuffer();
      const sum = Array.from(new Uint8Array(await crypto.subtle.digest('SHA-256', body)),
        (byte) => byte.toString(16).padStart(2, '0')).join('');
      sums[path] = answer.ok ? sum : String(answer.status);
    } catch (lost) { sums[path] = 'lost'; }
  }));
  return sums;
}"""

SPOIL = """async ([scope, names, content]) => {
  const STORE = 'ohmfolio ' + scope;
  if (!(await caches.has(STORE))) return;
  const store = await caches.open(STORE);
  await Promise.all(names.map((name) => content === null ? store.delete(scope + '.kept/' + name)
    : store.put(scope + '.kept/' + name, new Response(content)).catch(() => {})));
}"""

KINDS_SHOWN = ("document", "script", "stylesheet", "image")


@dataclass
class Document:
    """One page load: the answer that is the page, and what it asked for since."""

    path: str
    answers: list[object] = field(default_factory=list)
    of_host: bool = False
    """Known to be of no release: a phone that had nothing of its own took it from the host."""
    held: bool = False
    """Whether it was looked at before, and only stays open."""


class Window:
    """One open page and what came into it."""

    def __init__(self, phone: WalkingPhone) -> None:
        self._phone = phone
        self.page = phone.context.new_page()
        self.loads: list[Document] = []
        self.errors: list[str] = []
        self.page.on("response", self._heard)
        self.page.on("pageerror", lambda error: self.errors.append(str(error)))

    def _heard(self, answer: object) -> None:
        request = answer.request
        if request.resource_type not in KINDS_SHOWN or not answer.url.startswith(self._phone.url):
            return
        path = answer.url.partition("?")[0].partition("#")[0].removeprefix(self._phone.url)
        if request.is_navigation_request():
            self.loads.append(Document(path or "index.html"))
        if self.loads:
            self.loads[-1].answers.append((path or "index.html", answer))

    def go(self, path: str) -> bool:
        """Open a page; False when nothing came.

        Raises
        ------
        Stuck
            When it neither came nor failed.
        """
        try:
            self.page.goto(self._phone.url + path, timeout=PATIENCE_S * 1000)
        except Exception as failed:
            if "Timeout" in str(failed):
                raise Stuck(f"{path} neither came nor failed") from failed
            return False
        return True

    def ask(self, script: str, *, words: list[object] | None = None) -> object:
        """Return what a script says; None while the page is being loaded again."""
        try:
            return self.page.evaluate(script, words)
        except Exception as changing:
            shown = str(changing)
            if any(sign in shown for sign in ("navigation", "destroyed", "Cannot find context")):
                return None
            raise


class WalkingPhone:
    """A phone with at most two windows."""

    def __init__(self, browser: object, *, url: str) -> None:
        self.url = url
        self.context = browser.new_context(viewport=PHONE)
        self.context.add_init_script(QUICK)
        self.windows = [Window(self)]

    def close(self) -> None:
        """Throw the phone away."""
        self.context.close()

    def developer(self) -> object:
        """Return a line to the browser's own tools."""
        return self.context.new_cdp_session(self.windows[0].page)

    def room(self, size: int | None) -> None:
        """Leave so many bytes on the phone; None: as many as there are."""
        words = {"origin": self.url.split("/team/")[0]}
        if size is not None:
            words["quotaSize"] = size
        self.developer().send("Storage.overrideQuotaForOrigin", words)

    def stop_workers(self) -> None:
        """Stop the worker's process, as a phone does that is short of memory."""
        line = self.developer()
        line.send("ServiceWorker.enable")
        line.send("ServiceWorker.stopAllWorkers")

    def clear(self) -> None:
        """Throw away all that the browser kept for the notes."""
        words = {"origin": self.url.split("/team/")[0], "storageTypes": "all"}
        self.developer().send("Storage.clearDataForOrigin", words)

    def spoil(self, names: list[str], *, content: str | None) -> None:
        """Change what is kept under some names, or throw it away."""
        for window in self.windows:
            if window.page.url.startswith(self.url):
                window.ask(SPOIL, words=[self.url, names, content])
                return

    def seen(
        self, window: Window, *, spoilt: list[str], typed: list[str]
    ) -> dict[str, object] | None:
        """Return what can be seen of a window once it is still; None where there is no page."""
        ends = time.monotonic() + PATIENCE_S
        heard = time.monotonic() + CHANGING_S
        before = None
        while time.monotonic() < ends:
            if not window.page.url.startswith(self.url):
                return None
            seen = window.ask(SEEN, words=[self.url, spoilt, typed])
            if seen and "nothing" in seen:
                # The browser's own page: nothing came.
                return None
            if seen and seen["ready"] == "complete" and not seen["pending"]:
                now = (seen["mark"], seen["workers"], seen["line"], seen["news"], seen["by"])
                changing = seen["by"] and seen["workers"][2] not in ("", seen["by"])
                if now == before and not (changing and time.monotonic() < heard):
                    return seen
                before = now
            else:
                before = None
            window.page.wait_for_timeout(STILL_S * 1000)
        raise Stuck(f"never still: {brief(seen)}")


def brief(seen: dict[str, object] | None) -> dict[str, object]:
    """Return what is worth reading of what was seen."""
    long = ("kept", "release", "sums")
    return {key: value for key, value in (seen or {}).items() if key not in long}


class Stuck(AssertionError):
    """Nothing moves any more."""
