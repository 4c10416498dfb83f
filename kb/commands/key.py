"""`ohmfolio key`: the key that signs releases; made, changed, replaced when lost, given up."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TypeVar

import click

from kb.model.team import NOBODY, Signing
from kb.signing.ed25519 import NoSigning, mark_of
from kb.signing.key_file import is_locked, usual_place
from kb.signing.releases import handed_over

from .key_change import MadeKey, in_force, make_key, old_key, signing_of, write_signing
from .options import NoAnswer, NotUnderstood, WholePath, json_option, notes_option, say_json
from .passphrase import PASSPHRASE

Command = TypeVar("Command", bound=Callable[..., object])
FIRST_MET = (
    "A phone trusts the first key that it meets, so publish soon. Its mark then stands at the foot "
    "of each page on the phone."
)


@click.group("key")
def key() -> None:
    """Releases signed by the keeper: a phone that has seen the key takes no others.

    Example: ohmfolio key make
    """


def _new_file_options(command: Command) -> Command:
    command = click.option(
        "--passphrase",
        "locked",
        is_flag=True,
        help=f"Lock the file: you are asked for a passphrase, or {PASSPHRASE} holds it.",
    )(command)
    return click.option(
        "--to",
        type=WholePath(path_type=Path),
        metavar="FILE",
        default=None,
        help="Where the new private key goes, outside the notes; by default among your settings.",
    )(command)


def _old_file_option(command: Command) -> Command:
    return click.option(
        "--key",
        "old_file",
        type=WholePath(path_type=Path),
        metavar="FILE",
        default=None,
        help="The private key in force; by default where 'key make' put it.",
    )(command)


@key.command("make")
@_new_file_options
@notes_option
@json_option
def make(to: Path | None, locked: bool, notes: Path, as_json: bool) -> None:
    """Make a key and have releases signed from now on.

    The private key goes into a file outside the notes that only you can read, the public one into
    docs_data/team.yaml. From then on 'ohmfolio pack' signs.

    Example: ohmfolio key make
    """
    signing = signing_of(notes)
    if signing is not None and signing.signs:
        raise NotUnderstood(
            f"these notes are signed already, by {mark_of(signing.key)}; another key follows it by "
            "'ohmfolio key change', or 'ohmfolio key lost' where it is lost"
        )
    made = make_key(notes, to=to, locked=locked)
    _say(made, as_json=as_json, words=f"Releases are signed from now on. {FIRST_MET}")


@key.command("change")
@_new_file_options
@_old_file_option
@notes_option
@json_option
def change(
    to: Path | None, locked: bool, old_file: Path | None, notes: Path, as_json: bool
) -> None:
    """Make another key, signed by the one in force: phones go on to it by themselves.

    Example: ohmfolio key change
    """
    signing = in_force(notes)
    old = old_key(signing, file=old_file, notes=notes)
    made = make_key(
        notes,
        to=to,
        locked=locked,
        before=lambda new: [*signing.before, handed_over(private=old, to=new)],
    )
    words = (
        f"It follows {mark_of(signing.key)}: a phone goes on to it with the next release that it "
        "meets. Once that is published, the old key's file may go."
    )
    _say(made, as_json=as_json, words=words)


@key.command("lost")
@_new_file_options
@notes_option
@json_option
def lost(to: Path | None, locked: bool, notes: Path, as_json: bool) -> None:
    """Make another key where the one in force is lost or stolen: each phone has to be told.

    A phone keeps its release, says that the host's is signed by another key, and takes it once
    somebody types the new key's mark there. Read the mark out to your people; do not publish it.

    Example: ohmfolio key lost
    """
    signing = in_force(notes)
    if to is not None and to == usual_place(signing.key):
        raise NotUnderstood(f"{to} is the old key's file; name another with --to")
    made = make_key(notes, to=to, locked=locked)
    there = usual_place(signing.key)
    words = (
        f"No phone goes on to it by itself. After the next 'ohmfolio pack' is published, each says "
        f"that the host's release is signed by another key. Tell each of your people by telephone "
        f"to type there: {made.mark}"
    )
    if there.is_file():
        words += (
            f"\nThe old key still lies at {there}. Was it not stolen, bring docs_data/team.yaml "
            "back as it was and run 'ohmfolio key change' instead: then nobody has to type."
        )
    _say(made, as_json=as_json, words=words)


@key.command("stop")
@_old_file_option
@notes_option
@json_option
def stop(old_file: Path | None, notes: Path, as_json: bool) -> None:
    """Sign no more: the key says so itself, and phones take unsigned releases again.

    Example: ohmfolio key stop
    """
    signing = in_force(notes)
    old = old_key(signing, file=old_file, notes=notes)
    write_signing(notes, key=NOBODY, before=[*signing.before, handed_over(private=old, to=NOBODY)])
    if as_json:
        say_json({"signed": False, "before": mark_of(signing.key)})
        return
    click.echo(
        "Releases are not signed any more. Leave the lines in docs_data/team.yaml: a phone that "
        f"trusts {mark_of(signing.key)} reads there that it may take others."
    )


@key.command("show")
@notes_option
@json_option
def show(notes: Path, as_json: bool) -> None:
    """Say whether releases are signed, by which key, and whether it is on this computer.

    Example: ohmfolio key show
    """
    signing = signing_of(notes)
    if signing is None or not signing.signs:
        if as_json:
            say_json({"signed": False})
        else:
            click.echo("Releases are not signed. To switch it on: ohmfolio key make")
        return
    try:
        file = usual_place(signing.key)
    except NoSigning as fault:
        raise NoAnswer(str(fault)) from None
    if as_json:
        say_json(_key_fields(signing, file=file))
        return
    state = f"in {file}{', locked' if is_locked(file) else ''}"
    where = state if file.is_file() else f"not in {file}: name it to 'ohmfolio pack' with --key"
    click.echo(f"Releases are signed by the key {mark_of(signing.key)}.")
    click.echo(f"Its private half is {where}.")
    for earlier in signing.before:
        click.echo(f"Before it: {mark_of(earlier.key)}.")


def _key_fields(signing: Signing, *, file: Path) -> dict[str, object]:
    return {
        "signed": True,
        "mark": mark_of(signing.key),
        "key": signing.key,
        "file": str(file),
        "there": file.is_file(),
        "locked": is_locked(file),
        "before": [mark_of(earlier.key) for earlier in signing.before],
    }


def _say(made: MadeKey, *, as_json: bool, words: str) -> None:
    """Say which key there is now, what to keep where, and what comes next."""
    if as_json:
        say_json({"mark": made.mark, "key": made.public, "file": str(made.file)})
        return
    click.echo(
        f"The key {made.mark} is made.\n"
        f"  private: {made.file}: copy it to a stick that lies elsewhere, never into the notes\n"
        "  public:  docs_data/team.yaml: keep it with the notes\n"
        f"{words}\nNext: ohmfolio pack"
    )
