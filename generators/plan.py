"""Plan the site: every file that will exist, and what it is made of, before anything is made."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from kb.made_pages import (
    AT_ROOT,
    JOBS,
    LIST,
    REFITS,
    SHEETS,
    former_pages,
    photos_of,
    written_pages,
)
from kb.model import KINDS, Entry, Family, Part
from kb.notes.folder import CONTENT
from kb.notes.load import Notes

GENERATED_AT_ROOT = {f"{name}.md" for name in AT_ROOT}


@dataclass(frozen=True)
class Plan:
    """Every path of the site before dressing, each with what it comes from."""

    entries: dict[str, Entry]
    """Page path → its entry."""
    lists: dict[str, str]
    """Page path → the kind it lists."""
    jobs: dict[str, str]
    """Page path → the family whose jobs it gathers."""
    sheets: dict[str, str]
    """Page path → the family that it gathers for paper."""
    refits: dict[str, str]
    """Page path → the part whose list it holds for paper."""
    former: dict[str, Entry]
    """Page path that an entry had before → that entry."""
    own: dict[str, Path]
    """Page path → hand-written Markdown."""
    photos: dict[str, Path]
    """Site path → the photo of a drawing or a case."""

    @property
    def pages(self) -> int:
        """How many pages the site will have."""
        return sum(
            len(some)
            for some in (
                self.entries,
                self.lists,
                self.jobs,
                self.sheets,
                self.refits,
                self.former,
                self.own,
                GENERATED_AT_ROOT,
            )
        )


class TwoPagesOneName(Exception):
    """A hand-written page has the name of a page that is made from entries."""


def plan_site(notes: Notes) -> Plan:
    """Return what the site will be made of.

    Raises
    ------
    TwoPagesOneName
        When a hand-written page would stand where a made one must.
    """
    entries = {
        f"{entry.kind}/{entry.id}.md": entry
        for kind in KINDS
        for entry in notes.of_kind(kind).values()
    }
    lists = {f"{kind}/{LIST}.md": kind for kind in KINDS}
    jobs = {f"{JOBS}/{family_id}.md": family_id for family_id in notes.of(Family)}
    sheets = {f"{SHEETS}/{family_id}.md": family_id for family_id in notes.of(Family)}
    refits = {f"{REFITS}/{part.id}.md": part.id for part in notes.of(Part).values() if part.refit}
    own = {f"{name}.md": path for name, path in written_pages(notes).items()}
    former = {f"{name}.md": entry for name, entry in former_pages(notes).items()}
    made = set().union(entries, lists, jobs, sheets, refits, former, GENERATED_AT_ROOT)
    taken = sorted(own.keys() & made)
    if taken:
        raise TwoPagesOneName(
            f"{CONTENT}/{taken[0]} has the name of a page that is made from entries: rename it"
        )
    photos = {path: notes.folder / file for path, file in photos_of(notes).items()}
    return Plan(
        entries=entries,
        lists=lists,
        jobs=jobs,
        sheets=sheets,
        refits=refits,
        former=former,
        own=own,
        photos=photos,
    )
