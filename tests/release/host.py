"""A real web server that can be made to fail: Debian's nginx, and a gate before it that counts."""

from __future__ import annotations

import contextlib
import re
import socket
import subprocess
import threading
import time
from pathlib import Path

NGINX = "/usr/sbin/nginx"
README = Path(__file__).resolve().parents[2] / "README.md"
PLACE = "team/"
"""The notes stand in a sub-folder, as they may on any host."""
HOSTILE = 'add_header Cache-Control "max-age=600"'
"""What a careless host says: keep everything for ten minutes."""


def free_port() -> int:
    """Return a port of loopback that nobody listens on."""
    with socket.socket() as asked:
        asked.bind(("127.0.0.1", 0))
        return asked.getsockname()[1]


def documented_block() -> str:
    """Return the nginx example of the README, as it stands there."""
    return re.search(r"```nginx\n(.*?)```", README.read_text(encoding="utf-8"), re.DOTALL)[1]


def configuration(folder: Path, port: int, *, cache: str | None) -> str:
    """Return a whole nginx configuration around the README's block; `cache` replaces its header."""
    block = documented_block()
    for wanted, instead in (
        ("listen 443 ssl;", f"listen 127.0.0.1:{port};"),
        ("root /srv/www;", f"root {folder}/www;"),
    ):
        assert block.count(wanted) == 1, wanted
        block = block.replace(wanted, instead)
    if cache is not None:
        documented = 'add_header Cache-Control "no-cache"'
        assert block.count(documented) == 1
        block = block.replace(documented, cache)
    temporary = "\n".join(
        f"    {kind}_temp_path {folder}/{kind};"
        for kind in ("client_body", "proxy", "fastcgi", "uwsgi", "scgi")
    )
    return (
        f"daemon off; master_process off; pid {folder}/nginx.pid; error_log {folder}/errors.log;\n"
        f"events {{}}\nhttp {{\n    include /etc/nginx/mime.types; access_log off;\n"
        f"    keepalive_timeout 0;\n{temporary}\n{block}}}\n"
    )


def _without_range(head: bytes) -> bytes:
    return re.sub(rb"(?i)\r\nrange:[^\r]*", b"", head)


class Host:
    """Serves one folder at a time, and dies when told to."""

    def __init__(self, folder: Path, *, cache: str | None = HOSTILE) -> None:
        self._folder = folder
        (folder / "www").mkdir(parents=True)
        self._behind = free_port()
        (folder / "nginx.conf").write_text(configuration(folder, self._behind, cache=cache))
        self._server: subprocess.Popen[bytes] | None = None
        self._lock = threading.Lock()
        self._line = threading.Lock()
        self._callers: set[socket.socket] = set()
        self.dies_at: int | None = None
        """Killed when this many requests have come since `asked` was last emptied."""
        self.hangs_on: str | None = None
        """A path whose answer never comes."""
        self.cuts_after: int | None = None
        """An answer of a pack or page breaks off after so many bytes of it."""
        self.bytes_per_s: float | None = None
        """How fast all answers together come; as fast as they can by default."""
        self.knows_ranges = True
        """False for a host that always sends a file from its beginning."""
        self.asked: list[str] = []
        self.begun_at: list[int] = []
        """From which byte on a file was asked for, of each that was not asked for whole."""
        self.bytes_out = 0
        self._gate = socket.create_server(("127.0.0.1", 0), backlog=64)
        self.url = f"http://127.0.0.1:{self._gate.getsockname()[1]}/{PLACE}"
        threading.Thread(target=self._listen, daemon=True).start()

    def publish(self, release: Path) -> None:
        """Let the host give out this folder from now on, in one step."""
        beside = self._folder / "www" / "next"
        beside.symlink_to(release)
        beside.rename(self._folder / "www" / PLACE.rstrip("/"))

    def start(self) -> None:
        """Start nginx and forget what was asked before."""
        self.dies_at = self.hangs_on = None
        self.forget()
        if self.alive:
            return
        self._server = subprocess.Popen(
            [NGINX, "-p", str(self._folder), "-c", str(self._folder / "nginx.conf")],
            stderr=subprocess.DEVNULL,
        )
        until = time.monotonic() + 10
        while time.monotonic() < until:
            try:
                socket.create_connection(("127.0.0.1", self._behind), timeout=1).close()
                return
            except OSError:
                time.sleep(0.02)
        raise AssertionError((self._folder / "errors.log").read_text())

    def kill(self) -> None:
        """Kill nginx at once, as a power cut would."""
        if self._server is not None:
            self._server.kill()
            self._server.wait()

    def stop(self) -> None:
        """Kill nginx and close the gate."""
        self.kill()
        self._gate.close()

    def forget(self) -> None:
        """Count from nothing again."""
        self.asked, self.begun_at = [], []
        self.bytes_out = 0

    @property
    def alive(self) -> bool:
        """True while nginx runs."""
        return self._server is not None and self._server.poll() is None

    def _hand_on(self, server: socket.socket, *, to: socket.socket) -> None:
        left = self.cuts_after
        at_once = 65536 if self.bytes_per_s is None else max(int(self.bytes_per_s / 10), 1)
        while part := server.recv(at_once):
            if left is not None:
                part, left = part[:left], left - len(part[:left])
            self.bytes_out += len(part)
            to.sendall(part)
            if left == 0:
                return
            if self.bytes_per_s is not None:
                with self._line:
                    time.sleep(len(part) / self.bytes_per_s)

    def break_line(self) -> None:
        """Cut every answer that is on its way."""
        for caller in list(self._callers):
            with contextlib.suppress(OSError):
                caller.shutdown(socket.SHUT_RDWR)

    def _listen(self) -> None:
        while True:
            try:
                caller, _ = self._gate.accept()
            except OSError:
                return
            threading.Thread(target=self._serve, args=(caller,), daemon=True).start()

    def _serve(self, caller: socket.socket) -> None:
        self._callers.add(caller)
        try:
            self._answer(caller)
        finally:
            self._callers.discard(caller)

    def _answer(self, caller: socket.socket) -> None:
        with caller:
            head = b""
            while b"\r\n\r\n" not in head:
                part = caller.recv(65536)
                if not part:
                    return
                head += part
            path = head.split(b" ", 2)[1].decode().removeprefix("/" + PLACE)
            with self._lock:
                self.asked.append(path)
                self.begun_at += map(int, re.findall(rb"(?i)\r\nrange: bytes=(\d+)-", head))
                if self.dies_at is not None and len(self.asked) >= self.dies_at:
                    self.kill()
            if self.hangs_on == path:
                time.sleep(30)
            if not self.alive:
                return
            try:
                with socket.create_connection(("127.0.0.1", self._behind), timeout=10) as server:
                    server.sendall(head if self.knows_ranges else _without_range(head))
                    self._hand_on(server, to=caller)
            except OSError:
                return
