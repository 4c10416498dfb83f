"""Serving while the notes are written: loopback only, news at once, the last good site stays."""

from __future__ import annotations

import http.client
import json
import signal
import socket
import textwrap
import threading
import time
from collections.abc import Iterator
from pathlib import Path

import pytest

from generators.serve import LIVE, PortTaken, Watch, make_server, snapshot
from generators.shown_site import ShownSite
from tests.live_server import serving
from tests.running_program import running_program

ROOT = Path(__file__).resolve().parents[2]


@pytest.fixture()
def out(tmp_path: Path) -> Path:
    folder = tmp_path / "site"
    (folder / "codes").mkdir(parents=True)
    (folder / "index.html").write_text("<html><body>Home</body></html>", encoding="utf-8")
    (folder / "codes" / "index.html").write_text("<body>Codes</body>", encoding="utf-8")
    (folder / "a.css").write_text("p { color: red }")
    return folder


@pytest.fixture()
def watch() -> Watch:
    return Watch()


@pytest.fixture()
def port(out: Path, watch: Watch) -> Iterator[int]:
    with serving(watch, out=out) as number:
        yield number


def get(port: int, path: str, *, host: str | None = None) -> tuple[int, str]:
    connection = http.client.HTTPConnection("127.0.0.1", port, timeout=10)
    connection.request("GET", path, headers={"Host": host or f"127.0.0.1:{port}"})
    answer = connection.getresponse()
    told = answer.status, answer.read().decode("utf-8")
    connection.close()
    return told


def test_a_page_gets_the_reloading_script_on_its_way_out_and_the_file_does_not(port, out):
    status, text = get(port, "/codes/")
    assert status == 200
    assert text == (
        '<body>Codes<link rel="stylesheet" href="/_ohmfolio/live.css">'
        '<script defer src="/_ohmfolio/live.js"></script>'
        '<link rel="stylesheet" href="/_ohmfolio/pins.css">'
        '<script defer src="/_ohmfolio/pins.js"></script></body>'
    )
    assert (out / "codes" / "index.html").read_text() == "<body>Codes</body>"


def test_other_files_pass_as_they_are(port):
    assert get(port, "/a.css") == (200, "p { color: red }")


@pytest.mark.parametrize("name", ["live.js", "live.css", "pins.js", "pins.css"])
def test_the_reloading_script_is_there(port, name):
    status, text = get(port, LIVE + name)
    assert status == 200
    assert text == (ROOT / "site_config" / "live" / name).read_text(encoding="utf-8")


def test_what_is_not_in_the_site_is_not_found_above_it_either(port, tmp_path):
    (tmp_path / "secret.txt").write_text("mine")
    assert get(port, "/gone.html") == (404, "Not in the site.")
    assert get(port, "/../secret.txt")[0] == 404
    assert get(port, "/%2e%2e/secret.txt")[0] == 404


def test_a_name_that_somebody_points_at_this_machine_is_refused(port):
    assert get(port, "/", host=f"evil.invalid:{port}") == (403, "Loopback only.")


def asked_by(port: int, path: str, **headers: str) -> tuple[int, str, http.client.HTTPMessage]:
    """Ask as a browser does that says who asks; `fetch_site` names `Sec-Fetch-Site`."""
    connection = http.client.HTTPConnection("127.0.0.1", port, timeout=10)
    named = {
        f"Sec-{name.title().replace('_', '-')}" if "fetch" in name else name: value
        for name, value in headers.items()
    }
    connection.request("GET", path, headers=named)
    answer = connection.getresponse()
    heard = answer.status, answer.read().decode("utf-8"), answer.headers
    connection.close()
    return heard


@pytest.mark.parametrize(
    "headers",
    [
        {"fetch_site": "cross-site", "fetch_mode": "no-cors", "fetch_dest": "script"},
        {"fetch_site": "same-site", "fetch_mode": "no-cors", "fetch_dest": "script"},
        {"fetch_site": "cross-site", "fetch_mode": "navigate", "fetch_dest": "iframe"},
        {"fetch_site": "cross-site", "fetch_mode": "navigate", "fetch_dest": "object"},
        {"fetch_site": "same-site", "fetch_mode": "cors", "fetch_dest": "empty"},
        {"Origin": "http://localhost:1"},
    ],
)
@pytest.mark.parametrize("path", ["/a.css", "/codes/", "/_ohmfolio/changes?since=0"])
def test_another_page_of_the_browser_gets_nothing(port, path, headers):
    status, text, _ = asked_by(port, path, **headers)
    assert (status, text) == (403, "Only for this address.")


