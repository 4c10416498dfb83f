"""What waits for the keeper: entries to check, to complete or to look at again, most used first."""

from __future__ import annotations

import datetime
from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from statistics import median

from kb.answers.statement import Statement
from kb.catalog import Catalog, reading_order
from kb.field_readings import good_readings
from kb.model import KINDS, Case, Code, Curve, Drawing, Entry, Family, Sensor, Slip
from kb.model.shape import references
from kb.notes.problem import Problem

LEAST_JOBS = 2
"""Past jobs that must contradict a code: one may be an odd day (common practice, no source)."""
LEAST_READINGS = 3
OFF_K = 3.0
"""Sound readings off by more than this and the part's tolerance, all one way, are no chance:
common practice, no source."""


@dataclass(frozen=True, kw_only=True)
class OpenSlip:
    """What somebody of the team found wrong, for the keeper alone."""

    slip: Slip
    file: str
    outdated: bool
    """Whether the entry has changed since it was read."""


@dataclass(frozen=True, kw_only=True)
class Due:
    """One thing to do to one entry, or to a file that holds none."""

    entry: Entry | None
    file: str
    """Where it is done."""
    reason: str
    """What kind of thing it is: a name of the catalogue's section `due-reason`."""
    why: Statement
    """What is wrong or missing."""
    jobs: int
    """Past jobs that came by this entry."""
    named: int
    """Entries that name it."""
    line: int = 1
    """Where it stands in the entry's file."""
    slip: OpenSlip | None = None
    """The slip that says so."""


