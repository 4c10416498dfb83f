"""`ohmfolio fit`: printed points become a curve; misprints are named, nothing is guessed."""

from __future__ import annotations

import math
import re
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

import click
import numpy as np

from kb.changing import change_notes, stamp_of
from kb.check.misprints import slip_words
from kb.laws import LAWS as CURVE_LAWS
from kb.model.words import ID_PATTERN
from kb.notes.folder import DATA
from kb.notes.load import Notes, load_notes
from kb.notes.problem import nearest
from kb.numbers.fit import LAWS, Fit, fit_points
from kb.numbers.law import Law
from kb.numbers.misprint import Misprint
from kb.numbers.number_column import LEAST_NTC_OHM, MOST_NTC_OHM, NTC_AT_C
from kb.numbers.printed import printed_points
from kb.numbers.rounding import format_k, format_ohm, format_plain, format_t

from .check import refuse
from .fitted_entry import entry_text, faults_of, formula_parameters, plain
from .options import NoAnswer, NotUnderstood, json_option, notes_folder, say_json
from .point_file import PrintedRow, read_points
from .sheet_bytes import sheet_bytes
from .terminal import aligned, wrapped

COARSE_K = 0.5
"""A fit this far off that still agrees says that the points were printed or copied too coarsely."""

SIGN_OF = {"point": ".", "comma": ","}
"""What `--decimal` may say → the sign that stands before decimals."""

OUTCOME = "Mend that first; nothing was written."


@dataclass(frozen=True, kw_only=True)
class Fitted:
    """A file of points and the law that was fitted to it."""

    file: Path
    rows: tuple[PrintedRow, ...]
    law_named: str
    fit: Fit
    asked: tuple[str, ...] = ()
    """What the whole file decided, and what looks wrong with it."""


@click.command()
@click.argument("file", metavar="FILE.csv", type=click.Path(path_type=Path, dir_okay=False))
@click.option(
    "--law",
    type=click.Choice(["auto", *LAWS]),
    default="auto",
    show_default=True,
    help="The law to fit; auto takes the simplest that agrees with the print.",
)
@click.option(
    "--decimal",
    type=click.Choice(["point", "comma"]),
    help="What stands before decimals; by default the whole file decides.",
)
@click.option("--write", "entry_id", metavar="ID", help="Add the curve to the notes by this id.")
@click.option("--title", metavar="TEXT", help="With --write: the curve's name.")
@click.option("--source", metavar="ID", help="With --write: the source of the points.")
@click.option(
    "--notes",
    metavar="DIR",
    type=click.Path(path_type=Path),
    help=f"With --write: the notes; by default the nearest folder upward that holds {DATA}/.",
)
@json_option
def fit(
    file: Path,
    law: str,
    decimal: str | None,
    entry_id: str | None,
    title: str | None,
    source: str | None,
    notes: Path | None,
    as_json: bool,
) -> None:
    """Fit a law to the printed points in FILE.csv, and name points that look misprinted.

    The first line names the columns with their units: t_c,r_ohm or Temp [F],R (kOhm) and, where
    printed, low_ohm,high_ohm. Resistances in any notation; with a decimal comma separate by
    semicolons. Copy them as printed: the last digit says how well each is known. Whether a point
    or comma stands for thousands the whole column decides.

    With --write the curve goes into the notes, unless it would break them; nothing is ever
    written over.

    Example: ohmfolio fit table.csv --write ntc-10k --title "NTC 10k" --source maker-sheet
    """
    if entry_id is None:
        if title or source or notes:
            raise click.UsageError("--title, --source and --notes go with --write ID")
        answer, written = fitted(file, law=law, decimal=decimal, as_json=as_json), None
    else:
        folder = notes_folder(notes)
        stamp = stamp_of(folder)
        loaded = load_notes(folder)
        _may_write(loaded, entry_id=entry_id, title=title, source=source)
        answer = _fitted_to_keep(file, law=law, decimal=decimal, as_json=as_json)
        text = entry_text(answer.fit, rows=answer.rows, title=title or "", source=source or "")
        written = f"{DATA}/curves/{entry_id}.yaml"
        faults = faults_of(text, notes=loaded, entry_id=entry_id, file=written)
        if faults:
            refuse(faults, as_json=as_json, outcome=OUTCOME)
        change_notes(folder, {written: text}, before={written: None}, stamp=stamp)
    say_json(as_dict(answer)) if as_json else click.echo(words(answer, written=written))


