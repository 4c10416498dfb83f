"""Only a page of `serve` itself moves a pin, and the entry is whole before and after."""

from __future__ import annotations

import http.client
import json
import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest

from generators.serve import LIVE, Watch
from tests.live_server import serving

STARTER = Path(__file__).resolve().parents[2] / "kb" / "starter"
ENTRY = "docs_data/drawings/example-front.yaml"
MOVE = {"drawing": "example-front", "pin": "T1", "x": "30.5", "y": "41"}


@pytest.fixture()
def notes(tmp_path: Path) -> Path:
    return Path(shutil.copytree(STARTER, tmp_path / "notes"))


@pytest.fixture()
def port(notes: Path) -> Iterator[int]:
    yield from _served(notes)


def _served(notes: Path | None) -> Iterator[int]:
    with serving(Watch(), out=Path("/nowhere"), notes=notes) as number:
        yield number


def post(
    port: int, body: object = MOVE, *, path: str = LIVE + "pin", **headers: str | None
) -> tuple[int, dict[str, object]]:
    """Send what the page sends, with some headers otherwise; None leaves one out."""
    here = f"127.0.0.1:{port}"
    sent = {"Host": here, "Origin": f"http://{here}", "Content-Type": "application/json"}
    sent.update({name.replace("_", "-"): value for name, value in headers.items()})
    connection = http.client.HTTPConnection("127.0.0.1", port, timeout=10)
    text = body if isinstance(body, str) else json.dumps(body)
    kept = {name: value for name, value in sent.items() if value is not None}
    connection.request("POST", path, body=text.encode(), headers=kept)
    answer = connection.getresponse()
    content = answer.read()
    connection.close()
    return answer.status, json.loads(content) if content.startswith(b"{") else {}


def test_a_pin_is_moved_in_its_entry_and_comments_stay(port: int, notes: Path) -> None:
    before = (notes / ENTRY).read_text(encoding="utf-8")
    status, answer = post(port)
    assert (status, answer) == (
        200,
        {
            "file": ENTRY,
            "line": 12,
            "text": "T1: {x: 30.5, y: 41, where: On the suction pipe above the compressor.}",
            "was": {"x": "28", "y": "40"},
        },
    )
    assert (notes / ENTRY).read_text(encoding="utf-8") == before.replace(
        "T1: {x: 28, y: 40,", "T1: {x: 30.5, y: 41,"
    )
    assert [path.name for path in (notes / ENTRY).parent.iterdir()] == ["example-front.yaml"]


@pytest.mark.parametrize(
    ("headers", "status", "problem"),
    [
        ({"Origin": "http://evil.invalid"}, 403, "Only a page of this address may write."),
        ({"Origin": None}, 403, "Only a page of this address may write."),
        ({"Origin": "null"}, 403, "Only a page of this address may write."),
        ({"Sec_Fetch_Site": "cross-site"}, 403, "Only a page of this address may write."),
        ({"Sec_Fetch_Site": "same-site"}, 403, "Only a page of this address may write."),
        ({"Content_Type": "text/plain"}, 403, "Only JSON is read."),
        ({"Content_Length": "4000"}, 400, "That is no move of a pin."),
        ({"path": LIVE + "other"}, 404, "Nothing is written here."),
        ({"path": "/index.html"}, 404, "Nothing is written here."),
        ({"Host": "evil.invalid", "Origin": "http://evil.invalid"}, 403, None),
    ],
)
def test_nobody_else_moves_it(
    port: int, notes: Path, headers: dict[str, str | None], status: int, problem: str | None
) -> None:
    before = (notes / ENTRY).read_bytes()
    assert post(port, **headers) == (status, {"problem": problem} if problem else {})  # type: ignore[arg-type]
    assert (notes / ENTRY).read_bytes() == before


def test_the_name_localhost_is_this_machine_too(port: int) -> None:
    here = f"localhost:{port}"
    assert post(port, Host=here, Origin=f"http://{here}")[0] == 200
    assert post(port, Host=here, Origin=f"http://127.0.0.1:{port}")[0] == 403


@pytest.mark.parametrize(
    ("body", "status", "problem"),
    [
        ("[" * 1900, 400, "That is no move of a pin."),
        ("\xff", 400, "That is no move of a pin."),
        ({"drawing": "example-front"}, 400, "That is no move of a pin."),
        ([1], 400, "That is no move of a pin."),
        ({**MOVE, "x": "300"}, 409, "Not moved: a place is 0 to 100 percent, to a tenth"),
        ({**MOVE, "drawing": "../x"}, 409, "Not moved: the notes have 0 drawings '../x'"),
        (
            {**MOVE, "pin": "T9"},
            409,
            f"Not moved: {ENTRY} has no pin 'T9' with its x and y: was it renamed?",
        ),
    ],
)
def test_what_is_no_move_changes_nothing(
    port: int, notes: Path, body: object, status: int, problem: str
) -> None:
    before = (notes / ENTRY).read_bytes()
    assert post(port, body) == (status, {"problem": problem})
    assert (notes / ENTRY).read_bytes() == before


def test_an_entry_that_is_a_link_stays_one(port: int, notes: Path) -> None:
    kept = (notes / ENTRY).rename(notes / "kept.yaml")
    (notes / ENTRY).symlink_to(kept)
    assert post(port)[0] == 200
    assert (notes / ENTRY).is_symlink() and "x: 30.5" in kept.read_text(encoding="utf-8")


def test_a_server_without_notes_writes_nothing() -> None:
    for port in _served(None):
        assert post(port) == (404, {"problem": "Nothing is written here."})


def test_no_page_of_a_built_site_holds_what_writes(notes: Path) -> None:
    from generators.build import build

    build(notes, out=notes / "site")
    pins = STARTER.parents[1] / "site_config" / "live" / "pins.js"
    assert "ohm-live-pin" in pins.read_text(encoding="utf-8")
    held = [
        path.name
        for path in (notes / "site").rglob("*")
        if path.suffix in (".html", ".js", ".css") and "ohm-live-pin" in path.read_text("utf-8")
    ]
    assert held == []