@dataclass(frozen=True)
class Keeping:
    """The notes as their keeper sees them on one day.

    Parameters
    ----------
    catalog : Catalog
    today : date
        The day to count an entry's age to; a build takes the newest day that the notes name.
    publishing : sequence of Problem
        What `pack` would refuse or ask, by `kb.check.publishing`.
    """

    catalog: Catalog
    today: datetime.date
    publishing: Sequence[Problem] = ()
    _names: dict[tuple[str, str], frozenset[tuple[str, str]]] = field(
        default_factory=dict, compare=False, repr=False
    )

    def all(self) -> list[Due]:
        """Return everything that is due: what stops a release, then what most past jobs came by."""
        found = [due for entry in self._entries() for due in self._of(entry)]
        found += self._beside_entries()
        found += map(self._unpublished, self.publishing)
        return sorted(found, key=_most_used_first)

    def _entries(self) -> Iterator[Entry]:
        for kind in KINDS:
            yield from self.catalog.notes.of_kind(kind).values()

    def _of(self, entry: Entry) -> Iterator[Due]:
        yield from self._found_wrong(entry)
        lacking = self._incomplete(entry)
        statements = [*self._unread(entry), *lacking, *self._contradicted(entry)]
        for statement in statements:
            yield self._due(entry, statement)
        yield from self._warned(entry)

    def _due(
        self, entry: Entry, why: Statement, *, line: int = 1, slip: OpenSlip | None = None
    ) -> Due:
        return Due(
            entry=entry,
            file=self.catalog.notes.texts[(entry.kind, entry.id)].file,
            reason=why.id.partition(".")[2],
            why=why,
            jobs=len(self._jobs[(entry.kind, entry.id)]),
            named=len(self.catalog.users_of(entry, Entry)),
            line=line,
            slip=slip,
        )

    def _found_wrong(self, entry: Entry) -> Iterator[Due]:
        """Yield each open slip of the team; what it says is for the keeper alone."""
        for file, slip in self.catalog.open_slips(entry).items():
            now = self.catalog.notes.texts[(entry.kind, entry.id)].version
            outdated = slip.version is not None and slip.version != now
            found = OpenSlip(slip=slip, file=file, outdated=outdated)
            yield self._due(entry, Statement(id="due.slip"), slip=found)

    def _unread(self, entry: Entry) -> Iterator[Statement]:
        """Yield that nobody has checked an entry, or not for too long; a case stands for itself."""
        if isinstance(entry, Case):
            return
        if entry.checked is None:
            yield Statement(id="due.unchecked")
            return
        limit = self.catalog.team.check_again_after_days
        age = (self.today - entry.checked.on).days
        if age > limit:
            yield Statement(
                id="due.old",
                figures={"on": entry.checked.on.isoformat(), "days": age, "limit": limit},
            )

    def _incomplete(self, entry: Entry) -> Iterator[Statement]:
        """Yield what an entry lacks that somebody at the machine would look for."""
        if isinstance(entry, Sensor):
            if entry.pinned is None:
                yield Statement(id="due.no-pin")
            # A contact meets no temperatures, and needs none.
            if entry.curve is None and entry.meets_c is not None and entry.testable:
                yield Statement(id="due.no-curve")
        if isinstance(entry, Curve):
            curve = self.catalog.computing_curves.get(entry.id)
            if curve is not None and not curve.tolerance_known:
                yield Statement(id="due.no-tolerance")
        if isinstance(entry, Family):
            drawings = [self.catalog.get(Drawing, drawing_id) for drawing_id in entry.drawings]
            if not drawings:
                yield Statement(id="due.no-drawing")
            elif not any(drawing.photo for drawing in drawings):
                yield Statement(id="due.no-photo")

    def _contradicted(self, entry: Entry) -> Iterator[Statement]:
        """Yield what past jobs say against an entry."""
        if isinstance(entry, Code):
            past = self.catalog.cases_of(entry)
            listed = {suspect.key for suspect in entry.suspects}
            strange = [case for case in past if case.cause.key not in listed]
            if len(strange) >= LEAST_JOBS:
                figures = {"count": len(strange), "of": len(past)}
                yield Statement(id="due.other-cause", figures=figures)
        if isinstance(entry, Sensor):
            yield from self._off_curve(entry)

    def _off_curve(self, sensor: Sensor) -> Iterator[Statement]:
        curve = self.catalog.computing_curves.get(sensor.curve or "")
        if curve is None:
            return
        sound = good_readings(sensor, curve=curve, cases=self.catalog.users_of(sensor, Case))
        errors_k = [found.error_k for found in sound]
        if len(sound) < LEAST_READINGS or min(errors_k) < 0 < max(errors_k):
            return
        temperatures_c = [curve.t_c(found.reading.r) for found in sound]
        limits_k = [OFF_K + float(curve.tol_k(t_c)) for t_c in temperatures_c]
        if all(abs(off) > limit for off, limit in zip(errors_k, limits_k, strict=True)):
            figures = {"count": len(sound), "off_k": median(errors_k)}
            yield Statement(id="due.off-curve", figures=figures)

    def _warned(self, entry: Entry) -> Iterator[Due]:
        """Yield what `check` warns of in the entry's file."""
        file = self.catalog.notes.texts[(entry.kind, entry.id)].file
        for problem in self._warnings.get(file, ()):
            yield self._due(entry, _warning(problem), line=problem.line)

    def _beside_entries(self) -> Iterator[Due]:
        """Yield what `check` warns of elsewhere: in pages, in team.yaml, in slips about nothing."""
        notes = self.catalog.notes
        for file, problems in self._warnings.items():
            if file in self._entry_of:
                continue
            slip = notes.slips.get(file)
            found = OpenSlip(slip=slip, file=file, outdated=False) if slip else None
            for problem in problems:
                yield _of_file(problem, why=_warning(problem), slip=found)

    def _unpublished(self, problem: Problem) -> Due:
        unknown = problem.rule == "no-number"
        name = "due.no-number" if unknown else "due.refused"
        why = Statement(id=name, figures={} if unknown else {"message": problem.message})
        entry = self._entry_of.get(problem.file)
        if entry is None:
            return _of_file(problem, why=why)
        return self._due(entry, why, line=problem.line)

    @cached_property
    def _warnings(self) -> Mapping[str, list[Problem]]:
        by_file: dict[str, list[Problem]] = defaultdict(list)
        for problem in self.catalog.notes.problems:
            if problem.warning:
                by_file[problem.file].append(problem)
        return by_file

    @cached_property
    def _entry_of(self) -> Mapping[str, Entry]:
        """The entry that each file holds."""
        notes = self.catalog.notes
        return {notes.texts[(entry.kind, entry.id)].file: entry for entry in self._entries()}

    @cached_property
    def _jobs(self) -> Mapping[tuple[str, str], set[str]]:
        """Past jobs that came by an entry: from their code, cause and readings on, step by step.

        A family would lead to everything that is on it, so no way goes through one.
        """
        jobs: dict[tuple[str, str], set[str]] = defaultdict(set)
        for case in self.catalog.all(Case).values():
            seen = {(case.kind, case.id)}
            ahead = [(case.kind, case.id)]
            while ahead:
                for target in self._named_by(ahead.pop()) - seen:
                    seen.add(target)
                    if target[0] != Family.kind:
                        ahead.append(target)
            for key in seen:
                jobs[key].add(case.id)
        return jobs

    def _named_by(self, key: tuple[str, str]) -> frozenset[tuple[str, str]]:
        """Return (kind, id) of every entry that an entry names."""
        # Many jobs come by the same entries.
        if key not in self._names:
            notes = self.catalog.notes
            named = {
                (kind, target) for _, kind, target in references(notes.of_kind(key[0])[key[1]])
            }
            self._names[key] = frozenset(to for to in named if to[1] in notes.of_kind(to[0]))
        return self._names[key]


def waiting_as_built(catalog: Catalog) -> list[Due]:
    """Return what is due without asking a clock: ages count to the newest day of the notes."""
    return Keeping(catalog, catalog.newest_day or datetime.date.min).all()


def _warning(problem: Problem) -> Statement:
    return Statement(id="due.warned", figures={"message": problem.message})


def _of_file(problem: Problem, *, why: Statement, slip: OpenSlip | None = None) -> Due:
    """Return something to do to a file that is no entry's."""
    return Due(
        entry=None,
        file=problem.file,
        reason=why.id.partition(".")[2],
        why=why,
        jobs=0,
        named=0,
        line=problem.line,
        slip=slip,
    )


def _most_used_first(due: Due) -> tuple[object, ...]:
    entry = due.entry
    place = KINDS[entry.kind].home_place if entry is not None else 0
    order = reading_order(entry) if entry is not None else ()
    stops = due.reason != "refused"
    own = (due.slip is None, due.file, due.line, due.reason)
    return (stops, -due.jobs, -due.named, entry is None, place, order, *own)
