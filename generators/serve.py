"""Show the site on this machine while the notes are being written, new after every change."""

from __future__ import annotations

import json
import os
import threading
import time
from collections.abc import Callable, Iterable
from functools import partial
from http import HTTPStatus
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from typing import Any
from urllib.parse import parse_qs, urlsplit

from kb.notes.folder import CONTENT, DATA, DRESS, carried
from kb.release_format.places import WORKER, is_worker

from .pin_moves import MOST_BYTES, answer_move, stranger
from .shown_site import ShownSite

Build = Callable[[ShownSite], str | None]
"""Builds once; returns what is wrong in words, or None when the site is new."""

LIVE = "/_ohmfolio/"
LIVE_FILES = ("live.css", "live.js", "pins.css", "pins.js")
LOOK_AGAIN_S = 0.05
LOOKING_SHARE = 0.1
"""No more of a processor than this goes into looking: at many files, it looks less often."""
HOLD_S = 20.0
_TAGS = "".join(
    f'<link rel="stylesheet" href="{LIVE}{name}">'
    if name.endswith(".css")
    else f'<script defer src="{LIVE}{name}"></script>'
    for name in LIVE_FILES
)
_EMPTY_PAGE = (
    '<!doctype html><html lang="en"><meta charset="utf-8"><title>Not built yet</title>'
    "<body><h1>Not built yet</h1><p>The notes have faults, and there is no older site.</p></body>"
)


class PortTaken(Exception):
    """Another program listens on the port."""


class Watch:
    """What the pages are told: how often the site was built, and what is wrong now."""

    def __init__(self) -> None:
        self._changed = threading.Condition()
        # Begins at the time, so that a page left open by an earlier run learns of this one.
        self.number = time.time_ns()
        self.problem: str | None = None
        self.closed = False

    def built(self, problem: str | None) -> None:
        """Say that a build ended, well or with a problem."""
        with self._changed:
            self.number += 1
            self.problem = problem
            self._changed.notify_all()

    def close(self) -> None:
        """Let everyone go who waits."""
        with self._changed:
            self.closed = True
            self._changed.notify_all()

    def after(self, number: int, *, hold_s: float = HOLD_S) -> dict[str, object]:
        """Return the state, at once when it is not `number`, else at the next change or in time."""
        with self._changed:
            self._changed.wait_for(lambda: self.closed or self.number != number, timeout=hold_s)
            return {"number": str(self.number), "problem": self.problem}


def serve(build: Build, *, notes: Path, out: Path, port: int) -> None:
    """Build, serve `out` on the loopback address, rebuild when a file of the notes changes.

    Runs until it is interrupted.

    Raises
    ------
    PortTaken
        When the port is in use.
    """
    watch = Watch()
    shown = ShownSite(out, show=lambda: watch.built(None))
    server = make_server(watch, shown=shown, port=port, notes=notes)
    before = snapshot(notes)
    _built(build, watch=watch, shown=shown)
    threading.Thread(target=server.serve_forever, daemon=True).start()
    print(f"Open http://127.0.0.1:{server.server_port}/ and stop with Ctrl-C.", flush=True)
    try:
        pause_s = LOOK_AGAIN_S
        while True:
            time.sleep(pause_s)
            began = time.monotonic()
            now = snapshot(notes)
            pause_s = max(LOOK_AGAIN_S, (time.monotonic() - began) / LOOKING_SHARE)
            if now != before:
                before = now
                _built(build, watch=watch, shown=shown)
    except KeyboardInterrupt:
        print("\nStopped.", flush=True)
    finally:
        watch.close()
        server.shutdown()
        server.server_close()


def _built(build: Build, *, watch: Watch, shown: ShownSite) -> None:
    """Build once; pages learn of the new site when it is shown, and here of what is wrong."""
    number = watch.number
    problem = build(shown)
    shown.stopped()
    if problem is not None or watch.number == number:
        watch.built(problem)


def snapshot(notes: Path) -> dict[str, tuple[int, int]]:
    """Return every file of the notes with its size and time of change.

    Files that an editor writes beside the real one are left out.
    """
    seen = {}
    for path in _files(str(notes / name) for name in (DATA, CONTENT, DRESS)):
        try:
            state = os.stat(path)
        except OSError:  # gone between the listing and the look
            continue
        seen[path] = (state.st_size, state.st_mtime_ns)
    return seen


def _files(folders: Iterable[str]) -> Iterable[str]:
    for folder in folders:
        for above, _, names in os.walk(folder):
            for name in names:
                if not name.startswith(".") and not name.endswith("~"):
                    yield os.path.join(above, name)


def make_server(
    watch: Watch, *, shown: ShownSite, port: int, notes: Path | None = None
) -> ThreadingHTTPServer:
    """Return a server of the finished site; port 0 takes any free one.

    A pin that is dragged in a page is moved in `notes`; without them nothing can be written.

    Raises
    ------
    PortTaken
        When the port is in use.
    """

    handler = partial(_Handler, shown=shown, watch=watch, notes=notes)
    try:
        server = ThreadingHTTPServer(("127.0.0.1", port), handler)
    except OSError as taken:
        raise PortTaken(
            f"port {port} is in use by another program; choose one with --port"
        ) from taken
    server.daemon_threads = True
    return server


