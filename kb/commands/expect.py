"""`ohmfolio expect`: what a sensor should read, or which temperature a reading stands for."""

from __future__ import annotations

from pathlib import Path

import click

from kb.answers.curve_lookup import LookedUp, ohm_at, temperature_of
from kb.answers.loop_limits import loop_limits
from kb.answers.statement import Refusal, Statement
from kb.laws import loop_of
from kb.model import Source
from kb.model.curve import SwitchingPtc as SwitchingPtcCurve
from kb.notes.late import open_notes
from kb.notes.load import Notes
from kb.numbers.characteristic import Characteristic
from kb.numbers.notation import parse_t_c
from kb.numbers.rounding import format_k, format_ohm, format_t
from kb.words.phrase import Voice, phrase, sentence

from .computing import computing
from .options import NamedCurve, NoAnswer, find_curve, json_option, notes_option, refused, say_json
from .terminal import caution_words


class ManyTemperatures(click.Command):
    """Lets one `--at` take several temperatures: `--at 0 7 25`."""

    def parse_args(self, context: click.Context, args: list[str]) -> list[str]:
        """Give each temperature after an `--at` an `--at` of its own."""
        given: list[str] = []
        after_at = False
        for i, arg in enumerate(args):
            if after_at and given[-1] != "--at" and _is_temperature(arg):
                given.append("--at")
            elif after_at and given[-1] != "--at":
                after_at = False
            if arg == "--at":
                after_at = i + 1 < len(args)
            given.append(arg)
        return super().parse_args(context, given)


def _is_temperature(text: str) -> bool:
    try:
        parse_t_c(text)
    except ValueError:
        return False
    return True


@click.command(cls=ManyTemperatures)
@click.argument("name", metavar="CURVE|SENSOR")
@click.option("--at", "at", metavar="T…", multiple=True, help="Temperatures, such as 7 -10 45F.")
@click.option(
    "--reading", metavar="R", multiple=True, help="What the meter shows, such as 6.32k, 6k32, 480."
)
@notes_option
@json_option
def expect(
    name: str, at: tuple[str, ...], reading: tuple[str, ...], notes: Path, as_json: bool
) -> None:
    """Say what a sensor should read at a temperature, or which temperature a reading stands for.

    CURVE|SENSOR is the id of either: the file's name without .yaml.

    Example: ohmfolio expect ntc-10k-3435 --at 0 7 45F
    """
    if bool(at) == bool(reading):
        raise click.UsageError("give either --at T or --reading R")
    loaded = open_notes(notes)
    named = find_curve(loaded, name=name)
    if isinstance(named.curve, SwitchingPtcCurve):
        if not at:
            switching = Statement(id="curve.switching", figures={"curve": named.curve.id})
            raise NoAnswer(f"{phrase(switching)}, with --at T")
        figures, lines = _switching(named, named.curve, at)
    elif at:
        figures, lines = _points(named, computing(named.curve), at)
    else:
        figures, lines = _temperatures(named, computing(named.curve), reading)
    if as_json:
        say_json({"curve": named.curve.id, **figures})
    else:
        click.echo("\n".join([named.heading(), "", *lines, _source_line(loaded, named)]))


Answer = tuple[dict[str, object], list[str]]
"""What machines get, and lines for people."""


def _points(named: NamedCurve, curve: Characteristic, at: tuple[str, ...]) -> Answer:
    points = []
    for text in at:
        try:
            points.append(ohm_at(text, curve=curve, curve_id=named.curve.id))
        except Refusal as refusal:
            raise refused(refusal, at=text) from None
    rows = [["at", "expect", "lowest", "highest", "±"]]
    for point in points:
        rows.append(
            [
                format_t(point.t_c, unit=point.unit),
                format_ohm(point.r_ohm, digits=point.digits),
                "?" if point.low_ohm is None else format_ohm(point.low_ohm, digits=point.digits),
                "?" if point.high_ohm is None else format_ohm(point.high_ohm, digits=point.digits),
                "?" if point.tol_k is None else _plus_minus(point.tol_k, unit=point.unit),
            ]
        )
    unknown = [] if curve.tolerance_known else [sentence(points[0].statements[0])]
    return {"points": [_figures(point) for point in points]}, [*_lines(rows), "", *unknown]


def _figures(point: LookedUp) -> dict[str, object]:
    """Return a point in full precision, and how many digits of ohms people are shown."""
    names = ("t_c", "r_ohm", "low_ohm", "high_ohm", "tol_k")
    return {name: getattr(point, name) for name in names} | {"ohm_digits": point.digits}


def _plus_minus(tol_k: float, *, unit: str) -> str:
    return format_k(tol_k, unit="K" if unit == "C" else "F")


def _temperatures(named: NamedCurve, curve: Characteristic, readings: tuple[str, ...]) -> Answer:
    points = []
    for text in readings:
        try:
            points.append(temperature_of(text, curve=curve, curve_id=named.curve.id))
        except Refusal as refusal:
            raise refused(refusal) from None
    rows = [["reads", "stands for", "±", "or", "±"]]
    for point in points:
        cells = [format_ohm(point.r_ohm, digits=point.digits)]
        for unit in ("C", "F"):
            tol = "?" if point.tol_k is None else _plus_minus(point.tol_k, unit=unit)
            cells += [format_t(point.t_c, unit=unit), tol]
        rows.append(cells)
    found = [_figures(point) for point in points]
    figures: dict[str, object] = found[0] if len(found) == 1 else {"readings": found}
    note = sentence(Statement(id="curve.tolerance-alone"))
    return figures, [*_lines(rows), "", note]


def _switching(named: NamedCurve, entry: SwitchingPtcCurve, at: tuple[str, ...]) -> Answer:
    """Give a switching PTC's limits: it is a switch, and stands for no temperature."""
    loop = loop_of(entry)
    limits = []
    for text in at:
        try:
            limits.append(loop_limits(text, loop=loop))
        except Refusal as refusal:
            raise refused(refusal, at=text) from None
    machine_limits = [
        {"t_c": each.t_c, "least_ohm": each.least_ohm, "most_ohm": each.most_ohm} for each in limits
    ]
    figures = {"in_series": entry.in_series, "trip_c": entry.trip_c}
    lines = [phrase(each.statement, voice=Voice(unit=each.unit)) for each in limits]
    return {"limits": machine_limits}, [
        sentence(Statement(id="curve.switch", figures=figures), voice=Voice(unit=limits[0].unit)),
        *lines,
        "",
        caution_words(limits[0].cautions),
    ]


def _lines(rows: list[list[str]]) -> list[str]:
    wide = [max(len(row[i]) for row in rows) for i in range(len(rows[0]))]
    return [
        "  ".join(cell.rjust(width) for cell, width in zip(row, wide, strict=True)) for row in rows
    ]


def _source_line(loaded: Notes, named: NamedCurve) -> str:
    cited_names = []
    for cited in named.curve.source:
        source = loaded.of(Source).get(cited.id)
        name = source.name if source is not None else cited.id
        cited_names.append(f"{name} ({cited.at})" if cited.at else name)
    checked = named.curve.checked
    tail = f"Checked by {checked.by} on {checked.on}." if checked else "A draft: nobody checked it."
    return f"Source: {'; '.join(cited_names)}. {tail}"
