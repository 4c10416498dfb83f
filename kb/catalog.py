"""The notes as something to look things up in: each question between entries stands here once."""

from __future__ import annotations

import datetime
import re
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from functools import cached_property
from pathlib import Path
from typing import TypeVar

from kb.characteristics import characteristic_of
from kb.made_pages import photos_of
from kb.model import Case, Code, Curve, Entry, Family, Instrument, Part, Sensor, Slip, Team, Term
from kb.model.code import Shown
from kb.model.shape import references
from kb.notes.late import LateNotes
from kb.notes.load import Notes
from kb.numbers.characteristic import Characteristic
from kb.photos import upright_size
from kb.term_words import forms_of, mentions, passing, shown_words
from kb.words.spoken_blinks import spoken_blinks

E = TypeVar("E", bound=Entry)


@dataclass(frozen=True)
class Catalog:
    """Typed look-ups over loaded notes; what is asked twice is worked out once."""

    notes: Notes
    _characteristics: dict[str, Characteristic | None] = field(
        default_factory=dict, compare=False, repr=False
    )
    _of_family: dict[tuple[str, str], list[Entry]] = field(
        default_factory=dict, compare=False, repr=False
    )

    @property
    def team(self) -> Team:
        """Whose notes these are.

        Raises
        ------
        LookupError
            If the notes have no readable `team.yaml`, which `check` refuses.
        """
        if self.notes.team is None:
            raise LookupError("the notes have no team")
        return self.notes.team

    def all(self, model: type[E]) -> Mapping[str, E]:
        """Return every entry of a kind by id, in order of id."""
        return self.notes.of(model)

    def get(self, model: type[E], entry_id: str) -> E:
        """Return the entry of that kind and id; KeyError if there is none."""
        return self.notes.of(model)[entry_id]

    @cached_property
    def newest_day(self) -> datetime.date | None:
        """The newest day that any entry names: checked on, or a job's date."""
        days = (
            day
            for kind in self.notes.entries
            for entry in self.notes.of_kind(kind).values()
            for day in _days_of(entry)
        )
        return max(days, default=None)

    # --- photos

    @cached_property
    def photos(self) -> Mapping[str, Path]:
        """The file of each photo by its path in the site."""
        return {path: self.notes.folder / file for path, file in photos_of(self.notes).items()}

    def photo_size(self, path: str) -> tuple[int, int]:
        """Return width and height of a photo as it stands upright, by its path in the site.

        Raises
        ------
        PhotoRefused, OSError
            When it cannot be read, which `check` refuses.
        """
        return upright_size(self.photos[path])

    # --- families

    def of_family(self, model: type[E], family_id: str) -> list[E]:
        """Return a family's entries of a kind, in reading order."""
        # Every page of a family asks, and sorting a thousand sensors a thousand times takes long.
        key = (model.kind, family_id)
        if key not in self._of_family:
            self._of_family[key] = sorted(self._in_family(model, family_id), key=reading_order)
        return [entry for entry in self._of_family[key] if isinstance(entry, model)]

    def _in_family(self, model: type[E], family_id: str) -> Iterable[Entry]:
        if isinstance(self.notes, LateNotes):
            named = self._naming(model, family_id)
            return [entry for entry in named if family_id in entry.family_ids]
        return self._by_family.get((model.kind, family_id), [])

    @cached_property
    def _by_family(self) -> dict[tuple[str, str], list[Entry]]:
        found: dict[tuple[str, str], list[Entry]] = defaultdict(list)
        for kind in self.notes.entries:
            for entry in self.notes.of_kind(kind).values():
                for family_id in dict.fromkeys(entry.family_ids):
                    found[(kind, family_id)].append(entry)
        return found

    def family_of(self, entry: Sensor | Code | Case) -> Family:
        """Return the family that an entry belongs to."""
        return self.get(Family, entry.family)

    def families_of(self, part: Part) -> list[Family]:
        """Return the families that a part is on, in the order its entry names them."""
        return [self.get(Family, family_id) for family_id in part.families]

    # --- who names whom

    @cached_property
    def _users(self) -> dict[tuple[str, str], list[Entry]]:
        users: dict[tuple[str, str], dict[tuple[str, str], Entry]] = defaultdict(dict)
        for kind in self.notes.entries:
            for entry in self.notes.of_kind(kind).values():
                for _, target_kind, target_id in references(entry):
                    users[(target_kind, target_id)][(kind, entry.id)] = entry
        return {target: [found[key] for key in sorted(found)] for target, found in users.items()}

    def users_of(self, entry: Entry, model: type[E]) -> list[E]:
        """Return the entries of a kind that name this one, in order of id."""
        key = (entry.kind, entry.id)
        if isinstance(self.notes, LateNotes):
            return [user for user in self._naming(model, entry.id) if key in _named_by(user)]
        return [user for user in self._users.get(key, []) if isinstance(user, model)]

    def _naming(self, model: type[E], entry_id: str) -> Iterator[E]:
        """Yield the entries of a kind that may name an id, in order of id."""
        entries = self.all(model)
        return (entries[found] for found in self.notes.naming(model.kind, entry_id))

    def named(self) -> set[tuple[str, str]]:
        """Return (kind, id) of everything that some entry names."""
        return set(self._users)

    def codes_accusing(self, accused: Sensor | Part) -> list[Code]:
        """Return the codes that have a sensor or part among their suspects."""
        key = ("sensor" if isinstance(accused, Sensor) else "part", accused.id)
        return [
            code
            for code in self.users_of(accused, Code)
            if any(suspect.key == key for suspect in code.suspects)
        ]

    def sensors_plugged_into(self, board: Part) -> list[Sensor]:
        """Return the sensors whose plug is on a board."""
        return [
            sensor
            for sensor in self.users_of(board, Sensor)
            if sensor.plug is not None and sensor.plug.board == board.id
        ]

    def cases_of(self, code: Code) -> list[Case]:
        """Return the past jobs of a code, newest first."""
        return sorted(
            (case for case in self.users_of(code, Case) if case.code == code.id),
            key=lambda case: (case.on, case.id),
            reverse=True,
        )

    def open_slips(self, entry: Entry) -> dict[str, Slip]:
        """Return what the team found wrong with an entry and nobody has settled, by file."""
        return {
            file: slip
            for file, slip in self.notes.slips.items()
            if slip.about == (entry.kind, entry.id) and slip.settled is None
        }

    # --- curves

    def characteristic(self, curve_id: str) -> Characteristic | None:
        """Return a curve ready to compute; None for a switching PTC, which is no curve.

        Raises
        ------
        ValueError
            If the entry's law or tolerance does not hold over its range, which `check` refuses.
        """
        if curve_id not in self._characteristics:
            self._characteristics[curve_id] = characteristic_of(self.get(Curve, curve_id))
        return self._characteristics[curve_id]

    def characteristic_of_sensor(self, sensor: Sensor) -> Characteristic | None:
        """Return a sensor's curve ready to compute; None where it has none that computes."""
        return None if sensor.curve is None else self.characteristic(sensor.curve)

    @cached_property
    def computing_curves(self) -> Mapping[str, Characteristic]:
        """Every curve that computes, by id; `check` says what is wrong with the rest."""
        found = {}
        for curve_id in self.all(Curve):
            try:
                characteristic = self.characteristic(curve_id)
            except ValueError:
                continue
            if characteristic is not None:
                found[curve_id] = characteristic
        return found

    # --- terms

    @cached_property
    def _forms(self) -> Mapping[str, str]:
        return forms_of(self.all(Term).values())

    def terms_for(self, sieve: str) -> Mapping[str, str]:
        """Return form → term, of those that may stand in the words a sieve was made of."""
        return passing(self._forms, sieve=sieve)

    @property
    def all_terms(self) -> Mapping[str, str]:
        """Every form of every term → the term's id."""
        return self._forms

    @cached_property
    def _mentioning(self) -> Mapping[str, list[Entry]]:
        found: dict[str, list[Entry]] = defaultdict(list)
        for kind in self.notes.entries if self._forms else ():
            for entry in self.notes.of_kind(kind).values() if kind != Term.kind else ():
                for term_id in self.terms_in(entry):
                    found[term_id].append(entry)
        return found

    def terms_in(self, entry: Entry) -> Iterable[str]:
        """Return the terms that stand in an entry's words, each once."""
        return {mention.term_id for mention in mentions(shown_words(entry), forms=self._forms)}

    def mentioning(self, term_id: str) -> list[Entry]:
        """Return the entries in whose words a term stands, kind by kind, in reading order."""
        found: dict[str, list[Entry]] = defaultdict(list)
        for entry in self._mentioning.get(term_id, ()):
            found[entry.kind].append(entry)
        return [entry for of_kind in found.values() for entry in sorted(of_kind, key=reading_order)]

    # --- instruments

    def meters(self) -> list[Instrument]:
        """Return the instruments that read resistance, the team's own first, then by name."""
        meters = [tool for tool in self.all(Instrument).values() if tool.resistance]
        return _own_first(meters, self.notes.team.meter if self.notes.team else "")

    def thermometers(self) -> list[Instrument]:
        """Return the instruments that read temperature, the team's own first, then by name."""
        probes = [tool for tool in self.all(Instrument).values() if tool.temperature]
        return _own_first(probes, self.notes.team.thermometer if self.notes.team else "")

    def insulation_testers(self) -> list[Instrument]:
        """Return the instruments that test insulation, by name."""
        testers = [tool for tool in self.all(Instrument).values() if tool.insulation]
        return sorted(testers, key=lambda tool: tool.name)