def _fitted_to_keep(file: Path, *, law: str, decimal: str | None, as_json: bool) -> Fitted:
    answer = fitted(file, law=law, decimal=decimal, as_json=as_json)
    if law == "auto" and answer.rows[0].low_ohm is not None and answer.fit.name != "table":
        # A formula has no low and high columns, and they are what the maker promises.
        return fitted(file, law="table", decimal=decimal, as_json=as_json)
    return answer


def fitted(file: Path, *, law: str, decimal: str | None = None, as_json: bool = False) -> Fitted:
    """Read the points and fit a law to them.

    Raises
    ------
    NotUnderstood
        When the file cannot be opened.
    NoAnswer
        When no law fits.
    """
    raw = sheet_bytes(file, holds="the points")
    points = read_points(raw, file=str(file), decimal=SIGN_OF.get(decimal or "", ""))
    if points.problems:
        refuse(list(points.problems), as_json=as_json, outcome=OUTCOME)
    found = _fit(points.rows, law=law)
    odd = odd_ntc(found.law, low_c=points.rows[0].t_c, high_c=points.rows[-1].t_c)
    return Fitted(
        file=file,
        rows=points.rows,
        law_named=law,
        fit=found,
        asked=(*points.remarks, *([odd] if odd else [])),
    )


def odd_ntc(law: Law, *, low_c: float, high_c: float) -> str:
    """Ask about a falling curve that reads what no sensor does at 25 °C; empty for any other."""
    if not (law.falling and low_c <= NTC_AT_C <= high_c):
        return ""
    r_ohm = float(law.r_ohm(NTC_AT_C))
    if LEAST_NTC_OHM <= r_ohm <= MOST_NTC_OHM:
        return ""
    limit, unit = (LEAST_NTC_OHM, "kΩ") if r_ohm < LEAST_NTC_OHM else (MOST_NTC_OHM, "Ω")
    way = "below" if r_ohm < LEAST_NTC_OHM else "above"
    column = {"kΩ": "r_kohm", "Ω": "r_ohm"}[unit]
    return (
        f"At {format_t(NTC_AT_C)} this reads {format_ohm(r_ohm)}, and hardly an NTC sensor is "
        f"{way} {format_ohm(limit, digits=1)} there. Is the column in {unit}? Then name it "
        f"{column}."
    )


def _fit(rows: Sequence[PrintedRow], *, law: str) -> Fit:
    points = printed_points((row.t_c, row.r_ohm) for row in rows)
    if len({point.r_ohm for point in points}) == 1:
        raise NoAnswer("resistance is the same at every temperature; no curve does that")
    try:
        # A law tried on points that turn back may divide by nothing; it is then no fit.
        with np.errstate(all="ignore"):
            found = fit_points(points, law=law)
    except ValueError as error:
        raise NoAnswer(str(error)) from None
    if not math.isfinite(found.worst_k):
        raise NoAnswer(f"the law '{law}' has no such shape; use --law auto")
    falling = points[-1].r_ohm < points[0].r_ohm
    if found.law.falling != falling:
        raise NoAnswer(
            f"the points {'fall' if falling else 'rise'} with temperature, and the law '{law}' "
            f"{'rises' if falling else 'falls'}; use --law auto"
        )
    return found


def _may_write(notes: Notes, *, entry_id: str, title: str | None, source: str | None) -> None:
    if not re.fullmatch(ID_PATTERN, entry_id):
        raise NotUnderstood(
            f"'{entry_id}' cannot be an id; use small letters, digits and single hyphens"
        )
    if notes.knows("curves", entry_id):
        raise NotUnderstood(
            f"there is a curve '{entry_id}' already, and nothing is written over; choose another id"
        )
    if not (title and title.strip()):
        raise NotUnderstood('--write needs the curve\'s name: --title "NTC 10k, B 3435"')
    sources = notes.ids("sources")
    if not source:
        raise NotUnderstood(
            f"--write needs to know where the points come from: --source ID; {nearest('', sources)}"
        )
    if not notes.knows("sources", source):
        raise NotUnderstood(f"there is no source '{source}'; {nearest(source, sources)}")


