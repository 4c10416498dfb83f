"""What never ends, and what is no file, neither hangs `case add` nor fills it."""

from __future__ import annotations

import io
import os
import signal
from collections.abc import Iterator

import pytest
from click.testing import CliRunner

from kb.case_zip import YAML_BYTES, ZIP_BYTES
from kb.commands.case_arrived import read_arrived
from kb.commands.main import ohmfolio
from kb.commands.options import NotUnderstood

WAIT_S = 5


@pytest.fixture(autouse=True)
def in_time() -> Iterator[None]:
    """End a test that hangs."""

    def too_long(*_: object) -> None:
        raise TimeoutError

    before = signal.signal(signal.SIGALRM, too_long)
    signal.alarm(WAIT_S)
    yield
    signal.alarm(0)
    signal.signal(signal.SIGALRM, before)


def test_a_pipe_that_nobody_writes_to_is_refused_at_once(run, notes, tmp_path):
    os.mkfifo(tmp_path / "case.yaml")
    added = run("case", "add", tmp_path / "case.yaml", "--notes", notes)
    assert added.exit_code == 2
    assert "is a pipe or a device, and no file" in added.output


def test_a_device_that_never_ends_is_refused_at_once(run, notes):
    added = run("case", "add", "/dev/zero", "--id", "a", "--notes", notes)
    assert added.exit_code == 2
    assert "is a pipe or a device, and no file" in added.output


class Endless(io.RawIOBase):
    """A stream that never ends, and says how much of it was asked for."""

    asked = 0

    def readable(self) -> bool:
        return True

    def readinto(self, into: object) -> int:
        size = len(into)  # type: ignore[arg-type]
        self.asked += size
        if self.asked > 2 * ZIP_BYTES:
            raise AssertionError("read without end")
        return size


def test_what_is_piped_in_without_end_is_refused(notes):
    stream = Endless()
    added = CliRunner().invoke(
        ohmfolio, ["case", "add", "-", "--id", "a", "--notes", str(notes)], input=stream
    )
    assert added.exit_code == 2, added.exception
    assert "is larger than any case: 40 MB at most are read" in added.output


def test_a_file_of_200_megabytes_is_not_read_whole(tmp_path):
    with open(tmp_path / "a.zip", "wb") as file:
        file.write(b"PK")
        file.truncate(200_000_000)
    with pytest.raises(NotUnderstood, match="larger than any case"):
        read_arrived(tmp_path / "a.zip", case_id=None)


def test_a_text_longer_than_any_case_is_refused(tmp_path):
    (tmp_path / "a.yaml").write_bytes(b"# " + b"a" * YAML_BYTES)
    with pytest.raises(NotUnderstood, match="longer than any case: 200 kB"):
        read_arrived(tmp_path / "a.yaml", case_id=None)
