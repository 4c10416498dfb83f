"""Do many alike jobs on all cores, in forked workers; where that is not safe, one after the other.

A worker only saves time. A job that fails in one, or that goes down with it, is done again here: it
ends in the same result or the same error, from the same place, as if there were no workers.
"""

from __future__ import annotations

import gc
import os
import pickle
import selectors
import signal
import struct
import sys
import threading
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from typing import TypeVar

R = TypeVar("R")
Job = Callable[[], R]

_NUMBER = struct.Struct(">I")
_HEAD = struct.Struct(">IQ")
"""The number of a share of the jobs, and how many bytes its results have."""
_SHARES = 4_000
"""So many numbers fit into a pipe that nobody reads yet: 64 kB on Linux (pipe(7))."""
_AT_ONCE = 1 << 20


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
    size = max(1, min(share, len(jobs) // workers), -(-len(jobs) // _SHARES))
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
def _working(
    shares: Sequence[Sequence[Job[R]]], *, workers: int
) -> Iterator[Iterator[tuple[int, list[R]]]]:
    """Start workers; within the block their results come as they are ready."""
    orders, give = os.pipe()
    os.write(give, b"".join(_NUMBER.pack(i) for i in range(len(shares))))
    os.close(give)
    pids: list[int] = []
    pipes: list[int] = []
    # What lives now lives on: a look for garbage would copy all of it into each worker.
    gc.freeze()
    # A terminal sends Ctrl-C to the workers too; they are born deaf to it and stop with us.
    before = signal.pthread_sigmask(signal.SIG_BLOCK, {signal.SIGINT})
    try:
        try:
            for _ in range(workers):
                results, say = os.pipe()
                pid = os.fork()
                if not pid:
                    _work(shares, orders=orders, say=say, others=[*pipes, results])
                os.close(say)
                pids.append(pid)
                pipes.append(results)
        finally:
            signal.pthread_sigmask(signal.SIG_SETMASK, before)
        yield _arriving(pipes)
    finally:
        for pid in pids:
            os.kill(pid, signal.SIGKILL)
            os.waitpid(pid, 0)
        for pipe in (orders, *pipes):
            os.close(pipe)
        gc.unfreeze()


def _work(
    shares: Sequence[Sequence[Job[R]]], *, orders: int, say: int, others: Sequence[int]
) -> None:
    """Do shares until none is left, and end: a worker never returns."""
    try:
        # Whoever started us reads alone: when it is gone, what is said next ends us.
        for pipe in others:
            os.close(pipe)
        while number := os.read(orders, _NUMBER.size):
            (i,) = _NUMBER.unpack(number)
            raw = pickle.dumps(_results(shares[i]), pickle.HIGHEST_PROTOCOL)
            with open(say, "wb", closefd=False) as pipe_end:
                pipe_end.write(_HEAD.pack(i, len(raw)) + raw)
    except BaseException:
        os._exit(1)
    os._exit(0)


def _results(share: Sequence[Job[R]]) -> list[R]:
    """Return what the jobs return, as far as the first that fails."""
    done: list[R] = []
    try:
        for job in share:
            done.append(job())
    except Exception:
        # Done again where it can be said.
        pass
    return done


def _arriving(pipes: Sequence[int]) -> Iterator[tuple[int, list[R]]]:
    """Yield the number of each share and its results, until all workers have ended."""
    heard = {pipe: bytearray() for pipe in pipes}
    with selectors.DefaultSelector() as ready:
        for pipe in pipes:
            ready.register(pipe, selectors.EVENT_READ)
        while ready.get_map():
            for key, _ in ready.select():
                raw = os.read(key.fd, _AT_ONCE)
                if not raw:
                    ready.unregister(key.fd)
                heard[key.fd] += raw
                yield from _whole(heard[key.fd])


def _whole(heard: bytearray) -> Iterator[tuple[int, list[R]]]:
    """Take what is whole from the beginning of what was heard."""
    while len(heard) >= _HEAD.size:
        i, length = _HEAD.unpack_from(heard)
        end = _HEAD.size + length
        if len(heard) < end:
            return
        results: list[R] = pickle.loads(heard[_HEAD.size : end])
        del heard[:end]
        yield i, results
