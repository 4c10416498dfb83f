"""The notes as the page makers read them: entries, who names whom, curves ready to compute."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from functools import cached_property

from kb.characteristics import characteristic_of
from kb.model import Case, Code, Curve, Entry, Family, Sensor, Team
from kb.notes.load import Notes
from kb.numbers.characteristic import Characteristic
from kb.used_by import used_by

from .html import Child, Html, el, join


@dataclass(frozen=True)
class SiteContext:
    """Everything a page maker may look up. `root` leads from the page to the site's root."""

    notes: Notes
    root: str = "../"
    _curves: dict[str, Characteristic | None] = field(default_factory=dict, compare=False)
    _families: dict[tuple[str, str], list[Entry]] = field(default_factory=dict, compare=False)

    def at_root(self) -> SiteContext:
        """Return the same context for pages that stand at the site's root."""
        return replace(self, root="")

    @property
    def team(self) -> Team:
        """Whose notes these are."""
        assert self.notes.team is not None  # check refuses notes without a team
        return self.notes.team

    @cached_property
    def users(self) -> dict[tuple[str, str], list[Entry]]:
        """For every entry, who names it."""
        return used_by(self.notes)

    def get(self, kind: str, entry_id: str) -> Entry:
        """Return an entry that the checks have proved to exist."""
        return self.notes.of(kind)[entry_id]

    def users_of(self, entry: Entry, kind: str) -> list[Entry]:
        """Return the entries of a kind that name this one."""
        return [one for one in self.users.get((entry.kind, entry.id), []) if one.kind == kind]

    def of_family(self, kind: str, family: Family) -> list[Entry]:
        """Return a family's entries of a kind, in reading order."""
        # Every page of a family asks, and sorting a thousand sensors a thousand times takes long.
        if (kind, family.id) not in self._families:
            self._families[kind, family.id] = sorted(
                (
                    one
                    for one in self.notes.of(kind).values()
                    if getattr(one, "family", None) == family.id
                    or family.id in getattr(one, "families", ())
                ),
                key=reading_order,
            )
        return list(self._families[kind, family.id])

    def characteristic(self, curve_id: str) -> Characteristic | None:
        """Return a curve ready to compute; None for a switching PTC, which is no curve."""
        if curve_id not in self._curves:
            curve = self.get("curves", curve_id)
            assert isinstance(curve, Curve)
            self._curves[curve_id] = characteristic_of(curve)
        return self._curves[curve_id]

    def href(self, entry: Entry) -> str:
        """Return the way from the page to an entry's page."""
        return self.root + entry.href

    def link(self, entry: Entry, text: Child = None) -> Html:
        """Return a link to an entry, by its own name unless other words are given."""
        return el("a", text or shown_name(entry), href=self.href(entry))

    def links(self, entries: Iterable[Entry]) -> Html:
        """Return links with commas between them."""
        return join([self.link(one) for one in entries], ", ")

    def link_to(self, kind: str, entry_id: str, text: Child = None) -> Html:
        """Return a link by kind and id."""
        return self.link(self.get(kind, entry_id), text)

    def cases_of(self, code: Code) -> list[Case]:
        """Return the past jobs of a code, newest first."""
        cases = [one for one in self.notes.of("cases").values() if one.code == code.id]
        return sorted(cases, key=lambda case: (case.on, case.id), reverse=True)


def shown_name(entry: Entry) -> str:
    """Return what to call an entry in a list: a code by how it is shown, a sensor by label."""
    if isinstance(entry, Code):
        return _led_by(entry.shown[0].spoken(), entry.name, ": ")
    if isinstance(entry, Sensor):
        return _led_by(entry.label, entry.name, " ")
    return entry.name


def plain_name(entry: Entry) -> str:
    """Return an entry's name without the mark that stands beside it anyway."""
    if isinstance(entry, Code):
        return _without(entry.shown[0].spoken(), entry.name) or entry.name
    if isinstance(entry, Sensor):
        return _without(entry.label, entry.name) or entry.name
    return entry.name


def _led_by(mark: str, name: str, between: str) -> str:
    """Put a mark before a name, once: keepers often begin the name with it."""
    bare = _without(mark, name)
    return f"{mark}{between}{bare}" if bare else mark


def _without(mark: str, name: str) -> str:
    """Take a leading mark off a name, if it stands there as a word of its own."""
    rest = name.removeprefix(mark)
    return rest.lstrip(" :,") if rest == "" or rest[0] in " :," else name


def reading_order(entry: Entry) -> tuple[object, ...]:
    """Sort codes by how they are shown, sensors by label, parts by name: numbers as numbers."""
    if isinstance(entry, Case):
        return (-entry.on.toordinal(), entry.id)
    pieces = re.split(r"(\d+)", shown_name(entry).casefold())
    return tuple((1, int(p), "") if p.isdigit() else (0, 0, p) for p in pieces), entry.id
