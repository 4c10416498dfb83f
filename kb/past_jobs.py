"""Which cases tell one and the same job: it was one fault, and counts once."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping

from kb.model import Case
from kb.model.case import Reading


def same_jobs(cases: Iterable[Case]) -> Mapping[str, str]:
    """Return each case that tells a job again: its id → the id of the first that tells it.

    Notes
    -----
    A job is told again when family, day, code, machine, cause and every reading are the same, and
    at least one reading is a figure at a temperature: two machines do not meet in those by chance.
    """
    first: dict[tuple[object, ...], str] = {}
    again: dict[str, str] = {}
    for case in cases:
        if any(_telling(reading) for reading in case.readings):
            key = (*where_and_when(case), case.cause.key, _all_read(case))
            if first.setdefault(key, case.id) != case.id:
                again[case.id] = first[key]
    return again


def perhaps_same_jobs(cases: Iterable[Case]) -> Mapping[str, str]:
    """Return each case that may tell a job again, and surely not: its id → the id of the other.

    Of one family, day, code and machine, it has the same readings and another cause, readings that
    tell nothing apart, such as over range, or nothing read and the same words.
    """
    first: dict[tuple[object, ...], str] = {}
    perhaps: dict[str, str] = {}
    listed = list(cases)
    again = same_jobs(listed)
    for case in listed:
        substance = _all_read(case) if case.readings else (case.found, case.cure)
        key = (*where_and_when(case), substance)
        if first.setdefault(key, case.id) != case.id and case.id not in again:
            perhaps[case.id] = first[key]
    return perhaps


def counted_once(cases: Iterable[Case]) -> list[Case]:
    """Return the cases without those that tell a job again."""
    listed = list(cases)
    again = same_jobs(listed)
    return [case for case in listed if case.id not in again]


def _telling(reading: Reading) -> bool:
    return math.isfinite(reading.r) and reading.t_c is not None


def where_and_when(case: Case) -> tuple[object, ...]:
    """Return what every case of one job has in common: family, day, code and machine."""
    return (case.family, case.on, case.code, (case.machine or "").casefold())


def _all_read(case: Case) -> tuple[object, ...]:
    return tuple(
        (reading.sensor, reading.r, reading.t_c, reading.after) for reading in case.readings
    )
