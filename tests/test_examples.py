"""The example in each command's help runs as it is printed, on the demo notes."""

from __future__ import annotations

import functools
import http.server
import os
import shutil
import signal
import subprocess
import sys
import threading
import urllib.request
from collections.abc import Callable, Iterator
from pathlib import Path

import click
import pytest
from click.testing import CliRunner

from generators.all_commands import ohmfolio
from generators.publish.pack import pack
from tests.command_reference import every_command, example

TOP = Path(__file__).resolve().parents[1]
POINTS = "t_c,r_ohm\n0,33.90k\n10,20.27k\n20,12.55k\n25,10.00k\n30,8.025k\n40,5.279k\n50,3.563k\n"
WAIT_S = 120
SERVES = (
    # A shell may start the tests with the key ignored, and whoever they start inherits that.
    "import signal; signal.signal(signal.SIGINT, signal.default_int_handler); "
    "from generators.command import main; main()"
)
BUILDS = {"build", "pack", "pocket", "serve", "verify", "changes"}


@pytest.fixture
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Return a home folder with the demo as `our-notes`, and stand in those notes."""
    notes = tmp_path / "our-notes"
    for name in ("docs_data", "content"):
        shutil.copytree(TOP / name, notes / name)
    monkeypatch.setenv("HOME", str(tmp_path))
    monkeypatch.delenv("XDG_CONFIG_HOME", raising=False)
    monkeypatch.chdir(notes)
    return tmp_path


def points_file(home: Path) -> None:
    notes = home / "our-notes"
    (notes / "table.csv").write_text(POINTS, encoding="utf-8")
    (notes / "docs_data/sources/maker-sheet.yaml").write_text(
        "title: A table\npublisher: Somebody\nyear: 2020\nwhere: on paper\n", encoding="utf-8"
    )


def case_file(home: Path) -> None:
    notes = home / "our-notes"
    text = (notes / "docs_data/cases/brenholt-split/brenholt-burnt-tab.yaml").read_bytes()
    (notes / "r4-open-in-frost.yaml").write_bytes(text)


def sheets(home: Path) -> None:
    notes = home / "our-notes"
    of_all = "quellmark-rooftop,quellmark-handbook"
    (notes / "sensors.csv").write_text(
        "family,source,label,senses,place,reach,curve,coldest,hottest\n"
        f"{of_all},R11,second coil,Upper bend.,open,ntc-10k-3435,-30,60\n",
        encoding="utf-8",
    )
    (notes / "codes.csv").write_text(
        "family,source,shown,meaning,suspect,minutes,clear\n"
        f"{of_all},K9-9,The second coil reads nonsense.,R11,10,By itself.\n",
        encoding="utf-8",
    )


def bare_notes(home: Path) -> Path:
    # They build in a second, where it does not matter what they say.
    notes = home / "our-notes"
    for name in ("docs_data", "content"):
        shutil.rmtree(notes / name)
        shutil.copytree(TOP / "kb/starter" / name, notes / name)
    return notes


def two_releases(home: Path) -> None:
    notes = bare_notes(home)
    for number in (12, 13):
        text = f"number: {number}\ndate: 2026-03-{number}\n"
        (notes / "docs_data/release.yaml").write_text(text, encoding="utf-8")
        pack(notes, to=home / f"release-{number}")


def signed_notes(home: Path) -> None:
    made = CliRunner().invoke(ohmfolio, ["key", "make", "--notes", str(home / "our-notes")])
    assert made.exit_code == 0, made.output


def new_folder(home: Path) -> None:
    os.chdir(home)
    shutil.rmtree(home / "our-notes")


BEFORE: dict[str, Callable[[Path], object]] = {
    "build": bare_notes,
    "pack": bare_notes,
    "start": new_folder,
    "fit": points_file,
    "case add": case_file,
    "bring": sheets,
    "examples": bare_notes,
    "changes": two_releases,
    "key change": signed_notes,
    "key lost": signed_notes,
    "key stop": signed_notes,
    "verify": two_releases,
}
"""What the example of a command takes for granted."""


def runnable(words: list[str], *, home: Path) -> list[str]:
    """Return an example with its folder on the host moved below `home`."""
    return [word.replace("/srv/", f"{home}/srv/") for word in words]


@pytest.mark.parametrize(
    ("words", "command"),
    [
        pytest.param(words, command, id=words, marks=[pytest.mark.builds] * (words in BUILDS))
        for words, command in every_command()
        if words not in {"serve", "verify"}
    ],
)
def test_the_example_of_a_command_ends_well(words: str, command: click.Command, home: Path) -> None:
    BEFORE.get(words, lambda _home: None)(home)
    asked = example(command)
    assert " ".join(asked).startswith(words)
    result = CliRunner().invoke(ohmfolio, runnable(asked, home=home), catch_exceptions=False)
    assert result.exit_code == 0, result.output


@pytest.fixture
def published(home: Path) -> Iterator[str]:
    """Return the address at which a release of the bare notes is published."""
    two_releases(home)
    handler = functools.partial(http.server.SimpleHTTPRequestHandler, directory=str(home))
    handler.log_message = lambda *_words: None
    with http.server.ThreadingHTTPServer(("127.0.0.1", 0), handler) as server:
        threading.Thread(target=server.serve_forever, daemon=True).start()
        yield f"http://127.0.0.1:{server.server_port}/release-13/"
        server.shutdown()


@pytest.mark.builds
def test_the_example_of_verify_ends_well_where_a_release_is_published(published: str) -> None:
    asked = example(ohmfolio.commands["verify"])
    assert asked == ["verify", "https://notes.example/team/"]
    result = CliRunner().invoke(ohmfolio, ["verify", published], catch_exceptions=False)
    assert result.exit_code == 0, result.output


@pytest.mark.builds
def test_the_example_of_serve_shows_the_site_until_it_is_stopped(home: Path) -> None:
    asked = example(ohmfolio.commands["serve"])
    assert asked == ["serve", "--port", "9000"]
    bare_notes(home)
    # Port 0 is any free one: 9000 may be somebody's.
    running = subprocess.Popen(
        [sys.executable, "-c", SERVES, "serve", "--port=0"],
        cwd=home / "our-notes",
        stdout=subprocess.PIPE,
        text=True,
        env={**os.environ, "PYTHONPATH": str(TOP), "PYTHONUNBUFFERED": "1"},
    )
    assert running.stdout is not None
    lines = iter(running.stdout.readline, "")
    address = next((line.split()[1] for line in lines if line.startswith("Open http://")), "")
    with urllib.request.urlopen(address, timeout=WAIT_S) as answer:
        page = answer.read().decode()
    running.send_signal(signal.SIGINT)
    running.communicate(timeout=WAIT_S)
    assert ("<h1" in page, running.returncode) == (True, 0)
