"""A case is filled in before it counts, and a job is told once."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from functools import cache

from kb.model import Case
from kb.notes.load import Notes
from kb.notes.problem import Problem
from kb.past_jobs import perhaps_same_jobs, same_jobs, where_and_when
from kb.words.catalogue import languages, words_of

_HOW = {
    "found": "say what was found",
    "cure": "say what was done",
    "by": "write the initials of whoever was there",
}
_APART = "delete one of the two; for two machines, say in each which: 'machine: the left one'"


@cache
def _left_by_a_form() -> Mapping[str, frozenset[str]]:
    """Return what the phone's form says in each field where nobody wrote anything."""
    forms = [words_of(language)["case"] for language in languages()]
    return {name: frozenset(_plain(str(form[name])) for form in forms) for name in _HOW}


def cases_are_filled_in(case: Case, *, notes: Notes) -> Iterator[Problem]:
    """Yield each field that still says what the phone's form says where nobody wrote anything.

    The phone said it in its site's language, which this command need not speak.
    """
    for name, left in _left_by_a_form().items():
        if _plain(getattr(case, name)) in left:
            yield notes.problem(
                case,
                (name,),
                "not-filled-in",
                f"'{name}' is as the phone's form left it: nobody wrote it",
                hint=f"{_HOW[name]}, or leave the case out",
            )


def _plain(text: str) -> str:
    return text.casefold().strip(" .")


def job_of(case: Case) -> Iterator[str]:
    """Yield what two cases of one job have in common at least."""
    yield repr(where_and_when(case))


def jobs_are_told_once(cases: Sequence[Case], *, notes: Notes) -> Iterator[Problem]:
    """Warn of each case that tells a job again, or may."""
    for case_id, first in same_jobs(cases).items():
        yield notes.problem(
            notes.of(Case)[case_id],
            ("on",),
            "same-job",
            f"the case '{first}' tells this job too: same family, day, code, cause and readings; "
            "it counts once",
            hint=_APART,
            warning=True,
        )
    for case_id, other in perhaps_same_jobs(cases).items():
        yield notes.problem(
            notes.of(Case)[case_id],
            ("on",),
            "same-job",
            f"the case '{other}' may tell this job too: same family, day and code, and as much "
            "else; both count",
            hint=_APART,
            warning=True,
        )
