"""A host in this process whose faults are scripted: each answer can be cut, changed, late or missing."""

from __future__ import annotations

import json
import random
import re
import sys
import threading
import time
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer

from tests.release.small_releases import SmallRelease

PLACE = "/team/"
SIGN_IN = b"<!doctype html><title>Guest network</title><form><input name=room> Sign in</form>"
TYPES = {
    "html": "text/html",
    "js": "text/javascript",
    "css": "text/css",
    "svg": "image/svg+xml",
    "png": "image/png",
    "json": "application/json",
    "webmanifest": "application/manifest+json",
}
SILENT_S = 2.5
"""So long a host that does not answer holds a caller: a phone's patience is shortened below it."""
TRICKLE = 24
"""A slow line brings an answer in so many pieces."""

LATER_FAULTS = ("dies", "cut", "short", "hang")
"""Faults that come at a request of their own, counted from 1."""
FAULTS = (
    "down",
    "error",
    "sign-in",
    "slow",
    *LATER_FAULTS,
    "flip-page",
    "flip-pack",
    "flip-list",
    "flip-worker",
    "no-packs",
    "half",
    "no-worker",
    "worker-cut",
    "worker-older",
    "worker-text",
    "news-number",
    "news-date",
    "news-name",
    "news-worker",
    "news-list",
    "news-garbage",
    "news-short",
)


class Broken(Exception):
    """The line is dropped here."""


