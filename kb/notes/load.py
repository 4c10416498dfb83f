"""Load every entry of the notes, collecting every fault on the way."""

from __future__ import annotations

import os
import re
from collections.abc import Iterable, Mapping, MutableMapping
from dataclasses import dataclass, field
from pathlib import Path
from types import MappingProxyType
from typing import TypeVar, cast

from kb.model import CURVE_LAWS, KINDS, SLIPS, Entry, ReleaseNote, Slip, Team
from kb.model.words import ID_PATTERN, tidy_id

from .field_faults import read_block
from .file_text import decoded
from .folder import DATA, KindFolder, entry_files, kind_folder, leads_out
from .late_text import TextOfFile, TextOfLines
from .problem import Problem, nearest
from .quick_yaml import NotPlain, quick_value
from .seen_file import checksum_of
from .strangers import strangers
from .yaml_text import Path as YamlPath
from .yaml_text import YamlText, read_yaml

E = TypeVar("E", bound=Entry)

TEAM_FILE = f"{DATA}/team.yaml"
RELEASE_FILE = f"{DATA}/release.yaml"
OWN_FILES = (TEAM_FILE, RELEASE_FILE)
LEAST_FOREIGN = 2
"""So many keys that its kind does not know, and another knows all of: the file is misplaced."""
NO_ID = "index"
"""The list of each kind has this name; an entry of that id would have no page."""


@dataclass
class Notes:
    """All entries by kind and id, the text each came from, and what was wrong with any."""

    folder: Path
    entries: dict[str, MutableMapping[str, Entry]] = field(
        default_factory=lambda: {kind: {} for kind in KINDS}
    )
    texts: MutableMapping[tuple[str, str], YamlText] = field(default_factory=dict)
    team: Team | None = None
    team_text: YamlText | None = None
    release: ReleaseNote | None = None
    """What the keeper says of the release; without it, the program counts and dates it."""
    release_text: YamlText | None = None
    slips: dict[str, Slip] = field(default_factory=dict)
    """What the team found wrong, by the slip's file; settled ones too."""
    slip_texts: dict[str, YamlText] = field(default_factory=dict)
    problems: list[Problem] = field(default_factory=list)
    broken: set[tuple[str, str]] = field(default_factory=set)
    """Entries that exist but could not be read: naming one of them is no second fault."""
    strays: list[Path] | None = None
    """Files that are named as entries are and are none, once somebody asked for them."""

    def of(self, model: type[E]) -> Mapping[str, E]:
        """Return the entries of a model's kind by id, in order of id."""
        # What stands under a kind was read with that kind's model: see `load_entry`.
        return cast(Mapping[str, E], self.of_kind(model.kind))

    def of_kind(self, kind: str) -> Mapping[str, Entry]:
        """Return the entries of a kind by id, in order of id: for what goes over all kinds."""
        return MappingProxyType(self.entries[kind])

    def knows(self, kind: str, entry_id: str) -> bool:
        """True when the notes hold that entry, readable or not."""
        return entry_id in self.entries[kind] or (kind, entry_id) in self.broken

    def ids(self, kind: str) -> list[str]:
        """Return every id of a kind, unreadable entries' too; none that is itself refused."""
        broken = [
            entry_id for of_kind, entry_id in self.broken if of_kind == kind and sound_id(entry_id)
        ]
        return sorted([*self.entries[kind], *broken])

    def naming(self, kind: str, entry_id: str) -> Iterable[str]:
        """Return the ids of a kind whose entries may name `entry_id`, in order; here all of them.

        Whoever asks looks whether they do: notes that are read late leave most of them unread.
        """
        return self.entries[kind]

    def problem(
        self,
        entry: Entry,
        path: YamlPath,
        rule: str,
        message: str,
        *,
        hint: str = "",
        key: bool = False,
        warning: bool = False,
    ) -> Problem:
        """Return a problem placed in an entry's file."""
        read = self.texts[(entry.kind, entry.id)]
        return read.problem(path, rule, message, hint=hint, key=key, warning=warning)

    def beside(self, entry: Entry, *, name: str) -> Path:
        """Return where a file of that name stands beside an entry's own, there or not."""
        return (self.folder / self.texts[(entry.kind, entry.id)].file).parent / name

    def leads_out(self, path: Path) -> bool:
        """Return whether a path of the notes, or a link on its way, leads out of them."""
        return leads_out(path, inside=self.folder)

    def counts(self) -> dict[str, int]:
        """Return how many entries of each kind there are, readable or not."""
        return {
            kind: len(entries) + sum(of_kind == kind for of_kind, _ in self.broken)
            for kind, entries in self.entries.items()
        }


