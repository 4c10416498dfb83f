"""Which entry of the notes a row means by its label, code or name: looked up, not searched for."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import cached_property

from kb.columns.column import sheet_columns
from kb.columns.values import Value, at, shown_mark
from kb.examples import own_ids
from kb.notes.load import Notes

_Sign = tuple[object, ...]
"""What an entry may be meant by; equal signs mean the same entry."""


class StandingEntries:
    """The entries of one kind as a sheet's rows name them, before any of its rows is taken."""

    def __init__(self, notes: Notes, *, kind: str) -> None:
        self.notes = notes
        self.kind = kind

    @cached_property
    def only(self) -> Value:
        """The family and the source, where the notes have just one of each."""
        found: Value = {}
        fields = {column.field for column in sheet_columns(self.kind)}
        families = own_ids(self.notes, kind="families")
        sources = own_ids(self.notes, kind="sources")
        if len(families) == 1 and "families" in fields:
            found["families"] = families
        if len(families) == 1 and "family" in fields:
            found["family"] = families[0]
        if len(sources) == 1 and "source" in fields:
            found["source"] = sources[0]
        return found

    def meant(self, value: Value) -> str:
        """Return the entry that a row means by its family and label, shown code or name."""
        found = [self._by_sign[sign] for sign in self._signs(value) if sign in self._by_sign]
        return min(found)[1] if found else ""

    def sensor(self, family: str, *, label: str) -> str:
        """Return the sensor of a family that bears a label."""
        return self._sensors.get((family, label), "")

    @cached_property
    def _by_sign(self) -> dict[_Sign, tuple[int, str]]:
        """From a sign to the first entry that has it, with its place among them."""
        found: dict[_Sign, tuple[int, str]] = {}
        for place, (entry_id, stands) in enumerate(self._values(self.kind)):
            for sign in self._signs(stands, stands=True):
                found.setdefault(sign, (place, entry_id))
        return found

    @cached_property
    def _sensors(self) -> dict[_Sign, str]:
        found: dict[_Sign, str] = {}
        for sensor_id, stands in self._values("sensors"):
            found.setdefault(
                _hashable(at(stands, way=("family",)), at(stands, way=("label",))), sensor_id
            )
        return found

    def _values(self, kind: str) -> Iterator[tuple[str, Mapping[str, object]]]:
        for entry_id in self.notes.of_kind(kind):
            stands = self.notes.texts[(kind, entry_id)].value
            if isinstance(stands, dict):
                yield entry_id, stands

    def _signs(self, value: Mapping[str, object], *, stands: bool = False) -> Iterator[_Sign]:
        family, name = value.get("family"), value.get("name")
        if self.kind == "parts":
            families = value.get("families")
            for each in families if isinstance(families, list) else ():
                yield _hashable(each, name)
        elif self.kind == "sensors":
            yield _hashable(family, value.get("label"))
        elif self.kind == "codes":
            yield _hashable(family, shown_mark(at(value, way=("shown", 0))))
        elif stands or "name" in value:
            yield _hashable(name)


def _hashable(*values: object) -> _Sign:
    """Return values as a sign; a list, which no such field should hold, by what it looks like."""
    return tuple(
        value if value is None or isinstance(value, str) else repr(value) for value in values
    )
