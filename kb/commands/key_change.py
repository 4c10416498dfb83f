"""What a change of keys does: the private key's file first, then the notes' own line."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Protocol

from kb.changing import change_notes
from kb.entry_file.edited import CannotEdit, edited
from kb.model.team import Signing, Team
from kb.notes.load import TEAM_FILE, load_notes
from kb.signing.ed25519 import NoSigning, make_private, mark_of, public_of
from kb.signing.key_file import read_key, refuse_in_notes, usual_place, write_key

from .disk_words import disk_refused
from .options import NoAnswer, NotUnderstood
from .passphrase import known_passphrase, new_passphrase

if TYPE_CHECKING:
    from kb.signing.ed25519 import Ed25519PrivateKey

UNCHANGED = "nothing was changed"


class Before(Protocol):
    """A key that was in force, and its word for the next."""

    @property
    def key(self) -> str:
        """The public key."""

    @property
    def by(self) -> str:
        """Its signature over the one that follows."""


@dataclass(frozen=True)
class MadeKey:
    """A key that was made: its public half, and where the private one lies."""

    public: str
    file: Path

    @property
    def mark(self) -> str:
        """What people tell it by."""
        return mark_of(self.public)


def signing_of(notes: Path) -> Signing | None:
    """Return who signs the releases of some notes; NoAnswer when the team's file has a fault."""
    loaded = load_notes(notes)
    if loaded.team is None:
        raise NoAnswer(f"{TEAM_FILE} cannot be read; 'ohmfolio check' says why. {UNCHANGED}")
    return loaded.team.signing


def in_force(notes: Path) -> Signing:
    """Return the key that signs now; NotUnderstood when none does."""
    signing = signing_of(notes)
    if signing is None or not signing.signs:
        raise NotUnderstood("releases of these notes are not signed; begin with: ohmfolio key make")
    return signing


def old_key(signing: Signing, *, file: Path | None, notes: Path) -> Ed25519PrivateKey:
    """Return the private key in force; NoAnswer with what to do where it cannot be had."""
    try:
        place = file or usual_place(signing.key)
        return read_key(place, key=signing.key, notes=notes, ask=known_passphrase)
    except NoSigning as fault:
        raise NoAnswer(f"{fault}; {UNCHANGED}") from None


def make_key(
    notes: Path,
    *,
    to: Path | None,
    locked: bool,
    before: Callable[[str], Sequence[Before]] = lambda public: (),
) -> MadeKey:
    """Make a key, keep it outside the notes, and write its public half into the team's file.

    Parameters
    ----------
    notes : Path
    to : Path or None
        The private key's file; by default among the keeper's settings.
    locked : bool
        Whether a passphrase is asked for.
    before : callable
        From the new public key to the keys before it.
    """
    try:
        private = make_private()
        public = public_of(private)
        file = to or usual_place(public)
        refuse_in_notes(file, notes=notes)
        team = _team_text(notes, key=public, before=before(public))
        write_key(file, private=private, passphrase=new_passphrase() if locked else None)
    except NoSigning as fault:
        raise NoAnswer(f"{fault}; {UNCHANGED}") from None
    except OSError as error:
        raise disk_refused(error, at=to or "the private key", stands=UNCHANGED) from None
    _write_team(notes, team=team)
    return MadeKey(public, file)


def write_signing(notes: Path, *, key: str, before: Sequence[Before]) -> None:
    """Write into the team's file who signs."""
    _write_team(notes, team=_team_text(notes, key=key, before=before))


def _team_text(notes: Path, *, key: str, before: Sequence[Before]) -> tuple[str, str]:
    """Return the team's file as it stands, and as it is to become."""
    loaded = load_notes(notes)
    value = loaded.team_text.value if loaded.team_text is not None else None
    if not isinstance(value, Mapping):
        raise NoAnswer(f"{TEAM_FILE} cannot be read; 'ohmfolio check' says why. {UNCHANGED}")
    signing: dict[str, object] = {"key": key}
    if before:
        signing["before"] = [{"key": each.key, "by": each.by} for each in before]
    fields = {"": list(Team.model_fields), "signing": list(Signing.model_fields)}
    stood = (notes / TEAM_FILE).read_bytes().decode("utf-8")
    try:
        return stood, edited(
            stood,
            value={**value, "signing": signing},
            order=lambda way: fields.get(way[0] if way else "", ["key", "by"]),
        )
    except CannotEdit as fault:
        raise NoAnswer(f"{TEAM_FILE}: {fault}; {UNCHANGED}") from None


def _write_team(notes: Path, *, team: tuple[str, str]) -> None:
    stood, text = team
    try:
        change_notes(notes, {TEAM_FILE: text}, before={TEAM_FILE: stood})
    except OSError as error:
        raise disk_refused(error, at=notes / TEAM_FILE, stands="the notes are as before") from None
