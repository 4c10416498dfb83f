"""Tell what an engineer would notice between two releases: not lines, but what is different."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import asdict, dataclass
from typing import Any

from kb.model import KINDS
from kb.model.team import Team
from kb.release_format.record import Snapshot
from kb.words.catalogue import languages, words, words_of
from kb.words.phrase import in_words

from .changed_curves import curve_moves
from .changed_fields import field_changes, shown_as

LEVELS = ("safety", "numbers", "codes", "places", "new", "renamed", "gone", "cases", "words")
"""What a change is about, in the order in which it is told."""

Entry = Mapping[str, Any]


@dataclass(frozen=True)
class Change:
    """One thing that is different."""

    level: str
    kind: str
    id: str
    name: str
    text: str
    href: str = ""
    """The page where it can be seen now; empty when that is gone."""

    def as_dict(self) -> dict[str, str]:
        """Return it for machines."""
        return asdict(self)


def tell_changes(old: Snapshot, *, new: Snapshot) -> list[Change]:
    """Return everything that an engineer would notice, in the language in force, safety first.

    Parameters
    ----------
    old, new : Snapshot
        What the notes said then, and what they say now.
    """
    found = [*_team(old, new), *_own_pages(old, new)]
    for kind in KINDS:
        found += _of_kind(kind, old, new)
    kinds = [*KINDS, "content", "team"]
    return sorted(
        found, key=lambda change: (LEVELS.index(change.level), kinds.index(change.kind), change.id)
    )


def level_name(level: str) -> str:
    """Return what changes of a level are about, as a heading."""
    return in_words(f"change-level.{level}")


def counts(changes: Iterable[Change]) -> dict[str, int]:
    """Return how many changes there are, and how many are about safety."""
    levels = [change.level for change in changes]
    return {"changes": len(levels), "safety": levels.count("safety")}


def _of_kind(kind: str, old: Snapshot, new: Snapshot) -> Iterator[Change]:
    before, now = _entries(old, kind), _entries(new, kind)
    renamed = dict(_renamed(before, now))
    for entry_id in sorted(before.keys() - now.keys() - renamed.keys()):
        name = called(before[entry_id], kind=kind)
        yield Change("gone", kind, entry_id, name, _said("gone", noun=_noun(kind), name=name))
    for entry_id in sorted(now.keys() - before.keys() - set(renamed.values())):
        name = called(now[entry_id], kind=kind)
        level = "cases" if kind == "cases" else "new"
        yield Change(
            level,
            kind,
            entry_id,
            name,
            _said("new", noun=_noun(kind), name=name),
            _href(kind, entry_id),
        )
    for was, is_ in renamed.items():
        name = called(now[is_], kind=kind)
        yield Change(
            "renamed",
            kind,
            is_,
            name,
            _said("filed", noun=_noun(kind), name=name, id=is_, was=was),
            _href(kind, is_),
        )
    pairs = [(same, same) for same in sorted(before.keys() & now.keys())] + sorted(renamed.items())
    for was, is_ in pairs:
        yield from _within(kind, was, is_, old, new)


def _within(kind: str, was: str, is_: str, old: Snapshot, new: Snapshot) -> Iterator[Change]:
    before, now = _entries(old, kind)[was], _entries(new, kind)[is_]
    name = called(now, kind=kind)

    def change(level: str, text: str) -> Change:
        return Change(level, kind, is_, name, text, _href(kind, is_))

    if called(before, kind=kind) != name:
        was_called = called(before, kind=kind)
        yield change("renamed", _said("called", noun=_noun(kind), was=was_called, name=name))
    if kind == "curves":
        moves = curve_moves(old["numbers"].get(was, []), new=new["numbers"].get(is_, []))
        if moves:
            yield change("numbers", _said("curve", name=name, moved=moves))
    names = _Names(new, old)
    for level, text in field_changes(kind, before=before, now=now, names=names):
        yield change(level, _said("within", name=name, change=text))
    for text in _new_pictures(kind, (old, was), (new, is_)):
        level = "cases" if kind == "cases" else "places"
        yield change(level, _said("within", name=name, change=text))


def _new_pictures(kind: str, *sides: tuple[Snapshot, str]) -> Iterator[str]:
    """Yield each photo that shows something else now though its file has the same name."""
    before, now = (_pictures(snapshot, kind, entry_id) for snapshot, entry_id in sides)
    for file in sorted(before.keys() & now.keys()):
        if before[file] != now[file]:
            yield _said("picture", file=file)


def _pictures(snapshot: Snapshot, kind: str, entry_id: str) -> dict[str, str]:
    """Return the checksum of each photo of an entry by its file's name."""
    entry = _entries(snapshot, kind)[entry_id]
    paths = {str(entry["photo"]): f"{kind}/{entry_id}.jpg"} if entry.get("photo") else {}
    photos = entry.get("photos")
    for number, photo in enumerate(photos if isinstance(photos, list) else [], start=1):
        if isinstance(photo, dict):
            paths[str(photo.get("file"))] = f"{kind}/{entry_id}-{number}.jpg"
    sums = snapshot.get("photos", {})
    return {file: sums[path] for file, path in paths.items() if path in sums}