def as_dict(answer: Fitted) -> dict[str, object]:
    """Return what `fit --json` promises."""
    return {
        "law": answer.fit.name,
        "parameters": answer.fit.parameters,
        "worst_k": answer.fit.worst_k,
        "between_k": answer.fit.between_k if math.isfinite(answer.fit.between_k) else None,
        "met_exactly": answer.fit.met_exactly,
        "asked": list(answer.asked),
        "suspect": [
            {
                "t_c": bad.t_c,
                "r_ohm": bad.r_ohm,
                "off_k": bad.off_k,
                "expected_ohm": bad.expected_ohm,
            }
            for bad in answer.fit.suspects
        ],
    }


def words(answer: Fitted, *, written: str | None) -> str:
    """Return the whole answer for a terminal."""
    found = answer.fit
    parts = [wrapped(_headline(answer)), *(wrapped(f"Mind: {ask}") for ask in answer.asked)]
    if found.name != "table":
        parameters = formula_parameters(found).items()
        parts.append(
            "\n".join(aligned((name, plain(value, digits=7)) for name, value in parameters))
        )
    if found.suspects:
        rows = [_misprint_row(answer, suspect=suspect) for suspect in found.suspects]
        parts.append("\n".join(["Looks misprinted, and was left out:", *rows]))
    parts.append(wrapped(_worth(answer)))
    if written:
        parts.append(
            f"{written} is in the notes, as a draft.\n"
            "Next: add its tolerance, hold it against its source, and add 'checked'."
        )
        if found.name != "table" and answer.rows[0].low_ohm is not None:
            parts.append("Its low and high columns stayed out: only a table carries them.")
    return "\n\n".join(parts)


def _headline(answer: Fitted) -> str:
    found, count = answer.fit, len(answer.rows) - len(answer.fit.suspects)
    name = f"{found.name} ({CURVE_LAWS[found.name].fitted_as})"
    if found.name == "table":
        if answer.law_named == "auto":
            return f"No formula agrees with the print, so the {count} points themselves stand."
        return f"Law {name}: {count} points."
    if found.met_exactly:
        return (
            f"Law {name} meets the {count} points exactly, as it meets any {count}: that is no "
            "test of it. Give more points."
        )
    worst = f"at most {format_k(found.worst_k)} off, at {format_t(found.worst_at_c)}"
    if found.within_print:
        lead = (
            "The simplest law that agrees is"
            if answer.law_named == "auto"
            else "It agrees with law"
        )
        sentence = f"{lead} {name}: {worst}, within what {count} printed points can tell."
        if found.worst_k > COARSE_K:
            sentence += " That is coarse: copy every digit as printed, zeros too."
        return sentence
    return f"Law {name} does not agree with the print of {count} points: {worst}."


def _worth(answer: Fitted) -> str:
    found = answer.fit
    low, high = answer.rows[0], answer.rows[-1]
    span = (
        f"It holds from {format_t(low.t_c)} to {format_t(high.t_c)}, the ends of the table, and "
        "nowhere else."
    )
    if found.name == "table" and found.roughness_k:
        span += (
            f" A point is up to {format_k(found.roughness_k)} off the smooth curve through its "
            "neighbours."
        )
    if not math.isfinite(found.between_k):
        span += " How far it is off between two points nobody can tell: give more rows."
    elif found.more_between:
        span += f" Between the points it may be {format_k(found.between_k)} off."
    if not found.within_print:
        span += " Try --law auto."
    return span


def _misprint_row(answer: Fitted, *, suspect: Misprint) -> str:
    printed = next(row.r_ohm for row in answer.rows if row.t_c == suspect.t_c)
    return (
        f"  {format_t(suspect.t_c)}: {printed} is {format_k(abs(suspect.off_k))} off; "
        f"{format_plain(suspect.expected_ohm, digits=10)} Ω would fit{slip_words(suspect)}"
    )
