"""The server of `ohmfolio serve`, for as long as a block lasts."""

from __future__ import annotations

import contextlib
import threading
from collections.abc import Iterator
from pathlib import Path

from generators.serve import Watch, make_server
from generators.shown_site import ShownSite


@contextlib.contextmanager
def serving(watch: Watch, *, out: Path, notes: Path | None = None) -> Iterator[int]:
    """Serve a site on a free port, and yield the port; whoever waits is let go at the end."""
    server = make_server(watch, shown=ShownSite(out), port=0, notes=notes)
    thread = threading.Thread(target=server.serve_forever, daemon=True)
    thread.start()
    try:
        yield server.server_port
    finally:
        watch.close()
        server.shutdown()
        server.server_close()
        thread.join()