class _Handler(SimpleHTTPRequestHandler):
    """Serves the site's files, with the reloading script put into each page on its way out."""

    def __init__(
        self, *connection: Any, shown: ShownSite, watch: Watch, notes: Path | None
    ) -> None:
        self.watch, self.shown, self.notes = watch, shown, notes
        super().__init__(*connection, directory=str(shown.out))

    def do_GET(self) -> None:
        """Answer with a file, a page, or the news."""
        if self._refused_host() or self._refused_page():
            return
        address = urlsplit(self.path)
        if address.path == LIVE + "changes":
            self._send_changes(address.query)
        elif address.path in [LIVE + name for name in LIVE_FILES]:
            name = address.path.removeprefix(LIVE)
            kind = "text/javascript" if name.endswith(".js") else "text/css"
            content = (carried(DRESS) / "live" / name).read_bytes()
            self._send(HTTPStatus.OK, content, f"{kind}; charset=utf-8")
        elif address.path == "/" + WORKER or is_worker(address.path[1:]):
            # A browser that keeps a release of this address must show the notes as they are now.
            content = (carried(DRESS) / "worker" / "freeing.js").read_bytes()
            self._send(HTTPStatus.OK, content, "text/javascript; charset=utf-8")
        else:
            self._send_from_site(address.path)

    def do_HEAD(self) -> None:
        """Refuse: a page is longer here than on the disk, so its length would be wrong."""
        self._send(HTTPStatus.METHOD_NOT_ALLOWED, b"", "text/plain; charset=utf-8")

    def do_POST(self) -> None:
        """Move a pin, when a page of this very address asks for it."""
        # Whatever is left unread would be taken for the next request.
        self.close_connection = True
        if self._refused_host():
            return
        refusal = stranger(self.headers)
        length = self.headers.get("Content-Length", "")
        if self.notes is None or urlsplit(self.path).path != LIVE + "pin":
            self._send_problem(HTTPStatus.NOT_FOUND, "Nothing is written here.")
        elif refusal is not None:
            self._send_problem(HTTPStatus.FORBIDDEN, refusal)
        elif not length.isdecimal() or int(length) > MOST_BYTES:
            self._send_problem(HTTPStatus.BAD_REQUEST, "That is no move of a pin.")
        else:
            status, words = answer_move(self.rfile.read(int(length)), notes=self.notes)
            self._send(status, json.dumps(words).encode(), "application/json")

    def _send_problem(self, status: HTTPStatus, problem: str) -> None:
        self._send(status, json.dumps({"problem": problem}).encode(), "application/json")

    def _refused_host(self) -> bool:
        """Refuse a name that somebody points at this machine; return whether it was refused."""
        # A page of another site must not read the notes, nor write in them, through such a name.
        if self.headers.get("Host", "").partition(":")[0] in ("127.0.0.1", "localhost"):
            return False
        self._send(HTTPStatus.FORBIDDEN, b"Loopback only.", "text/plain; charset=utf-8")
        return True

    def _refused_page(self) -> bool:
        """Refuse what another page asks for; return whether it was refused.

        Whoever follows a link hither looks at the page; no page of another address may take a
        script, and with it the notes' index, into itself.
        """
        asks = self.headers.get("Sec-Fetch-Site", "none")
        looks = (
            self.headers.get("Sec-Fetch-Mode") == "navigate"
            and self.headers.get("Sec-Fetch-Dest") == "document"
        )
        ours = f"http://{self.headers.get('Host', '')}"
        known = asks in ("same-origin", "none") or looks
        if known and self.headers.get("Origin", ours) == ours:
            return False
        self._send(HTTPStatus.FORBIDDEN, b"Only for this address.", "text/plain; charset=utf-8")
        return True

    def _send_changes(self, query: str) -> None:
        since = parse_qs(query).get("since", ["0"])[0]
        state = self.watch.after(int(since) if since.isdecimal() else 0)
        self._send(HTTPStatus.OK, json.dumps(state).encode(), "application/json")

    def _send_from_site(self, path: str) -> None:
        found = self._found(Path(self.translate_path(path)).relative_to(self.directory))
        if found is not None:
            name, content = found
            if name.endswith(".html"):
                self._send_page(content.decode("utf-8"))
            else:
                self._send(HTTPStatus.OK, content, self.guess_type(name))
        elif path.endswith(("/", ".html")) and self._found(Path("index.html")) is None:
            self._send_page(_EMPTY_PAGE)
        else:
            self._send(HTTPStatus.NOT_FOUND, b"Not in the site.", "text/plain; charset=utf-8")

    def _found(self, path: Path) -> tuple[str, bytes] | None:
        """Return the name and the content of a file of the site; of a folder, its list."""
        with self.shown.files(path) as files:
            for file in [file / "index.html" if file.is_dir() else file for file in files]:
                if file.is_file():
                    return file.name, file.read_bytes()
        return None

    def _send_page(self, page: str) -> None:
        before, end, after = page.rpartition("</body>")
        content = f"{before}{_TAGS}{end}{after}".encode()
        self._send(HTTPStatus.OK, content, "text/html; charset=utf-8")

    def _send(self, status: HTTPStatus, content: bytes, kind: str) -> None:
        try:
            self.send_response(status)
            self.send_header("Content-Type", kind)
            self.send_header("Content-Length", str(len(content)))
            self.send_header("Cache-Control", "no-store")
            # Nobody may be led to drag a pin through a page laid over ours.
            self.send_header("X-Frame-Options", "DENY")
            self.send_header("Content-Security-Policy", "frame-ancestors 'none'")
            # For browsers that do not say who asks: they take nothing of ours into other pages.
            self.send_header("Cross-Origin-Resource-Policy", "same-origin")
            self.send_header("Cross-Origin-Opener-Policy", "same-origin")
            self.end_headers()
            self.wfile.write(content)
        except ConnectionError:  # the page was closed or reloaded meanwhile
            self.close_connection = True

    def log_message(self, *_: object) -> None:
        """Stay silent: the terminal is for problems of the notes."""
