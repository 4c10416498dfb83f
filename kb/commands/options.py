"""What every command asks alike: which notes, words or JSON, which curve or sensor."""

from __future__ import annotations

import json
import os
import sys
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import TypeVar

import click

from kb.answers.statement import Refusal
from kb.model import Curve, Entry, Sensor
from kb.notes.folder import DATA, PACKING, PLAN, NotesNotFound, find_notes
from kb.notes.load import Notes
from kb.notes.problem import nearest
from kb.site_folder import WORK
from kb.words.phrase import Voice, phrase

from .disk_words import disk_refused

Command = TypeVar("Command", bound=Callable[..., object])
E = TypeVar("E", bound=Entry)


UNREADABLE = {
    "field.not-ice",
    "field.over-range-or-no-contact",
    "field.over-range-or-one",
    "field.unreadable",
    "insulation.lacks-voltage",
    "insulation.no-humidity",
    "insulation.no-such-air",
    "insulation.no-voltage",
    "winding.contact-breaks",
    "winding.no-such-pair",
}
"""Refusals of what was typed itself, by the statement that says why."""


class NotUnderstood(click.ClickException):
    """The question itself is wrong: a name that is not there, a word that cannot be read."""

    exit_code = 2


class NoAnswer(click.ClickException):
    """The question is clear, and the notes have no answer to it."""

    exit_code = 1


def refused(refusal: Refusal, *, at: str = "") -> click.ClickException:
    """Return how a refused question ends: exit code 2 where it could not be read, else 1.

    Parameters
    ----------
    refusal : Refusal
    at : str
        The temperature typed: what is said of temperatures comes back in its unit.
    """
    unit = "F" if at.strip().upper().endswith("F") else "C"
    why = phrase(refusal.statement, voice=Voice(unit=unit))
    kind = NotUnderstood if refusal.statement.id in UNREADABLE else NoAnswer
    return kind(why)


class NamedPath(click.Path):
    """A path that somebody typed: `~` is the home folder, and no name at all is a slip."""

    def convert(
        self,
        value: str | os.PathLike[str],
        param: click.Parameter | None,
        ctx: click.Context | None,
    ) -> Path:
        """Return the path, or fail with what is wrong with it."""
        if not os.fspath(value).strip():
            self.fail("the name is empty; name a folder, such as our-notes", param, ctx)
        try:
            at_home = Path(value).expanduser()
        except RuntimeError:
            self.fail(f"nobody here has the home folder '{value}'; write it out", param, ctx)
        try:
            named = self.meant(at_home)
        except (RuntimeError, OSError):
            self.fail(f"'{value}' leads in a circle: links point at each other", param, ctx)
        return Path(os.fsdecode(super().convert(named, param, ctx)))

    def meant(self, path: Path) -> Path:
        """Return where the path leads."""
        return path


class WholePath(NamedPath):
    """The same from the top of the disk, for what is looked at from another folder later."""

    def meant(self, path: Path) -> Path:
        """Return where the path leads."""
        return path.resolve()


def notes_option(command: Command) -> Command:
    """Add `--notes DIR`; the command gets `notes`, the folder that holds `docs_data/`."""
    return click.option(
        "--notes",
        metavar="DIR",
        type=NamedPath(path_type=Path),
        callback=_notes_folder,
        help=f"The notes; by default the nearest folder upward that holds {DATA}/.",
    )(command)


def _notes_folder(
    context: click.Context, _parameter: click.Parameter, folder: Path | None
) -> Path | None:
    if context.resilient_parsing:
        return None
    return notes_folder(folder)


def notes_folder(named: Path | None) -> Path:
    """Return the notes named, or the nearest upward of where one stands; NotUnderstood if none.

    What a command began to change there and was stopped at is finished before anybody reads them.
    """
    found = _found_notes(named)
    _refuse_linked_work(found)
    if (found / PLAN).is_file():
        _finish_change(found)
    if (found / PACKING).is_file():
        _finish_packing(found)
    return found


def _refuse_linked_work(notes: Path) -> None:
    """Refuse a link in the place of the folder of builds: it leads to what is not theirs."""
    work = notes / WORK
    if work.is_symlink():
        raise NotUnderstood(
            f"{work} is a link, and builds remove what they find there; take the link away, and "
            "the next build makes the folder"
        )


def _finish_change(notes: Path) -> None:
    # Imported here: it is seldom needed, and a question must not wait for it.
    from kb.changing import finish_change

    try:
        finish_change(notes)
    except OSError as error:
        raise disk_refused(error, at=notes, stands="a change is half done") from None
    click.echo("A change of several files that was stopped is finished now.", err=True)


