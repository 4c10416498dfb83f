"""Say what a sheet would write, what is wrong with it, and which columns it may have."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence

import click

from kb.bring.draft import Outcome, Written
from kb.bring.headings import NO_SHEET
from kb.bring.pin_rows import DRAWINGS, PIN_ROWS
from kb.columns.column import Column, sheet_columns
from kb.words.phrase import counted

from .asking import WIDE, narrow
from .options import NoAnswer, say_json

SHOWN_WHOLE = 3
"""New entries up to this many are shown whole; of more, the first, and the others by a line."""
POINT_ROWS = (
    ("curve", "The curve's id; else --curve, or the sheet's name.", "curve, id"),
    ("temperature", "With its unit: t_c, Temp [°C] or t_f.", "t_c, temp (°C), t [°F]"),
    ("resistance", "With its unit, as printed: r_ohm, R [kΩ].", "r_ohm, r (kohm), R/kΩ"),
    ("low", "The lowest of the part, with its unit.", "low_ohm, Rmin [kΩ]"),
    ("high", "The highest of the part, with its unit.", "high_ohm, Rmax [kΩ]"),
)


def outcome_words(outcome: Outcome, *, remarks: Sequence[str], full: bool) -> str:
    """Return what would be written; with faults, only those: all at once."""
    parts = []
    if outcome.faults:
        parts += [fault.picture() for fault in outcome.faults]
        parts += [narrow(f"Mind: {remark}") for remark in remarks]
        count = counted(len(outcome.faults), noun="problem")
        return "\n\n".join([*parts, f"{count}. Nothing was written."])
    new = [file for file in outcome.files if file.before is None]
    changed = [file for file in outcome.files if file.before is not None]
    parts += [f"changed: {file.path}\n{file.diff()}".rstrip() for file in changed]
    whole = new if full or len(new) <= SHOWN_WHOLE else new[:1]
    parts += [f"new: {file.path}\n{_shortened(file, full=full)}".rstrip() for file in whole]
    others = [file for file in new if file not in whole]
    if others:
        rows = [f"new: {file.path}" for file in others]
        parts.append("\n".join(rows) + "\nTheir lines: --full")
    parts += [fault.picture() for fault in outcome.warnings]
    parts += [narrow(f"Mind: {remark}") for remark in remarks]
    parts.append(_count(new=len(new), changed=len(changed)))
    return "\n\n".join(parts)


def _shortened(file: Written, *, full: bool) -> str:
    if full:
        return file.diff()
    return "\n".join(
        line if len(line) <= WIDE else line[: WIDE - 1] + "…" for line in file.diff().splitlines()
    )


def _count(*, new: int, changed: int) -> str:
    if not new and not changed:
        return "Nothing differs from the notes."
    counts = [f"{number} {word}" for number, word in ((new, "new"), (changed, "changed")) if number]
    return f"{' and '.join(counts)}."


def columns_words(kind: str, *, as_json: bool) -> None:
    """Print the columns that a sheet of a kind may have."""
    if kind in NO_SHEET:
        raise NoAnswer(f"there is no sheet of {kind}: {NO_SHEET[kind]}")
    if kind == "points":
        rows = list(POINT_ROWS)
        needed = {"temperature", "resistance"}
    elif kind == DRAWINGS:
        rows = list(PIN_ROWS)
        needed = {"drawing", "pin", "from left %", "from top %", "where"}
    else:
        columns = sheet_columns(kind)
        rows = [
            ("id", "The entry's file name; by default family and label, code or name.", "file"),
            *((_name(column), _doc(column), ", ".join(column.names[1:])) for column in columns),
        ]
        needed = {_name(column) for column in columns if column.needed} - {
            # Made of label or code and what it is, where the column is left out.
            "name" if kind in ("sensors", "codes") else ""
        }
    if as_json:
        say_json(
            [
                {"column": name, "needed": name in needed, "what": doc, "also": also}
                for name, doc, also in rows
            ]
        )
        return
    click.echo(f"Columns of a sheet of {kind}; * cannot be left out for a new one.\n")
    for name, doc, also in rows:
        click.echo(wrapped_row(("* " if name in needed else "  ") + name, doc=doc, also=also))
    if kind == DRAWINGS:
        click.echo("\nA row is a pin. A pin without a row stays; one is taken out in its file.")
    elif kind != "points":
        click.echo(
            "\n"
            + narrow(
                "Lists: a bar between lines, as in 'first | second'. # is a number: 'suspect', "
                "'suspect 2'. Big and small letters, signs and the order do not matter."
            )
        )


def wrapped_row(name: str, *, doc: str, also: str) -> str:
    """Return a column with what it is, and what else it may be called, in 80 signs."""
    lines = [*_hung(name.ljust(28) + doc)]
    if also:
        lines += _hung(" " * 28 + f"or: {also}")
    return "\n".join(lines)


def _hung(text: str) -> list[str]:
    return textwrap.wrap(
        text, WIDE, subsequent_indent=" " * 28, drop_whitespace=True, break_long_words=False
    )


def _name(column: Column) -> str:
    return f"{column.name} #" if column.repeats else column.name


def _doc(column: Column) -> str:
    choice = f" One of: {', '.join(column.choices)}." if column.choices else ""
    return (column.doc or f"{column.name[:1].upper()}{column.name[1:]}.") + choice
