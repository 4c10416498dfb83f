"""`ohmfolio examples`: which examples still stand in the notes, and out with them."""

from __future__ import annotations

import sys
from collections.abc import Sequence
from pathlib import Path

import click

from kb.changing import change_notes, changing
from kb.examples import Example, examples_of, removable
from kb.notes.load import load_notes
from kb.words.phrase import counted

from .disk_words import disk_refused
from .editor_files import refresh_schemas
from .options import json_option, notes_option, say_json


@click.command()
@click.option("--remove", is_flag=True, help="Take out those that nobody has changed.")
@click.option("--changed-too", is_flag=True, help="With --remove: also those changed by hand.")
@notes_option
@json_option
def examples(remove: bool, changed_too: bool, notes: Path, as_json: bool) -> None:
    """Say which examples of 'start --bare' still stand in the notes, or take them out.

    They are invented. With --remove each goes that is as it was written and that nothing of yours
    names; one that you changed is left alone unless you say --changed-too.

    Example: ohmfolio examples --remove
    """
    if changed_too and not remove:
        raise click.UsageError("--changed-too goes with --remove")
    if remove:
        # What is read now is what is removed: nobody else writes until the command ends.
        click.get_current_context().with_resource(changing(notes))
    loaded = load_notes(notes)
    there = examples_of(loaded)
    go, stay = removable(there, notes=loaded, changed_too=changed_too)
    if remove and go:
        try:
            change_notes(notes, dict.fromkeys(example.path for example in go))
        except OSError as error:
            raise disk_refused(error, at=notes, stands="nothing was removed") from None
        refresh_schemas(notes)
    left = stay if remove else there
    if as_json:
        say_json(
            {
                "removed": [example.path for example in go] if remove else [],
                "left": [
                    {
                        "file": example.path,
                        "changed": example.changed,
                        "named_by": list(example.named_by),
                    }
                    for example in left
                ],
            }
        )
    elif remove:
        click.echo(_removed_words(go, stay=stay))
    else:
        click.echo(_there_words(go, stay=stay))
    # What was changed by hand was not removed: whoever asked for it must notice.
    if remove and any(example.changed for example in stay) and not changed_too:
        sys.exit(1)


def _there_words(go: Sequence[Example], *, stay: Sequence[Example]) -> str:
    if not go and not stay:
        return "No example stands in these notes."
    parts = []
    if go:
        count = counted(len(go), noun="example").capitalize()
        stand = "stands" if len(go) == 1 else "stand"
        parts.append(f"{count} of 'start --bare' {stand} here; what they say is invented:")
        parts += [f"  {example.path}" for example in go]
        parts.append("Out with them: ohmfolio examples --remove")
    return "\n".join([*parts, *_stay_words(stay)])


def _stay_words(stay: Sequence[Example]) -> list[str]:
    parts = []
    changed = [example for example in stay if example.changed]
    named = [example for example in stay if not example.changed]
    if changed:
        parts.append("Changed by hand, so left alone (--remove --changed-too takes them too):")
        parts += [f"  {example.path}" for example in changed]
    if named:
        parts.append("They stay, since something of yours names them; write your own figures in:")
        parts += [f"  {e.path}\n    named by {e.named_by[0]}" for e in named]
    return parts


def _removed_words(go: Sequence[Example], *, stay: Sequence[Example]) -> str:
    count = counted(len(go), noun="example").capitalize()
    parts = [f"{count} removed." if go else "Nothing to remove.", *_stay_words(stay)]
    if go and not any(example.changed for example in stay):
        parts.append("Next: ohmfolio add family")
    return "\n".join(parts)