def _named_by(entry: Entry) -> set[tuple[str, str]]:
    return {(kind, entry_id) for _, kind, entry_id in references(entry)}


def _days_of(entry: Entry) -> Iterator[datetime.date]:
    if entry.checked is not None:
        yield entry.checked.on
    if isinstance(entry, Case):
        yield entry.on


def _own_first(tools: Iterable[Instrument], own: str) -> list[Instrument]:
    return sorted(tools, key=lambda tool: (tool.id != own, tool.name.casefold(), tool.id))


def spoken(way: Shown) -> str:
    """Return how a code is shown, in the language in force: `E71`, `2 long 4 short`."""
    if way.blinks is None:
        return way.spoken()
    return spoken_blinks(way.blinks.long, short=way.blinks.short)


def shown_name(entry: Entry) -> str:
    """Return what to call an entry in a list: a code by how it is shown, a sensor by label."""
    if isinstance(entry, Code):
        return _led_by(spoken(entry.shown[0]), name=entry.name, between=": ")
    if isinstance(entry, Sensor):
        return _led_by(entry.label, name=entry.name, between=" ")
    return entry.name


def plain_name(entry: Entry) -> str:
    """Return an entry's name without the mark that stands beside it anyway."""
    if isinstance(entry, Code):
        return _without(spoken(entry.shown[0]), name=entry.name) or entry.name
    if isinstance(entry, Sensor):
        return _without(entry.label, name=entry.name) or entry.name
    return entry.name


def reading_order(entry: Entry) -> tuple[object, ...]:
    """Sort codes by how they are shown, sensors by label, parts by name: numbers as numbers."""
    if isinstance(entry, Case):
        return (-entry.on.toordinal(), entry.id)
    # Figures alone count: `²` is a digit to some and no number, and more than 18 are none either.
    pieces = re.split(r"(?<![0-9])([0-9]{1,18})(?![0-9])", shown_name(entry).casefold())
    return tuple((1, int(p), "") if i % 2 else (0, 0, p) for i, p in enumerate(pieces)), entry.id


def _led_by(mark: str, *, name: str, between: str) -> str:
    """Put a mark before a name, once: keepers often begin the name with it."""
    bare = _without(mark, name=name)
    return f"{mark}{between}{bare}" if bare else mark


def _without(mark: str, *, name: str) -> str:
    """Take a leading mark off a name, if it stands there as a word of its own."""
    rest = name.removeprefix(mark)
    return rest.lstrip(" :,") if rest == "" or rest[0] in " :," else name
