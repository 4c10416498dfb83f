"""What the notes answer to a question now, and whether it is what they answered a build ago.

Most questions need not be asked again: an answer is what it was while nothing changed of what it
shows, and nothing that changed can have come into it. What can touch the answer to which question
stands here; a question that is not named here is asked again.
"""

from __future__ import annotations

import datetime
import json
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import cast

from kb.catalog import Catalog
from kb.check.kept_notes import KeptNotes
from kb.model import KINDS, Curve, Entry, Instrument, Slip, Team, Term
from kb.model.shape import references
from kb.notes.load import Notes
from kb.numbers.characteristic import Characteristic
from kb.release_format.release_list import checksum

OF_NOTES = "notes."
TEXT = "text"
"""Asks for nothing of an entry's file but its name and its version."""
SLIPS = "slips"
"""Stands for every slip, as a kind does for its entries."""
ANY = "*"
"""Stands for every kind."""

OF_WHAT_IT_SHOWS = frozenset(
    (
        "get",
        TEXT,
        "users_of",
        "of_family",
        "family_of",
        "families_of",
        "codes_accusing",
        "sensors_plugged_into",
        "cases_of",
        "characteristic_of_sensor",
        "open_slips",
    )
)
"""Answered from the entries that are shown or asked about, and from what names these."""
OF_KINDS = {
    "characteristic": (Curve.kind,),
    "characteristic_of_sensor": (Curve.kind,),
    "computing_curves": (Curve.kind,),
    "terms_for": (Term.kind,),
    "all_terms": (Term.kind,),
    "meters": (Instrument.kind,),
    "thermometers": (Instrument.kind,),
    "insulation_testers": (Instrument.kind,),
    "open_slips": (SLIPS,),
}
"""Question → the kinds of which any entry may have a part in its answer, shown or not."""
OF_THE_KIND_ASKED = frozenset(("all", "notes.of", "notes.of_kind"))

States = Mapping[str, str]
"""The file of each entry, as `kind/id`, and of each slip, with the checksum of its bytes."""


class NotComparable(TypeError):
    """A question or an answer that cannot be held against an earlier one."""


@dataclass(frozen=True)
class Answer:
    """What the notes answer, as far as two answers are told apart by it."""

    checksum: str
    shows: tuple[str, ...]
    """Every entry in it and in its question, as `kind/id`."""


def states_of(notes: Notes) -> dict[str, str]:
    """Return what every answer comes from, file by file."""
    states = {f"{SLIPS}/{file}": read.checksum for file, read in notes.slip_texts.items()}
    if isinstance(notes, KeptNotes):
        for (kind, entry_id), state in notes.states.items():
            states[f"{kind}/{entry_id}"] = f"{notes.files[(kind, entry_id)]}={state}"
    else:
        for (kind, entry_id), read in notes.texts.items():
            states[f"{kind}/{entry_id}"] = f"{read.file}={read.checksum}"
    return states