def _finish_packing(notes: Path) -> None:
    from kb.whole_folders import finish_packing

    try:
        done = finish_packing(notes)
    except OSError as error:
        raise disk_refused(error, at=notes, stands="a release is there in part") from None
    if done:
        click.echo("A release that was stopped while it took its place is whole now.", err=True)


def _found_notes(named: Path | None) -> Path:
    if named is not None:
        if not (named / DATA).is_dir():
            raise NotUnderstood(f"{named} holds no '{DATA}/'; name the folder that does")
        # mkdocs would look for a relative folder beside its own settings.
        return named.resolve()
    try:
        return find_notes(Path.cwd())
    except NotesNotFound as error:
        raise NotUnderstood(str(error)) from None


def json_option(command: Command) -> Command:
    """Add `--json`; the command gets `as_json`."""
    return click.option(
        "--json", "as_json", is_flag=True, help="Answer for machines, in full precision."
    )(command)


def say_json(answer: object) -> None:
    """Print an answer for machines, in signs that the output can carry."""
    utf_8 = (sys.stdout.encoding or "").lower().replace("-", "").startswith("utf8")
    click.echo(json.dumps(answer, indent=2, ensure_ascii=not utf_8, allow_nan=False))


@dataclass(frozen=True)
class NamedCurve:
    """The curve that was named, and the sensor when it was named through one."""

    curve: Curve
    sensor: Sensor | None = None

    def heading(self) -> str:
        """Return what the answer is about, in words."""
        curve = f"{self.curve.name} (curve {self.curve.id})"
        if self.sensor is None:
            return curve
        label, name = self.sensor.label, self.sensor.name
        called = name if name.startswith(label) else f"{label} {name}"
        return f"{called} (sensor {self.sensor.id}): {curve}"


def find_curve(notes: Notes, *, name: str) -> NamedCurve:
    """Return the curve of that id, or of the sensor of that id.

    Parameters
    ----------
    notes : Notes
    name : str
        An id; `curves/ID` or `sensors/ID` where a curve and a sensor share it.

    Raises
    ------
    NotUnderstood
        When there is none, with the nearest ids.
    NoAnswer
        When the entry cannot be read, or the sensor has no curve.
    """
    kinds = ["curves", "sensors"]
    kind, _, entry_id = name.rpartition("/")
    if kind and kind not in kinds:
        raise NotUnderstood(
            f"'{kind}' is neither curves nor sensors; write curves/ID or sensors/ID"
        )
    found = [plural for plural in ([kind] if kind else kinds) if notes.knows(plural, entry_id)]
    if not found:
        ids = [known_id for plural in kinds for known_id in notes.ids(plural)]
        raise NotUnderstood(f"no curve and no sensor is called '{name}'; {nearest(name, ids)}")
    if found[0] == "curves":
        return NamedCurve(read_entry(notes, model=Curve, entry_id=entry_id))
    sensor = read_entry(notes, model=Sensor, entry_id=entry_id)
    if sensor.curve is None:
        raise NoAnswer(_no_curve(sensor))
    if not notes.knows("curves", sensor.curve):
        raise NoAnswer(
            f"the sensor '{sensor.id}' names a curve '{sensor.curve}' that is not there; "
            f"{nearest(sensor.curve, notes.ids('curves'))}"
        )
    return NamedCurve(read_entry(notes, model=Curve, entry_id=sensor.curve), sensor)


def read_entry(notes: Notes, *, model: type[E], entry_id: str) -> E:
    """Return an entry that is there; NoAnswer with its problems when it cannot be read."""
    if entry_id not in notes.of(model) and (model.kind, entry_id) in notes.broken:
        file = notes.texts[(model.kind, entry_id)].file
        faults = [fault.picture() for fault in sorted(notes.problems) if fault.file == file]
        raise NoAnswer(f"the {model.noun} '{entry_id}' cannot be read\n" + "\n".join(faults))
    return notes.of(model)[entry_id]


def _no_curve(sensor: Sensor) -> str:
    reason = f"the sensor '{sensor.id}' has no curve"
    if sensor.untestable is not None:
        return f"{reason}. {sensor.untestable.why} {sensor.untestable.instead}"
    reads = "; ".join(f"{state.when}: {state.reads}" for state in sensor.healthy)
    return f"{reason}. When healthy: {reads}"