class ScriptedHost:
    """Gives out one release with one fault at a time, and remembers what it said."""

    def __init__(self, releases: dict[int, SmallRelease]) -> None:
        self._releases = releases
        self._lock = threading.Lock()
        self.number = self.before = 1
        self.fault, self.at, self.seed = "", 0, 0
        self.careless = False
        """Says that everything may be cached for ten minutes."""
        self.asked: list[str] = []
        self.said: dict[str, object] | None = None
        """The last news that were given out whole and can be read."""
        self._all_said: list[tuple[float, dict[str, object]]] = []
        self.missed = False
        """Whether something was not there since `asked` was emptied."""
        host = self

        class Handler(BaseHTTPRequestHandler):
            protocol_version = "HTTP/1.1"

            def log_message(self, *_words: object) -> None:
                """Say nothing."""

            def do_GET(self) -> None:
                try:
                    host._serve(self)
                except (Broken, OSError):
                    self.close_connection = True

        class Server(ThreadingHTTPServer):
            daemon_threads = True
            request_queue_size = 128

            def handle_error(self, *_caller: object) -> None:
                """A phone that goes elsewhere drops its lines: nothing to tell."""
                if not isinstance(sys.exc_info()[1], OSError):
                    super().handle_error(*_caller)

        self._server = Server(("127.0.0.1", 0), Handler)
        self.url = f"http://127.0.0.1:{self._server.server_port}{PLACE}"
        threading.Thread(target=self._server.serve_forever, args=(0.05,), daemon=True).start()

    @property
    def release(self) -> SmallRelease:
        """What is published."""
        return self._releases[self.number]

    def publish(self, number: int) -> None:
        """Give out another release, without a fault."""
        if number != self.number:
            self.before, self.number = self.number, number
        self.fail("")

    def fail(self, fault: str, *, at: int = 1, seed: int = 0) -> None:
        """Have this fault from now on, at the `at`-th request where it comes at one."""
        with self._lock:
            self.fault, self.at, self.seed = fault, at, seed
            self.forget()

    def forget(self) -> None:
        """Count from nothing again."""
        self.asked, self.missed = [], False

    def stop(self) -> None:
        """Close the door."""
        self._server.shutdown()
        self._server.server_close()

    def _serve(self, caller: BaseHTTPRequestHandler) -> None:
        path = caller.path.partition("?")[0].removeprefix(PLACE) or "index.html"
        with self._lock:
            self.asked.append(path)
            count = len(self.asked)
        fault = self.fault
        if fault in LATER_FAULTS and (count < self.at or (fault != "dies" and count > self.at)):
            fault = ""
        if fault in ("down", "dies"):
            raise Broken
        if fault == "hang":
            time.sleep(SILENT_S)
            raise Broken
        status, body, kind = self._answer(path, fault=fault)
        if fault == "short":
            body = body[: len(body) * (self.seed % 7) // 7]
        if path == "newest.json":
            self._hear(body if fault != "cut" else b"")
        self.missed |= status == 404
        self._send(caller, status=status, body=body, kind=kind, fault=fault)

    def _hear(self, body: bytes) -> None:
        try:
            news = json.loads(body)
            if isinstance(news, dict) and re.fullmatch("[0-9a-f]{12}", str(news.get("name"))):
                self.said = news
                self._all_said.append((time.time() * 1000, news))
        except ValueError:
            return

    def said_by(self, ms: float) -> dict[str, object] | None:
        """Return the news that a page had which heard the host last at that time, since 1970."""
        said = [news for at_ms, news in self._all_said if at_ms <= ms]
        return said[-1] if said else None

    def _answer(self, path: str, *, fault: str) -> tuple[int, bytes, str]:
        kind = TYPES.get(path.rpartition(".")[2], "application/octet-stream")
        if fault == "error":
            return 500, b"oh", "text/plain"
        if fault == "sign-in":
            return 200, SIGN_IN, "text/html"
        body = self._files(path, fault=fault).get(path)
        if body is None:
            return 404, b"no such file", "text/plain"
        body = self._changed(path, body=body, fault=fault)
        if body is None:
            return 404, b"no such file", "text/plain"
        if fault == "worker-text" and path == self.release.worker:
            kind = "text/plain"
        return 200, body, kind

    def _files(self, path: str, *, fault: str) -> dict[str, bytes]:
        coin = random.Random(f"{self.seed} {path}").random()
        number = self.before if fault == "half" and coin < 0.5 else self.number
        return self._releases[number].files

    def _changed(self, path: str, *, body: bytes, fault: str) -> bytes | None:
        is_worker = path in ("worker.js", self.release.worker)
        if fault in ("flip-pack", "no-packs") and path.endswith(".pack"):
            return flipped(body, seed=self.seed) if fault == "flip-pack" else None
        if fault == "flip-list" and path in ("release.json", "assets/release.js"):
            return flipped(body, seed=self.seed)
        if fault == "flip-page" and path.endswith((".html", ".js")) and not is_worker:
            return flipped(body, seed=self.seed)
        if fault == "flip-worker" and is_worker:
            return flipped(body, seed=self.seed)
        if fault == "no-worker" and is_worker:
            return None
        if fault == "worker-cut" and is_worker:
            return body[: len(body) * (self.seed % 7) // 7]
        if fault == "worker-older" and is_worker:
            return self._releases[self.before].files["worker.js"]
        if fault.startswith("news-") and path == "newest.json":
            return self._forged(fault)
        return body

    def _forged(self, fault: str) -> bytes:
        news = dict(self._releases[min(self.before, self.number)].newest)
        if fault == "news-number":
            news["number"] = 99
        if fault == "news-date":
            news = dict(self.release.newest) | {"date": "2027-12-31"}
        if fault == "news-name":
            news = dict(self.release.newest) | {"name": "0123456789ab", "number": 99}
        if fault == "news-worker":
            news = dict(self.release.newest) | {"worker": "0" * 64}
        if fault == "news-short":
            news = {key: news[key] for key in ("name", "number", "date")}
        text = {"news-list": "[]", "news-garbage": "{garbage"}.get(fault)
        return (text or json.dumps(news)).encode()

    def _send(
        self, caller: BaseHTTPRequestHandler, *, status: int, body: bytes, kind: str, fault: str
    ) -> None:
        caller.send_response(status)
        caller.send_header("Content-Type", kind)
        caller.send_header("Content-Length", str(len(body)))
        caller.send_header("Cache-Control", "max-age=600" if self.careless else "no-cache")
        caller.end_headers()
        if fault == "cut":
            caller.wfile.write(body[: len(body) * (self.seed % 7) // 7])
            raise Broken
        if fault == "slow" and len(body) > TRICKLE:
            size = len(body) // TRICKLE
            for begin in range(0, len(body), size):
                caller.wfile.write(body[begin : begin + size])
                time.sleep(0.004)
            return
        caller.wfile.write(body)


def flipped(body: bytes, *, seed: int) -> bytes:
    """Return the same bytes with a bit changed in one of them."""
    at = random.Random(seed).randrange(len(body))
    return body[:at] + bytes([body[at] ^ 8]) + body[at + 1 :]