class Answers:
    """What the notes answer to any question now, each worked out once.

    Parameters
    ----------
    catalog : Catalog
    before : mapping of question → Answer
        What was answered to them in a build.
    then : States
        What the notes were in that build.
    """

    def __init__(
        self,
        catalog: Catalog,
        *,
        before: Mapping[str, Answer] | None = None,
        then: States | None = None,
    ) -> None:
        self.states = states_of(catalog.notes)
        self._catalog = catalog
        self._known: dict[str, Answer | None] = {}
        self._differing = self._held_against(before or {}, then=then or {})

    def to(self, question: str) -> Answer | None:
        """Return an answer; None for one that cannot be given, or not be told from another."""
        if question not in self._known:
            self._known[question] = self._asked(question)
        return self._known[question]

    def stand(self, questions: Iterable[str]) -> bool:
        """Return whether questions that were asked in that build are answered as they were."""
        return self._differing.isdisjoint(questions)

    def _held_against(self, before: Mapping[str, Answer], *, then: States) -> frozenset[str]:
        """Return the questions that are answered otherwise now."""
        now = self.states
        changed = {key for key in then.keys() | now.keys() if then.get(key) != now.get(key)}
        touched = _touched_by(changed, catalog=self._catalog)
        differing = set()
        for question, answer in before.items():
            if touched.spares(question, shows=answer.shows):
                self._known[question] = answer
            elif self.to(question) != answer:
                differing.add(question)
        return frozenset(differing)

    def _asked(self, question: str) -> Answer | None:
        shows: dict[str, None] = {}
        try:
            name, *arguments = json.loads(question)
            given = [self._argument(argument) for argument in arguments]
            shows.update((_key(each), None) for each in given if isinstance(each, Entry))
            if name == TEXT:
                return Answer(sum_of(self._file(cast(Entry, given[0]))), tuple(shows))
            holder: object = self._catalog
            if name.startswith(OF_NOTES):
                holder, name = self._catalog.notes, name.removeprefix(OF_NOTES)
            value = getattr(holder, name)
            text = self._print(value(*given) if callable(value) else value, shows)
            return Answer(sum_of(text), tuple(shows))
        except (LookupError, AttributeError, TypeError, ValueError):
            return None

    def _argument(self, argument: list[str]) -> object:
        match argument:
            case ["kind", "*"]:
                return Entry
            case ["kind", kind]:
                return KINDS[kind]
            case ["entry", kind, entry_id]:
                return self._catalog.notes.of_kind(kind)[entry_id]
            case ["text", text]:
                return text
        raise NotComparable(argument)

    def _file(self, entry: Entry) -> str:
        read = self._catalog.notes.texts[(entry.kind, entry.id)]
        if not read.checksum:
            raise NotComparable(read.file)
        return f"{read.file}={read.checksum}"

    def _print(self, value: object, shows: dict[str, None]) -> str:
        """Return an answer as text that is another for every other answer; note what it shows."""
        match value:
            case Entry():
                shows[_key(value)] = None
                return f"<{value.kind} {value.id} {self._file(value)}>"
            case Team() | Slip():
                return value.model_dump_json()
            case Characteristic():
                return self._print(self._catalog.get(Curve, value.id), shows)
            case None | str() | bool() | int() | float() | datetime.date():
                return repr(value)
            case list() | tuple():
                return f"[{','.join(self._print(item, shows) for item in value)}]"
            case Mapping():
                pairs = (
                    f"{self._print(key, shows)}:{self._print(value[key], shows)}" for key in value
                )
                return f"{{{','.join(pairs)}}}"
        raise NotComparable(type(value).__name__)


@dataclass(frozen=True)
class _Touched:
    """What changes of the notes reach."""

    changed: frozenset[str]
    """The entries and slips that came, went, or are others than they were, as `kind/id`."""
    kinds: frozenset[str]
    """Their kinds."""
    named: frozenset[str]
    """The ids that they name now, and their own."""

    def spares(self, question: str, *, shows: Iterable[str]) -> bool:
        """Return whether nothing of it can touch the answer to a question."""
        name, *arguments = json.loads(question)
        if name in OF_THE_KIND_ASKED:
            kind = arguments[0][-1]
            return kind not in self.kinds and (kind != ANY or not self.kinds)
        if name not in OF_WHAT_IT_SHOWS:
            return name in OF_KINDS and self.kinds.isdisjoint(OF_KINDS[name])
        return (
            self.kinds.isdisjoint(OF_KINDS.get(name, ()))
            and self.changed.isdisjoint(shows)
            and self.named.isdisjoint([argument[-1] for argument in arguments])
        )


def _touched_by(changed: set[str], *, catalog: Catalog) -> _Touched:
    named: set[str] = set()
    for kind, _, entry_id in (key.partition("/") for key in changed):
        named.add(entry_id)
        entry = catalog.notes.of_kind(kind).get(entry_id) if kind != SLIPS else None
        if entry is not None:
            named.update(target for _, _, target in references(entry))
            named.update(entry.family_ids)
    kinds = frozenset(key.partition("/")[0] for key in changed)
    return _Touched(frozenset(changed), kinds, frozenset(named))


def _key(entry: Entry) -> str:
    return f"{entry.kind}/{entry.id}"


def sum_of(text: str) -> str:
    """Return the checksum of a text, in which lone surrogates may stand."""
    return checksum(text.encode("utf-8", "surrogatepass"))
