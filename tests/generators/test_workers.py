"""Jobs on all cores: the same results, the same errors, the same bytes, whatever becomes of a worker."""

from __future__ import annotations

import hashlib
import os
import shutil
import signal
import time
from contextlib import suppress
from functools import partial
from pathlib import Path
from types import GeneratorType

import pytest

from generators import make, workers, write_pages
from generators.build import build
from generators.page import Page
from generators.workers import meanwhile, on_all_cores

ROOT = Path(__file__).resolve().parents[2]
GOOD = ROOT / "tests/data/entries/good"
HERE = os.getpid()


class Refused(Exception):
    """Cannot be pickled and made again: it wants what it was made of."""

    def __init__(self, number: int, *, why: str) -> None:
        super().__init__(f"{number}: {why}")
        self.number = number


@pytest.fixture(autouse=True)
def three(monkeypatch: pytest.MonkeyPatch) -> None:
    """Threads of the test's runner do not keep it from forking."""
    monkeypatch.setattr(workers, "cores", lambda: 3)


def _job(number: int, *, refused: tuple[int, ...] = (), dying: tuple[int, ...] = ()) -> int:
    if number in refused:
        raise Refused(number, why="refused")
    if number in dying and os.getpid() != HERE:
        os.kill(os.getpid(), signal.SIGKILL)
    return number * number


def test_results_come_in_the_order_of_the_jobs() -> None:
    jobs = [partial(_job, i) for i in range(101)]
    assert list(on_all_cores(jobs, share=7, least=2)) == [i * i for i in range(101)]


def test_results_larger_than_a_pipe_arrive_whole() -> None:
    jobs = [partial(bytes, 300_000 + i) for i in range(9)]
    assert [len(raw) for raw in on_all_cores(jobs, share=2, least=2)] == [
        300_000 + i for i in range(9)
    ]


def test_the_first_error_in_order_is_raised_as_it_is_here() -> None:
    jobs = [partial(_job, i, refused=(23, 11)) for i in range(40)]
    done = on_all_cores(jobs, share=5, least=2)
    assert [next(done) for _ in range(11)] == [i * i for i in range(11)]
    with pytest.raises(Refused, match="11: refused") as refused:
        next(done)
    assert refused.value.number == 11


def test_what_goes_down_with_its_worker_is_done_here() -> None:
    jobs = [partial(_job, i, dying=(0, 8, 19)) for i in range(20)]
    assert list(on_all_cores(jobs, share=3, least=2)) == [i * i for i in range(20)]


def _children() -> set[str]:
    """Return the processes begun here; a browser that other tests share may be among them."""
    begun = set()
    for stat in Path("/proc").glob("[0-9]*/stat"):
        with suppress(OSError):
            # After the name in brackets: the state, then the parent (proc(5)).
            parent = stat.read_text(encoding="utf-8").rpartition(")")[2].split()[1]
            if int(parent) == os.getpid():
                begun.add(stat.parent.name)
    return begun


def test_no_worker_outlives_whoever_stops_listening() -> None:
    done = on_all_cores([partial(time.sleep, 0.02 * i) for i in range(60)], share=1, least=2)
    before = _children()
    next(done)
    assert _children() - before
    assert isinstance(done, GeneratorType)
    done.close()
    assert _children() <= before


def test_a_job_goes_on_meanwhile_and_its_error_comes_where_it_is_asked_for() -> None:
    with meanwhile(os.getpid, worth=True) as pid, meanwhile(tuple[int, ...], worth=True) as empty:
        assert pid() == pid() != HERE
        assert empty() == ()
    refused = partial(_job, 3, refused=(3,))
    with meanwhile(refused, worth=True) as aside, pytest.raises(Refused):
        aside()


def _sums(site: Path) -> dict[str, str]:
    return {
        path.relative_to(site).as_posix(): hashlib.sha256(path.read_bytes()).hexdigest()
        for path in site.rglob("*")
        if path.is_file()
    }


@pytest.mark.usefixtures("charts_drawn_anew")
def test_one_two_and_three_workers_make_the_same_bytes(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    notes = Path(shutil.copytree(GOOD, tmp_path / "notes"))
    monkeypatch.setattr(write_pages, "FEW", 2)
    monkeypatch.setattr(write_pages, "SHARE", 2)
    found = []
    for count in (1, 2, 3):
        monkeypatch.setattr(workers, "cores", lambda count=count: count)
        shutil.rmtree(notes / ".build", ignore_errors=True)
        build(notes, out=notes / f"site{count}")
        kept = [path.read_bytes() for path in (notes / ".build/kept").glob("[0-9a-f]*.json")]
        found.append((_sums(notes / f"site{count}"), [sorted(text) for text in kept]))
    assert found[0] == found[1] == found[2]


def test_an_error_in_a_page_that_a_worker_makes_is_the_same_error(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    notes = Path(shutil.copytree(GOOD, tmp_path / "notes"))
    build(notes, out=notes / "site")
    before = _sums(notes / "site")
    in_worker = tmp_path / "in-worker"

    def broken(*_: object) -> Page:
        if os.getpid() != HERE:
            in_worker.touch()
        raise Refused(7, why="this page cannot be made")

    monkeypatch.setattr(make, "MAKERS", dict(make.MAKERS) | {make.Sensor: broken})
    monkeypatch.setattr(write_pages, "FEW", 2)
    shutil.rmtree(notes / ".build")
    with pytest.raises(Refused, match="7: this page cannot be made"):
        build(notes, out=notes / "site")
    assert in_worker.exists()
    assert _sums(notes / "site") == before
