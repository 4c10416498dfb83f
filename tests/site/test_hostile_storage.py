"""Whatever a phone's storage holds, its pages come to life; what cannot be read stays there."""

from __future__ import annotations

import json
import random
from collections.abc import Callable

SEED, DRAWN = 16, 45
FAMILY = "osterlyn-coldroom"
JOBS, WHICH, HOME = f"jobs/{FAMILY}.html", "which.html", "index.html"
PAGES = {
    "ohm.opened": (HOME,),
    "ohm.which": (WHICH,),
    "ohm.jobs.current": (JOBS, f"families/{FAMILY}.html"),
    "ohm.job.a": (JOBS,),
    f"ohm.job.{FAMILY}": (JOBS,),
    f"ohm.typed.{FAMILY}": (JOBS,),
    "ohm.look": (HOME,),
    "ohm.unit": (HOME,),
    "ohm.by": (JOBS,),
    "ohm.practised": ("drills.html",),
}
"""Key of the storage → the pages that read it."""
SHAPES = ("null", "3", '"x"', "[]", "{}", "[null]", "[[null]]", '{"a": null}', "{", "\ufeff")
TIME = "2026-03-01T08:00:00Z"
MEASURED = {"id": 1, "what": "reading", "of": "a", "after": False, "time": TIME, "typed": {}}
JOB: dict[str, object] = {
    "id": "a",
    "version": 1,
    "family": FAMILY,
    "mark": "RT-1",
    "plate": "",
    "codes": [],
    "opened": TIME,
    "touched": TIME,
    "closed": "",
    "temperatures": {},
    "measurements": [],
    "ticks": {},
    "proofs": {},
    "settings": {},
    "words": {},
    "photos": [],
    "beside": "",
}
SPOILT: tuple[object, ...] = (None, 3, "x", [None], {"a": None})
FOUND = (
    ("ohm.which", "{}"),
    ("ohm.which", "[null]"),
    ("ohm.opened", "[null]"),
    ("ohm.jobs.current", "3"),
    (f"ohm.typed.{FAMILY}", '{"a": null}'),
    ("ohm.job.a", json.dumps(JOB | {"plate": None})),
    ("ohm.job.a", json.dumps(JOB | {"codes": None})),
    ("ohm.job.a", json.dumps(JOB | {"ticks": {"a": None}})),
)
"""What killed a page once."""


def spoilt_jobs() -> list[str]:
    """Return jobs with one field each that holds something else."""
    jobs = [JOB | {field: spoilt} for field in JOB for spoilt in SPOILT]
    for field in MEASURED:
        jobs += [JOB | {"measurements": [MEASURED | {field: spoilt}]} for spoilt in SPOILT]
    return [json.dumps(job) for job in jobs]


def values() -> list[tuple[str, str]]:
    """Return (key, what it holds): what was found once, and a drawing from all."""
    every = [(key, shape) for key in PAGES for shape in SHAPES]
    every += [("ohm.job.a", job) for job in spoilt_jobs()]
    return [*FOUND, *random.Random(SEED).sample(every, DRAWN)]


def test_no_value_in_the_storage_kills_a_page(
    phone: object, home_file: str, record_property: Callable[[str, object], None]
) -> None:
    page, faults, loads = phone.page, [], 0
    at: list[object] = []
    page.on("pageerror", lambda error: faults.append((*at, str(error))))
    page.goto(home_file)
    for key, value in values():
        for path in PAGES[key]:
            at[:] = [path, key, value]
            page.evaluate(
                """([key, value, current]) => {
                  localStorage.clear();
                  localStorage.setItem('ohm.jobs.current', current);
                  localStorage.setItem(key, value);
                }""",
                [key, value, json.dumps({FAMILY: "a"})],
            )
            page.goto(home_file.replace(HOME, path))
            if key == "ohm.job.a":
                assert page.evaluate("() => localStorage.getItem('ohm.job.a')") == value
            loads += 1
    assert faults == []
    record_property("tried", ("hostile values in a phone's storage", f"{loads} loads, 0 faults"))