def load_notes(folder: Path) -> Notes:
    """Read every entry under `folder`, with all problems of reading and of fields.

    Rules between entries are `kb.check`'s.
    """
    notes, there = Notes(folder=folder), {}
    for kind in KINDS:
        there[kind] = kind_folder(folder, kind)
        files, problems = files_by_id(there[kind])
        notes.problems.extend(problems)
        for entry_id, file in files.items():
            raw = (folder / file).read_bytes()
            load_entry(raw, kind=kind, entry_id=entry_id, file=file, notes=notes)
        notes.entries[kind] = dict(sorted(notes.entries[kind].items()))
    notes.problems.extend(strangers(folder, there=there, own=OWN_FILES))
    load_own_files(notes)
    return notes


def files_by_id(there: KindFolder) -> tuple[dict[str, str], list[Problem]]:
    """Return the file of each id, from the folder of the notes, and a problem for each second."""
    files: dict[str, str] = {}
    problems = []
    for shown in there.entries:
        stem = shown.rpartition("/")[2].rpartition(".")[0]
        if files.setdefault(stem, shown) != shown:
            problems.append(
                Problem(
                    shown,
                    1,
                    1,
                    "same-id",
                    f"the id '{stem}' is taken by {files[stem]}",
                    "a file's name is its id: rename one of the two",
                )
            )
    return files, problems


def load_own_files(notes: Notes) -> None:
    """Read into `notes` what is no entry: slips, the team's own file, the release's."""
    for path in entry_files(notes.folder, SLIPS):
        shown = path.relative_to(notes.folder).as_posix()
        load_slip(path.read_bytes(), file=shown, notes=notes)
    _load_team(notes)
    _load_release(notes)


def sound_id(entry_id: str) -> bool:
    """True where a file's name can be an id."""
    return entry_id != NO_ID and re.fullmatch(ID_PATTERN, entry_id) is not None


def load_entry(raw: bytes, *, kind: str, entry_id: str, file: str, notes: Notes) -> Entry | None:
    """Read one entry into `notes`, with its problems; None when it cannot stand."""
    loaded = loaded_entry(raw, kind=kind, entry_id=entry_id, file=file)
    notes.texts[(kind, entry_id)] = loaded.read
    if loaded.entry is None:
        notes.broken.add((kind, entry_id))
    else:
        notes.entries[kind][entry_id] = loaded.entry
    notes.problems.extend(loaded.problems)
    return loaded.entry


@dataclass(frozen=True)
class Loaded:
    """An entry as one file's bytes gave it."""

    state: str
    """SHA-256 of the bytes."""
    read: YamlText
    entry: Entry | None
    problems: tuple[Problem, ...]


_RECENT: dict[tuple[str, str, str], Loaded] = {}
"""What was read last under each name: while notes are written, one file changes at a time."""
_MOST_RECENT = 20_000


def recently_loaded(*, kind: str, entry_id: str, file: str, state: str) -> Loaded | None:
    """Return an entry that this process has read of the same bytes, under the same name."""
    loaded = _RECENT.get((kind, entry_id, file))
    return loaded if loaded is not None and loaded.state == state else None


def loaded_entry(raw: bytes, *, kind: str, entry_id: str, file: str) -> Loaded:
    """Return one entry as its file's bytes give it."""
    state = checksum_of(raw)
    loaded = recently_loaded(kind=kind, entry_id=entry_id, file=file, state=state)
    if loaded is None:
        loaded = _loaded(raw, state=state, kind=kind, entry_id=entry_id, file=file)
        _remember(loaded, kind=kind, entry_id=entry_id)
    return loaded


def entry_of_value(
    value: object, *, kind: str, entry_id: str, file: str, state: str, folder: str, gaps: bool
) -> Loaded | None:
    """Return an entry by what its file was read as before; None where that cannot be.

    Parameters
    ----------
    value : object
        What these bytes were read as, where nothing was wrong with them.
    state : str
        The SHA-256 of those bytes.
    folder : str
        The folder of the notes: lines and places are read when somebody asks for them.
    gaps : bool
        Some of it may be nothing.
    """
    path = os.path.join(folder, file)
    read = TextOfFile(path, file=file, checksum=state, value=value, gaps=gaps)
    model, found = _model(kind, read)
    if model is None or found:
        return None
    entry, found = read_block(model, read, given={"id": entry_id})
    if entry is None or found:
        return None
    loaded = Loaded(state, read, entry, ())
    _remember(loaded, kind=kind, entry_id=entry_id)
    return loaded


def _remember(loaded: Loaded, *, kind: str, entry_id: str) -> None:
    if len(_RECENT) >= _MOST_RECENT:
        _RECENT.clear()
    _RECENT[(kind, entry_id, loaded.read.file)] = loaded


