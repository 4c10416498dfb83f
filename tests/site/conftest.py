"""The demo, built once, opened in Debian's chromium at the size of a phone."""

from __future__ import annotations

import functools
import http.server
import shutil
import threading
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.site.vector_curves import grids
from tests.site.vectors import Vector, vectors

ROOT = Path(__file__).resolve().parents[2]
PHONE = {"width": 390, "height": 844}


@pytest.fixture(scope="session")
def site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demo's finished site."""
    from generators.build import build

    # A copy: a build keeps its charts and what it has published beside the notes.
    notes = tmp_path_factory.mktemp("demo")
    for name in ("docs_data", "content"):
        shutil.copytree(ROOT / name, notes / name)
    build(notes, out=notes / "site")
    return notes / "site"


@pytest.fixture(scope="session")
def pocket_file(site: Path) -> str:
    """The address of one family in a file of its own."""
    from generators.publish.pockets import write_pockets

    notes = site.parent
    ((path, _),) = write_pockets(notes, families=("quellmark-rooftop",), to=notes / "pocket")
    return path.as_uri()


@pytest.fixture(scope="session")
def curves() -> dict[str, object]:
    """Every curve that is asked about, compiled."""
    return grids()


@pytest.fixture(scope="session")
def asked(curves: dict[str, object]) -> list[Vector]:
    """Every vector with Python's own answer: half a minute's work, done once."""
    return vectors(curves)


@pytest.fixture(scope="session")
def served(site: Path) -> Iterator[str]:
    """The same site from a server on loopback."""

    class Quiet(http.server.SimpleHTTPRequestHandler):
        def log_message(self, *_: object) -> None:
            pass

    handler = functools.partial(Quiet, directory=str(site))
    with http.server.ThreadingHTTPServer(("127.0.0.1", 0), handler) as server:
        thread = threading.Thread(target=server.serve_forever, daemon=True)
        thread.start()
        yield f"http://127.0.0.1:{server.server_address[1]}/"
        server.shutdown()
        thread.join()


class Watched:
    """A page, everything it complained about, and every host it asked."""

    def __init__(self, page: object) -> None:
        self.page = page
        self.complaints: list[str] = []
        self.asked: list[str] = []
        page.on("console", self._console)
        page.on("pageerror", lambda error: self.complaints.append(str(error)))
        page.on("request", lambda request: self.asked.append(request.url))

    def _console(self, message: object) -> None:
        if message.type in ("error", "warning"):
            self.complaints.append(message.text)

    def asked_elsewhere(self, home: str) -> list[str]:
        """Return the requests that did not stay with the site."""
        return [url for url in self.asked if not url.startswith((home, "data:"))]


@pytest.fixture()
def phone(browser: object) -> Iterator[Watched]:
    """A fresh phone with the network cut: only files and loopback can be reached."""
    context = browser.new_context(
        viewport=PHONE, device_scale_factor=2, has_touch=True, is_mobile=True
    )
    context.route(
        "**/*",
        lambda route: (
            route.continue_()
            if route.request.url.startswith(("file:", "http://127.0.0.1:", "data:"))
            else route.abort()
        ),
    )
    watched = Watched(context.new_page())
    yield watched
    context.close()


@pytest.fixture(scope="session")
def home_file(site: Path) -> str:
    """The site's first page, straight from the folder."""
    return (site / "index.html").as_uri()


@pytest.fixture(scope="session")
def find_home(tmp_path_factory: pytest.TempPathFactory) -> str:
    """The first page of a small site of two families, straight from its folder."""
    from tests.site.find_site import make_find_site

    return make_find_site(tmp_path_factory.mktemp("find"))


@pytest.fixture()
def find(phone: Watched, find_home: str) -> Iterator[Watched]:
    """A phone that shows it; nothing complains, and no other host is asked."""
    phone.page.goto(find_home)
    yield phone
    assert phone.complaints == []
    assert phone.asked_elsewhere("file:") == []
