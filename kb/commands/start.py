"""`ohmfolio start`: a new contractor's notes, ready to check and to build."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from pathlib import Path

import click

from kb.check.examples_left import demo_team
from kb.editor import FOLDER, SETTINGS, settings_text, with_modeline
from kb.examples import examples_of, removable
from kb.notes.folder import CONTENT, DATA, carried
from kb.notes.load import load_notes
from kb.writer import fill_folder

from .disk_words import DiskRefused, why
from .editor_files import write_editor_files
from .options import NamedPath, NotUnderstood, json_option, say_json

STARTER = Path(__file__).resolve().parents[1] / "starter"
NOT_KEPT = {".gitignore": "/.build/\n/site/\n/pocket/\n/printed/\n/release-*.zip\n"}
"""What commands make anew by their own names, in the notes, need not be kept with them."""


@click.command()
@click.argument("folder", metavar="DIR", type=NamedPath(path_type=Path))
@click.option("--bare", is_flag=True, help="One small commented example of each kind instead.")
@click.option("--empty", is_flag=True, help="No example at all: for whoever has a sheet to bring.")
@json_option
def start(folder: Path, bare: bool, empty: bool, as_json: bool) -> None:
    """Begin notes of your own in DIR, which must be new, empty, or a new repository.

    You get a copy of the demo notes, to look at a full set and to write over. With --bare you get
    one small commented example of each kind, which 'ohmfolio examples --remove' takes out again.
    With --empty there are only your instruments, your team and your rules of safety to fill in.
    All ways there are schemas and settings too, by which an editor of YAML completes and checks.

    Example: ohmfolio start our-notes --bare
    """
    if bare and empty:
        raise click.UsageError("--bare and --empty are two ways to begin; choose one")
    own = bare or empty
    parts = {name: STARTER / name if own else carried(name) for name in (DATA, CONTENT)}
    for part in parts.values():
        if not part.is_dir():
            raise click.ClickException(
                f"this copy of the program came without {part}; install it again"
            )
    texts = dict(NOT_KEPT)
    if not own:
        texts |= demo_team((carried(DATA) / "team.yaml").read_text(encoding="utf-8"))
    without = {STARTER / path for path in _empty_of()} if empty else set[Path]()
    texts |= _with_modelines(parts[DATA], texts=texts, without=without)
    if not (folder / SETTINGS).parent.exists():
        texts[SETTINGS] = settings_text()
    try:
        fill_folder(folder, parts, texts=texts, without=without, beside=of_a_new_repository)
    except FileExistsError:
        raise NotUnderstood(
            f"{folder} is not an empty folder, and nothing is ever written over; name a new one"
        ) from None
    except OSError as error:
        raise DiskRefused(
            f"{folder} could not be filled: {why(error)}; nothing was left there"
        ) from None
    editor = _editor_words(folder)
    if as_json:
        say_json({"folder": str(folder.resolve()), "files": _files(folder), "editor": editor})
    else:
        click.echo(next_steps(folder, bare=bare, empty=empty, editor=editor))


def _files(folder: Path) -> int:
    """Return how many files of notes stand there."""
    return sum(path.is_file() for name in (DATA, CONTENT) for path in (folder / name).rglob("*"))


def _empty_of() -> list[str]:
    """Return the examples that whoever begins with nothing does not get."""
    loaded = load_notes(STARTER)
    go, _ = removable(examples_of(loaded), notes=loaded, changed_too=False)
    return [example.path for example in go]


def _with_modelines(
    data: Path, *, texts: Mapping[str, str], without: Collection[Path]
) -> dict[str, str]:
    """Return every YAML file that is handed out, with the line that leads editors to its schema."""
    led = {}
    for path in sorted({*data.rglob("*.yaml")} - {*without}):
        file = f"{DATA}/{path.relative_to(data).as_posix()}"
        led[file] = with_modeline(texts.get(file, path.read_text(encoding="utf-8")), file=file)
    return led


def _editor_words(folder: Path) -> list[str]:
    """Write what an editor gets, and say so; the notes stand even where the disk refuses it."""
    try:
        own = write_editor_files(folder.resolve())
    except OSError as error:
        return [f"Nothing for your editor was written: {why(error)}; try ohmfolio schema."]
    return own or [f"Your editor completes and checks while you type: {SETTINGS}, {FOLDER}/."]


def of_a_new_repository(name: str) -> bool:
    """Return whether a file or folder of that name may stand beside new notes."""
    return name in (".git", ".gitignore", ".vscode") or name.partition(".")[0].upper() in (
        "LICENSE",
        "LICENCE",
        "README",
    )


def next_steps(folder: Path, *, bare: bool, empty: bool, editor: Sequence[str]) -> str:
    """Return what was written and what to do next."""
    files = _files(folder)
    what = "one commented example of each kind" if bare else "the notes of an invented contractor"
    if empty:
        what = "your team, two instruments and your rules of safety, to be filled in"
    return "\n".join(
        [
            f"{files} files in {folder}: {what}.",
            "Next:",
            *([] if folder.resolve() == Path.cwd() else [f"  cd {folder}"]),
            *(
                ["  ohmfolio add family  begins your first machine, with its source"]
                if empty
                else []
            ),
            "  ohmfolio check       what is wrong with the notes",
            "  ohmfolio build       makes site/, to open in a browser or put on a host",
            *(
                ["  ohmfolio examples    which examples still stand; --remove takes them out"]
                if bare
                else []
            ),
            f"Begin with {DATA}/team.yaml and {CONTENT}/safety.md: whose notes these are, and your "
            "rules of safety.",
            *editor,
        ]
    )
