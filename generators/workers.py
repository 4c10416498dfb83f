"""Do many alike jobs on all cores, in forked workers; where that is not safe, one after the other.

A worker only saves time. A job that fails in one, or that goes down with it, is done again here: it
ends in the same result or the same error, from the same place, as if there were no workers.
"""

from __future__ import annotations

import gc
import os
import signal
import sys
import threading
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager, suppress
from multiprocessing.connection import Connection, Pipe, wait
from typing import TypeVar

R = TypeVar("R")
Job = Callable[[], R]
Arriving = Iterator[tuple[int, list[R]]]
"""The number of a share of the jobs, and the results as far as the first job that failed."""
AHEAD = 2
"""So many shares a worker is given at first, so that it never waits for the next."""


def cores() -> int:
    """Return how many processes may be at work at a time: 1 where forking is not safe.

    With a second thread a fork may copy a lock that nobody will open; elsewhere than on Linux
    system libraries are not made for it.
    """
    if sys.platform != "linux" or threading.active_count() > 1:
        return 1
    return len(os.sched_getaffinity(0))


def on_all_cores(jobs: Sequence[Job[R]], *, share: int, least: int) -> Iterator[R]:
    """Yield what each job returns, in the order of the jobs.

    Parameters
    ----------
    jobs : sequence of callables without arguments
        What they return can be pickled; where they write they do not meet.
    share : int
        So many at most are handed to a worker at a time.
    least : int
        Fewer jobs are not worth a second process.
    """
    workers = min(cores(), len(jobs))
    if len(jobs) < least or workers < 2:
        for job in jobs:
            yield job()
        return
    size = max(1, min(share, len(jobs) // (AHEAD * workers)))
    shares = [jobs[i : i + size] for i in range(0, len(jobs), size)]
    with _working(shares, workers=workers) as arriving:
        known: dict[int, list[R]] = {}
        for i in range(len(shares)):
            while i not in known and (arrived := next(arriving, None)):
                known.update([arrived])
            done = known.pop(i, [])
            yield from done
            for job in shares[i][len(done) :]:
                yield job()


@contextmanager
def meanwhile(job: Job[R], *, worth: bool) -> Iterator[Job[R]]:
    """Begin a job in a worker; what the block is handed waits for it, and returns what it returns.

    Parameters
    ----------
    job : callable without arguments
    worth : bool
        Whether it takes long enough; else it is done when it is asked for.
    """
    if not worth or cores() < 2:
        yield job
        return
    with _working([[job]], workers=1) as arriving:
        known: list[R] = []

        def result() -> R:
            for _, done in arriving:
                known.extend(done)
            return known[0] if known else job()

        yield result


@contextmanager
def _working(shares: Sequence[Sequence[Job[R]]], *, workers: int) -> Iterator[Arriving[R]]:
    """Start workers; within the block their results come as they are ready."""
    pids: list[int] = []
    lines: list[Connection] = []
    # What lives now lives on: a look for garbage would copy all of it into each worker.
    gc.freeze()
    # A terminal sends Ctrl-C to the workers too; they are born deaf to it and stop with us.
    before = signal.pthread_sigmask(signal.SIG_BLOCK, {signal.SIGINT})
    try:
        try:
            for _ in range(workers):
                ours, theirs = Pipe()
                pid = os.fork()
                if not pid:
                    _work(shares, line=theirs, others=[*lines, ours])
                theirs.close()
                pids.append(pid)
                lines.append(ours)
        finally:
            signal.pthread_sigmask(signal.SIG_SETMASK, before)
        yield _arriving(lines, shares=len(shares))
    finally:
        for pid in pids:
            os.kill(pid, signal.SIGKILL)
            os.waitpid(pid, 0)
        for line in lines:
            line.close()
        gc.unfreeze()


def _work(
    shares: Sequence[Sequence[Job[R]]], *, line: Connection, others: Sequence[Connection]
) -> None:
    """Do shares until nobody asks for more, and end: a worker never returns."""
    # Whoever started us holds the other ends alone: when it is gone, so are we.
    for other in others:
        other.close()
    with suppress(BaseException):
        while True:
            i = line.recv()
            line.send((i, _results(shares[i])))
    os._exit(0)


def _results(share: Sequence[Job[R]]) -> list[R]:
    """Return what the jobs return, as far as the first that fails: that is done again elsewhere."""
    done: list[R] = []
    with suppress(Exception):
        for job in share:
            done.append(job())
    return done


def _arriving(lines: Sequence[Connection], *, shares: int) -> Arriving[R]:
    """Hand out the shares by their numbers, and yield the results, until no worker has any left."""
    left = iter(range(shares))
    owed = dict.fromkeys(lines, 0)
    for _ in range(AHEAD):
        for line in lines:
            owed[line] += _given(line, left)
    while waiting := [line for line in lines if owed[line]]:
        ready = wait(waiting)
        for line in [line for line in waiting if line in ready]:
            try:
                arrived = line.recv()
            except (EOFError, OSError):
                owed[line] = 0
                continue
            owed[line] += _given(line, left) - 1
            yield arrived


def _given(line: Connection, left: Iterator[int]) -> int:
    """Give a worker the next share; return how many it was given, none when it is gone."""
    for i in left:
        with suppress(OSError):
            line.send(i)
            return 1
        break
    return 0