@pytest.mark.parametrize(
    "headers",
    [
        {"fetch_site": "same-origin", "fetch_mode": "no-cors", "fetch_dest": "script"},
        {"fetch_site": "none", "fetch_mode": "navigate", "fetch_dest": "document"},
        {"fetch_site": "cross-site", "fetch_mode": "navigate", "fetch_dest": "document"},
    ],
)
def test_our_own_pages_and_whoever_comes_to_look_get_all(port, headers):
    assert asked_by(port, "/a.css", **headers)[0] == 200


def test_a_browser_that_does_not_say_who_asks_is_told_to_keep_it_to_itself(port):
    _, _, headers = asked_by(port, "/codes/")
    assert headers["Cross-Origin-Resource-Policy"] == "same-origin"
    assert headers["Cross-Origin-Opener-Policy"] == "same-origin"
    assert headers["X-Frame-Options"] == "DENY"
    assert headers["Content-Security-Policy"] == "frame-ancestors 'none'"


def test_the_news_come_at_once_to_whoever_waits(port, watch):
    _, first = get(port, LIVE + "changes?since=0")
    number = json.loads(first)["number"]
    threading.Timer(0.3, watch.built, ["codes/x.yaml:1:1: a-rule: wrong"]).start()
    started = time.monotonic()
    _, text = get(port, LIVE + f"changes?since={number}")
    assert 0.2 < time.monotonic() - started < 5
    assert json.loads(text) == {
        "number": str(int(number) + 1),
        "problem": "codes/x.yaml:1:1: a-rule: wrong",
    }


def test_without_news_the_wait_ends_in_time(watch):
    before = watch.number
    assert watch.after(before, hold_s=0.05) == {"number": str(before), "problem": None}


def test_a_site_that_was_never_built_shows_a_page_that_waits(tmp_path, watch):
    with serving(watch, out=tmp_path / "none") as number:
        status, text = get(number, "/")
    assert status == 200
    assert "Not built yet" in text
    assert "live.js" in text


def test_a_port_in_use_is_said_with_the_way_out(tmp_path, watch):
    with socket.socket() as other:
        other.bind(("127.0.0.1", 0))
        other.listen()
        number = other.getsockname()[1]
        with pytest.raises(PortTaken) as told:
            make_server(watch, shown=ShownSite(tmp_path), port=number)
    assert str(told.value) == (
        f"port {number} is in use by another program; choose one with --port"
    )


def test_a_snapshot_sees_each_change_and_no_editor_crumbs(tmp_path):
    (tmp_path / "docs_data" / "codes").mkdir(parents=True)
    file = tmp_path / "docs_data" / "codes" / "k.yaml"
    file.write_text("name: a")
    first = snapshot(tmp_path)
    assert len(first) == 1
    (tmp_path / "docs_data" / "codes" / ".k.yaml.swp").write_text("")
    (tmp_path / "docs_data" / "codes" / "k.yaml~").write_text("")
    assert snapshot(tmp_path) == first
    file.write_text("name: ab")
    assert snapshot(tmp_path) != first
    file.unlink()
    assert snapshot(tmp_path) == {}


def test_a_change_of_the_notes_builds_again_and_a_fault_reaches_the_page(tmp_path, out):
    notes = tmp_path / "notes"
    (notes / "docs_data").mkdir(parents=True)
    (notes / "docs_data" / "a.yaml").write_text("good")
    program = textwrap.dedent("""
        import sys
        from pathlib import Path
        from generators.serve import serve
        notes, out = Path(sys.argv[1]), Path(sys.argv[2])
        file = notes / "docs_data" / "a.yaml"
        serve(lambda shown: None if file.read_text() == "good" else "a fault", notes=notes, out=out, port=0)
    """)
    with running_program(program, str(notes), str(out), cwd=ROOT) as server:
        port = int(server.stdout.readline().split(":")[2].split("/")[0])
        first = json.loads(get(port, LIVE + "changes?since=0")[1])
        assert first["problem"] is None
        (notes / "docs_data" / "a.yaml").write_text("bad")
        second = json.loads(get(port, LIVE + f"changes?since={first['number']}")[1])
        assert second["problem"] == "a fault"
        assert get(port, "/")[1].startswith("<html><body>Home")
        (notes / "docs_data" / "a.yaml").write_text("good")
        third = json.loads(get(port, LIVE + f"changes?since={second['number']}")[1])
        assert third["problem"] is None
        server.send_signal(signal.SIGINT)
        assert server.communicate(timeout=10)[0] == "\nStopped.\n"
    assert server.returncode == 0


def test_a_browser_that_keeps_an_older_release_of_this_address_is_freed(port: int) -> None:
    for place in ("/worker.js", "/worker-0123456789ab.js"):
        status, worker = get(port, place)
        assert status == 200
        assert "registration.unregister()" in worker