def _loaded(raw: bytes, *, state: str, kind: str, entry_id: str, file: str) -> Loaded:
    read = _read(raw, file=file, state=state)
    found = list(read.problems)
    if entry_id == NO_ID:
        found.append(
            read.problem(
                (),
                "file-name",
                f"'{entry_id}' cannot be an id",
                hint="its page would be the list of its kind: give the file another name",
            )
        )
    elif not re.fullmatch(ID_PATTERN, entry_id):
        found.append(
            read.problem((), "file-name", f"'{entry_id}' cannot be an id", hint=_rename(entry_id))
        )
    entry = None
    if not found:
        model, found = _model(kind, read)
        if model is not None:
            entry, found = read_block(model, read, given={"id": entry_id})
        found = _misplaced(kind, read) or found if found else found
    return Loaded(state, read, entry, (*found, *read.warnings))


def load_slip(raw: bytes, *, file: str, notes: Notes) -> Slip | None:
    """Read one slip into `notes`, with its problems; None when it cannot stand."""
    read = _read(raw, file=file)
    notes.slip_texts[file] = read
    slip, found = None, list(read.problems)
    if not found:
        slip, found = read_block(Slip, read)
    if slip is not None:
        notes.slips[file] = slip
    notes.problems.extend([*found, *read.warnings])
    return slip


def own_file(notes: Notes, name: str) -> Path | None:
    """Return the team's or the release's file; None where it is none, or a link out of the notes.

    `strangers` warns of such a link, as of an entry's.
    """
    path = notes.folder / name
    return path if path.is_file() and not leads_out(path, inside=notes.folder) else None


def _load_team(notes: Notes) -> None:
    path = own_file(notes, TEAM_FILE)
    if path is None:
        notes.problems.append(
            Problem(
                TEAM_FILE,
                1,
                1,
                "no-team",
                "the notes do not say whose they are",
                "write docs_data/team.yaml: name, title, meter, thermometer",
            )
        )
        return
    notes.team_text = _read(path.read_bytes(), file=TEAM_FILE)
    found = list(notes.team_text.problems)
    if not found:
        notes.team, found = read_block(Team, notes.team_text)
    notes.problems.extend([*found, *notes.team_text.warnings])


def _load_release(notes: Notes) -> None:
    path = own_file(notes, RELEASE_FILE)
    if path is None:
        return
    read = _read(path.read_bytes(), file=RELEASE_FILE)
    found = list(read.problems)
    if not found:
        notes.release, found = read_block(ReleaseNote, read)
    notes.release_text = read
    notes.problems.extend([*found, *read.warnings])


def _read(raw: bytes, *, file: str, state: str = "") -> YamlText:
    text, problems = decoded(raw, file=file)
    if problems:
        return YamlText(file=file, lines=text.splitlines(), problems=problems)
    read = read_text(text, file=file)
    read.checksum = state or checksum_of(raw)
    return read


def read_text(text: str, *, file: str) -> YamlText:
    """Return what a file of the notes says: read plainly where it is plain, as most are."""
    try:
        value, gaps = quick_value(text)
    except NotPlain:
        return read_yaml(text, file=file)
    return TextOfLines(text.splitlines(), file=file, value=value, gaps=gaps)


def _model(kind: str, read: YamlText) -> tuple[type[Entry] | None, list[Problem]]:
    """Return the kind's model; for a curve, the one that its law asks for."""
    if kind != "curves" or not isinstance(read.value, dict):
        return KINDS[kind], []
    law = read.value.get("law")
    if isinstance(law, str) and law in CURVE_LAWS:
        return CURVE_LAWS[law], []
    if law is None:
        return None, [
            read.problem((), "missing-key", "'law' is missing", hint=nearest("", CURVE_LAWS))
        ]
    return None, [
        read.problem(
            ("law",), "unknown-word", f"there is no law '{law}'", hint=nearest(str(law), CURVE_LAWS)
        )
    ]


def _misplaced(kind: str, read: YamlText) -> list[Problem]:
    """Return the one problem of an entry whose keys are all of another kind, and not of its own."""
    keys = set(read.value) if isinstance(read.value, dict) else set()
    unknown = keys - _keys_of(kind)
    others = [other for other in KINDS if other != kind and keys <= _keys_of(other)]
    if len(unknown) < LEAST_FOREIGN or len(others) != 1:
        return []
    noun = KINDS[others[0]].noun
    return [
        read.problem(
            (),
            "wrong-folder",
            f"this reads like a {noun}, and stands among the {kind}",
            hint=f"move it to {DATA}/{others[0]}/",
        )
    ]


def _keys_of(kind: str) -> set[str]:
    models = CURVE_LAWS.values() if kind == "curves" else [KINDS[kind]]
    return {name for model in models for name in model.model_fields}


def _rename(entry_id: str) -> str:
    """Say what an id is made of, and the name that comes nearest."""
    name = tidy_id(entry_id)
    renamed = f"; rename it {name}.yaml" if name else ""
    return f"a file's name is its id: small letters, digits, single hyphens{renamed}"
