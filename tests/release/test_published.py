"""A published copy is read wherever it is, and what stands there is told from what cannot be read."""

from __future__ import annotations

import socket
import threading
import zipfile
from collections.abc import Iterator
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path

import pytest

from generators.publish.published import FolderCopy, HostCopy, NoCopyThere, ZipCopy, open_copy


class _Answers(BaseHTTPRequestHandler):
    """Says what it was asked; a path that is a number is answered with that status."""

    def do_GET(self) -> None:
        name = self.path.rpartition("/")[2]
        self.send_response(int(name) if name.isdecimal() else 200)
        self.end_headers()
        self.wfile.write(f"{self.path} {self.headers['Cache-Control']}".encode())

    def log_message(self, *_: object) -> None:
        """Stay silent."""


@pytest.fixture()
def address() -> Iterator[str]:
    with ThreadingHTTPServer(("127.0.0.1", 0), _Answers) as server:
        thread = threading.Thread(target=server.serve_forever, daemon=True)
        thread.start()
        yield f"http://127.0.0.1:{server.server_port}/team"
        server.shutdown()
        thread.join()


def test_a_host_is_asked_past_every_cache_below_its_address(address):
    for where in (address, f"{address}/"):
        copy = open_copy(where)
        assert copy.where == f"{address}/"
        assert copy.read("codes/k 1.html") == b"/team/codes/k%201.html no-cache"
        assert copy.paths() is None


@pytest.mark.parametrize("status", [403, 404, 410])
def test_what_a_host_says_is_not_there_is_not_there(address, status):
    assert HostCopy(address).read(str(status)) is None


@pytest.mark.parametrize("status", [401, 500, 503])
def test_any_other_answer_of_a_host_is_no_copy(address, status):
    with pytest.raises(NoCopyThere) as refusal:
        HostCopy(address).read(str(status))
    assert str(refusal.value) == f"{address}/{status}: the host answers {status}"


def test_a_host_that_cannot_be_reached_is_named_with_the_reason():
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        where = f"http://127.0.0.1:{taken.getsockname()[1]}"
        with pytest.raises(NoCopyThere) as refusal:
            HostCopy(where).read("release.json")
    assert str(refusal.value).startswith(f"{where}/ cannot be reached: [Errno ")


def test_a_folder_and_a_zip_name_their_files_and_lack_the_rest(tmp_path: Path):
    folder = tmp_path / "copy"
    (folder / "codes").mkdir(parents=True)
    (folder / "codes/k1.html").write_bytes(b"code")
    with zipfile.ZipFile(tmp_path / "copy.zip", "w") as packed:
        packed.mkdir("codes")
        packed.writestr("codes/k1.html", b"code")
    for where, kind in ((folder, FolderCopy), (tmp_path / "copy.zip", ZipCopy)):
        copy = open_copy(str(where))
        assert isinstance(copy, kind)
        assert copy.where == str(where)
        assert copy.paths() == {"codes/k1.html"}
        assert copy.read("codes/k1.html") == b"code"
        assert copy.read("codes/k2.html") is None


def test_a_file_that_is_damaged_in_a_zip_is_there_but_differs(tmp_path: Path):
    file = tmp_path / "copy.zip"
    with zipfile.ZipFile(file, "w") as packed:
        packed.writestr("index.html", b"home of the notes")
    file.write_bytes(file.read_bytes().replace(b"home", b"h0me", 1))
    assert open_copy(str(file)).read("index.html") == b""
