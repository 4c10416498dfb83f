"""`ohmfolio fields KIND`: the manual of a kind's fields, made from the fields themselves."""

from __future__ import annotations

import textwrap
from dataclasses import asdict

import click

from kb.manual import SECTIONS, FieldRow, about, manual, stands_in

from .add_questions import kind_named
from .options import NotUnderstood, json_option, say_json

WIDE = 80
HANG = 26


@click.command()
@click.argument("kind", metavar="[KIND]", default="")
@json_option
def fields(kind: str, as_json: bool) -> None:
    """Say what an entry of a kind may hold, field by field, each with an example.

    KIND is a kind's folder or noun, such as sensors or sensor; without it, all there are. The built
    site has the same as a page, "Fields".

    Example: ohmfolio fields sensor
    """
    if not kind:
        if as_json:
            say_json({name: about(name) for name in SECTIONS})
            return
        for name in SECTIONS:
            click.echo(_hung(f"{name:<14}{about(name)}", hang=14))
        click.echo("\nEach with its fields: ohmfolio fields sensors")
        return
    section = kind_named(kind) or (kind if kind in SECTIONS else "")
    if not section:
        raise NotUnderstood(f"there is no kind '{kind}'; there is: {', '.join(SECTIONS)}")
    if as_json:
        say_json([asdict(row) for row in manual(section)])
        return
    click.echo(_hung(about(section), hang=0))
    click.echo(_hung(f"File: {stands_in(section)}", hang=6))
    click.echo("* cannot be left out, or not where its block stands.\n")
    law = ""
    for row in manual(section):
        if row.law != law:
            law = row.law
            click.echo(f"--- with law: {law}\n")
        click.echo(row_words(row) + "\n")


def row_words(row: FieldRow) -> str:
    """Return a field with what it is, what it holds, its column and an example, in 80 signs."""
    mark = "* " if row.needed else "  "
    lead = f"{mark}{row.field}".ljust(HANG)
    holds = "" if row.holds in row.doc.casefold() else f"{row.holds[:1].upper()}{row.holds[1:]}."
    sheet = f" In a sheet: {row.called}." if row.called and row.called != row.field else ""
    key = row.field.rpartition(".")[2]
    lines = (
        [_hung(f"{lead}{row.doc}", hang=HANG)]
        if len(lead.rstrip()) < HANG
        else [lead, _in(row.doc)]
    )
    example = [_in(f"{key}: {row.example}")] if row.example else []
    what = [_in((holds + sheet).strip())] if holds or sheet else []
    return "\n".join([*lines, *what, *example])


def _in(text: str) -> str:
    return _hung(" " * HANG + text, hang=HANG)


def _hung(text: str, *, hang: int) -> str:
    return textwrap.fill(text, WIDE, subsequent_indent=" " * hang, break_long_words=False)