class _Names:
    """What an id is called, now or, when it is gone, then."""

    def __init__(self, *snapshots: Snapshot) -> None:
        self._snapshots = snapshots

    def __call__(self, kind: str, entry_id: str) -> str:
        for snapshot in self._snapshots:
            entry = _entries(snapshot, kind).get(entry_id)
            if entry is not None:
                return called(entry, kind=kind)
        return entry_id


def called(entry: Entry, *, kind: str) -> str:
    """Return what to call an entry: a code by how it is shown, a sensor by its label too."""
    name = str(entry.get("name", ""))
    if kind == "sensors":
        mark = str(entry.get("label", ""))
    elif kind == "codes":
        # A record of another version may hold it in another shape.
        shown = entry.get("shown")
        mark = shown_as(shown[0]) if shown and isinstance(shown, list) else ""
    else:
        return name
    return name if name.startswith(mark) else f"{mark} {name}"


def _renamed(before: Mapping[str, Entry], now: Mapping[str, Entry]) -> Iterator[tuple[str, str]]:
    """Yield (old id, new id) of entries that say the same or are called the same under a new id."""
    free = {entry_id: now[entry_id] for entry_id in sorted(now.keys() - before.keys())}
    for was in sorted(before.keys() - now.keys()):
        old = before[was]
        alike = [entry_id for entry_id, entry in free.items() if entry == old]
        alike += [entry_id for entry_id, entry in free.items() if entry["name"] == old.get("name")]
        if alike:
            del free[alike[0]]
            yield was, alike[0]


def _team(old: Snapshot, new: Snapshot) -> Iterator[Change]:
    for field, now in new["team"].items():
        # What an older program did not know yet stood at its default.
        unset = Team.model_fields[field].get_default(call_default_factory=True)
        before = old["team"].get(field, unset)
        if before == now:
            continue
        level = "safety" if field in ("safety", "short_below_ohm") else "words"
        if field == "safety":
            text, href = _said("team-safety"), "safety.html"
        elif field == "language":
            text, href = _said("team-language", now=_spoken(now), before=_spoken(before)), ""
        else:
            text, href = _said("team-field", field=field, now=str(now), before=str(before)), ""
        yield Change(level, "team", field, _said("team"), text, href)


def _spoken(language: object) -> str:
    """Return what a language calls itself."""
    name = words_of(str(language))["language"]["name"] if language in languages() else language
    return str(name)


def _own_pages(old: Snapshot, new: Snapshot) -> Iterator[Change]:
    before, now = old["own"], new["own"]
    for path in sorted(before.keys() | now.keys()):
        if before.get(path) == now.get(path):
            continue
        page = path.removesuffix(".md")
        level = "safety" if path == "safety.md" else "words"
        if path not in now:
            yield Change("gone", "content", page, page, _said("page-gone", page=page))
        elif path not in before:
            yield Change("new", "content", page, page, _said("page-new", page=page), f"{page}.html")
        else:
            yield Change(
                level, "content", page, page, _said("page-rewritten", page=page), f"{page}.html"
            )


def _entries(snapshot: Snapshot, kind: str) -> Mapping[str, Entry]:
    return snapshot["entries"].get(kind, {})


def _noun(kind: str) -> str:
    """Return what one of a kind is called; by its model where the catalogue has no such kind."""
    if kind == "cases":
        return _said("past-job")
    named = words().get("kind", {}).get(kind)
    return str(named["noun"]) if isinstance(named, Mapping) else KINDS[kind].noun


def _href(kind: str, entry_id: str) -> str:
    return f"{kind}/{entry_id}.html"


def _said(name: str, /, **figures: object) -> str:
    return in_words(f"change.{name}", **figures)
