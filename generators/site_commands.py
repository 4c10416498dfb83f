"""The commands that build and show the site, and those that publish, added to those that ask."""

from __future__ import annotations

import json
import sys
from dataclasses import fields
from pathlib import Path

import click

from kb.commands.check import show_problems
from kb.commands.disk_words import disk_refused
from kb.commands.main import ohmfolio
from kb.commands.options import WholePath, notes_option
from kb.site_folder import FolderNotOurs, refuse_foreign, refuse_place
from kb.writer import SomebodyElseWrites

from .build import NotesHaveFaults, Summary, build
from .dress import PagesNotDressed
from .interruption import report_what_stands
from .plan import TwoPagesOneName
from .release.commands import changes_command, pack_command, pocket_command, verify_command
from .seal import SiteNotWhole
from .serve import PortTaken, serve

STOPPED = (TwoPagesOneName, PagesNotDressed, SiteNotWhole, FolderNotOurs, SomebodyElseWrites)
"""What can stop a build whose entries are sound; each says what to mend."""

STEPS = ("check", "make", "charts", "write", "dress", "seal", "done")
WIDE = 24


for command in (pack_command, verify_command, changes_command, pocket_command):
    ohmfolio.add_command(command)


class Bar:
    """A progress bar on standard error, drawn only when a terminal watches."""

    def __init__(self) -> None:
        self._watched = sys.stderr.isatty()
        self._drawn = False

    def __call__(self, step: str, done: int, of: int) -> None:
        """Show how far the build is."""
        if not self._watched:
            return
        part = done / of if of else 0.0
        filled = round(WIDE * (STEPS.index(step) + part) / (len(STEPS) - 1))
        count = f" {done} of {of}" if of > 1 else ""
        line = f"\r[{'#' * min(filled, WIDE):<{WIDE}}] {step}{count}"
        click.echo(f"{line:<60}", err=True, nl=False)
        self._drawn = True
        if step == "done":
            self.clear()

    def clear(self) -> None:
        """Take the bar away again."""
        if self._drawn:
            click.echo("\r" + " " * 60 + "\r", err=True, nl=False)
            self._drawn = False


@ohmfolio.command("build")
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
    bar = Bar()
    with report_what_stands(out):
        try:
            summary = build(notes, out, progress=bar)
        except NotesHaveFaults as faults:
            bar.clear()
            show_problems(faults.notes, as_json=as_json)
            if not as_json:
                click.echo(f"Nothing was built; {_old(out)}.", err=True)
            sys.exit(1)
        except STOPPED as fault:
            bar.clear()
            raise click.ClickException(str(fault)) from None
        except OSError as error:
            bar.clear()
            raise _refused(error, notes, out) from None
        if as_json:
            click.echo(json.dumps(summary_dict(summary, out), indent=2))
        else:
            click.echo(summary_words(summary, out))


def _old(out: Path) -> str:
    return f"the old site in {out} stands" if out.exists() else "there was no site yet"


def _refused(error: OSError, notes: Path, out: Path) -> click.ClickException:
    return disk_refused(
        error, at=f"the site of {notes}", stands=f"nothing was changed, and {_old(out)}"
    )


def summary_dict(summary: Summary, out: Path) -> dict[str, object]:
    """Return what a build did, for machines."""
    told = {one.name: getattr(summary, one.name) for one in fields(summary) if one.name != "record"}
    return {**told, "out": str(out)}


def summary_words(summary: Summary, out: Path) -> str:
    """Return what a build did, in five lines."""
    warned = f", {summary.warnings} warnings (see ohmfolio check)" if summary.warnings else ""
    return "\n".join(
        [
            f"{summary.entries} entries became {summary.pages} pages{warned}.",
            f"Charts: {summary.charts_drawn} drawn, {summary.charts_reused} reused. "
            f"Worst interpolation error on the phone: {summary.worst_grid_error_k:.4f} K.",
            f"Release {summary.number} ({summary.release}): {summary.files} files, "
            f"{summary.bytes / 1e6:.1f} MB, {summary.seconds:.1f} s.",
            f"Open {out / 'index.html'}",
        ]
    )


@ohmfolio.command("serve")
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

    An entry with a fault shows its problem here and in the page; the last good site stays up.

    Example: ohmfolio serve --port 9000
    """
    out = out or notes / "site"
    try:
        # Said at once, and not in every page that somebody may open.
        refuse_place(out, notes=notes)
        refuse_foreign(out)
        with report_what_stands(out):
            serve(lambda: _rebuild(notes, out), notes, out, port=port)
    except (PortTaken, FolderNotOurs) as taken:
        raise click.ClickException(str(taken)) from None


def _rebuild(notes: Path, out: Path) -> str | None:
    """Build once; return the problems in words, or None when the site is new."""
    try:
        summary = build(notes, out)
    except NotesHaveFaults as faults:
        wrong = [one.picture() for one in faults.notes.problems if not one.warning]
        click.echo("\n\n".join(wrong) + "\nThe last good site stays up.", err=True)
        return "\n\n".join(wrong)
    except STOPPED as fault:
        click.echo(str(fault), err=True)
        return str(fault)
    except OSError as error:
        told = _refused(error, notes, out).format_message()
        click.echo(told, err=True)
        return told
    click.echo(f"Built release {summary.release} in {summary.seconds:.1f} s.")
    return None
