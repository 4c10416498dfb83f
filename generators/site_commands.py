"""The commands that build and show the site."""

from __future__ import annotations

import contextlib
import json
import sys
from collections.abc import Iterator
from functools import partial
from pathlib import Path

import click

from kb.commands.check import show_problems
from kb.commands.disk_words import disk_refused
from kb.commands.editor_files import refresh_schemas
from kb.commands.options import WholePath, notes_option
from kb.site_folder import FolderNotOurs, refuse_foreign, refuse_place

from .build import BUILD_REFUSALS, NotesHaveFaults, Progress, build, no_progress
from .interruption import report_what_stands
from .serve import PortTaken, serve
from .shown_site import ShownSite
from .summary import summary_dict, summary_words

STEPS = ("check", "make", "charts", "photos", "write", "dress", "seal", "done")
_CLEAR_LINE_ABOVE = "\x1b[1A\x1b[2K"
"""Up a line, and that line emptied (ECMA-48, CUU and EL)."""


@contextlib.contextmanager
def progress_bar() -> Iterator[Progress]:
    """Show on standard error how far a build is, while a terminal watches; leave nothing behind."""
    if not sys.stderr.isatty():
        yield no_progress
        return
    last = len(STEPS) - 1
    bar = click.progressbar(length=last, file=sys.stderr, item_show_func=str, show_eta=False)

    def show(step: str, done: int, of: int) -> None:
        bar.pos = STEPS.index(step)
        bar.current_item = f"{step} {done} of {of}" if of > 1 else step
        bar.render_progress()

    try:
        with bar:
            yield show
    finally:
        click.echo(_CLEAR_LINE_ABOVE, err=True, nl=False)


@click.command("build")
@notes_option
@click.option(
    "--out",
    type=WholePath(path_type=Path, file_okay=False),
    default=None,
    help="Where the site goes; `site/` in the notes by default.",
)
@click.option("--json", "as_json", is_flag=True, help="The summary for machines.")
def build_command(notes: Path, out: Path | None, as_json: bool) -> None:
    """Build the offline site from the notes.

    A build that fails or is stopped leaves the old site as it was.

    Example: ohmfolio build --out /srv/notes
    """
    out = out or notes / "site"
    with report_what_stands(out):
        try:
            with progress_bar() as progress:
                summary = build(notes, out=out, progress=progress)
        except NotesHaveFaults as faults:
            show_problems(faults.notes, as_json=as_json)
            if not as_json:
                click.echo(f"Nothing was built; {_old(out)}.", err=True)
            sys.exit(1)
        except BUILD_REFUSALS as refusal:
            raise click.ClickException(str(refusal)) from None
        except OSError as error:
            raise _refused(error, notes=notes, out=out) from None
        if as_json:
            click.echo(json.dumps(summary_dict(summary, out=out), indent=2))
        else:
            click.echo(summary_words(summary, out=out))


def _old(out: Path) -> str:
    return f"the old site in {out} stands" if out.exists() else "there was no site yet"


def _refused(error: OSError, *, notes: Path, out: Path) -> click.ClickException:
    return disk_refused(
        error, at=f"the site of {notes}", stands=f"nothing was changed, and {_old(out)}"
    )


@click.command("serve")
@notes_option
@click.option("--port", default=8765, show_default=True, help="Port on this machine only.")
@click.option(
    "--out",
    type=WholePath(path_type=Path, file_okay=False),
    default=None,
    help="Where the site goes; `site/` in the notes by default.",
)
def serve_command(notes: Path, port: int, out: Path | None) -> None:
    """Build, show the site on this machine, and rebuild on every change of the notes.

    An entry with a fault shows its problem here and in the page; the last good site stays up. A pin
    that is dragged on a drawing is moved in its entry; nobody but this machine's own pages can.

    Example: ohmfolio serve --port 9000
    """
    out = out or notes / "site"
    try:
        # Said at once, and not in every page that somebody may open.
        refuse_place(out, notes=notes)
        refuse_foreign(out)
        with report_what_stands(out):
            serve(partial(_rebuild, notes), notes=notes, out=out, port=port)
    except (PortTaken, FolderNotOurs) as taken:
        raise click.ClickException(str(taken)) from None


def _rebuild(notes: Path, shown: ShownSite) -> str | None:
    """Build once; return the problems in words, or None when the site is new."""
    refresh_schemas(notes)
    try:
        summary = build(notes, out=shown.out, onlooker=shown)
    except NotesHaveFaults as faults:
        faulty = (problem for problem in faults.notes.problems if not problem.warning)
        pictures = "\n\n".join(problem.picture() for problem in faulty)
        click.echo(f"{pictures}\nThe last good site stays up.", err=True)
        return pictures
    except BUILD_REFUSALS as refusal:
        words = str(refusal)
    except OSError as error:
        words = _refused(error, notes=notes, out=shown.out).format_message()
    else:
        click.echo(f"Built release {summary.release} in {summary.seconds:.1f} s.")
        return None
    click.echo(words, err=True)
    return words
