"""`ohmfolio expect`: what a sensor should read, or which temperature a reading stands for."""

from __future__ import annotations

import math
import re
from pathlib import Path

import click

from kb.characteristics import characteristic_of
from kb.model import Source
from kb.model.curve import SwitchingPtc as SwitchingPtcCurve
from kb.notes.load import Notes, load_notes
from kb.numbers.characteristic import Characteristic
from kb.numbers.notation import parse_reading, parse_t_c
from kb.numbers.rounding import format_k, format_ohm, format_plain, format_t
from kb.numbers.switching_ptc import TEST_VOLTS_MAX, SwitchingPtc

from .options import Asked, NoAnswer, NotUnderstood, find_curve, json_option, notes_option, say_json


class ManyTemperatures(click.Command):
    """Lets one `--at` take several temperatures: `--at 0 7 25`."""

    def parse_args(self, context: click.Context, args: list[str]) -> list[str]:
        """Give each temperature after an `--at` an `--at` of its own."""
        told: list[str] = []
        after_at = False
        for i, arg in enumerate(args):
            if after_at and told[-1] != "--at" and _is_temperature(arg):
                told.append("--at")
            elif after_at and told[-1] != "--at":
                after_at = False
            if arg == "--at":
                after_at = i + 1 < len(args)
            told.append(arg)
        return super().parse_args(context, told)


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
    loaded = load_notes(notes)
    asked = find_curve(loaded, name=name)
    if isinstance(asked.curve, SwitchingPtcCurve):
        _switching(asked, asked.curve, at, as_json=as_json, loaded=loaded)
        return
    try:
        curve = characteristic_of(asked.curve)
    except ValueError as error:
        raise NoAnswer(
            f"the curve '{asked.curve.id}' does not compute: {error}; see 'ohmfolio check'"
        ) from None
    assert curve is not None
    if at:
        _points(asked, curve, at, as_json=as_json, loaded=loaded)
    else:
        _temperatures(asked, curve, reading, as_json=as_json, loaded=loaded)


def _points(
    asked: Asked, curve: Characteristic, at: tuple[str, ...], *, as_json: bool, loaded: Notes
) -> None:
    points = []
    for t_c in _temperatures_read(at):
        try:
            points.append(
                {
                    "t_c": t_c,
                    "r_ohm": curve.r_ohm(t_c),
                    "low_ohm": curve.low_ohm(t_c),
                    "high_ohm": curve.high_ohm(t_c),
                    "tol_k": curve.tol_k(t_c),
                }
            )
        except ValueError as error:
            raise NoAnswer(str(error)) from None
    if not curve.tolerance_known:
        # A band of no width would read as a promise that nobody made.
        points = [{**one, "low_ohm": None, "high_ohm": None, "tol_k": None} for one in points]
    if as_json:
        say_json({"curve": asked.curve.id, "points": points})
        return
    rows = [["at", "expect", "lowest", "highest", "±"]]
    for told, point in zip(at, points, strict=True):
        band = ["?", "?", "?"]
        if curve.tolerance_known:
            band = [
                format_ohm(point["low_ohm"]),
                format_ohm(point["high_ohm"]),
                format_k(point["tol_k"]),
            ]
        rows.append([_as_told(told, point["t_c"]), format_ohm(point["r_ohm"]), *band])
    unknown = [] if curve.tolerance_known else ["Nobody knows this part's tolerance."]
    click.echo(
        "\n".join([asked.heading(), "", *_lines(rows), "", *unknown, _source_line(loaded, asked)])
    )


def _temperatures(
    asked: Asked, curve: Characteristic, readings: tuple[str, ...], *, as_json: bool, loaded: Notes
) -> None:
    found = []
    for told in readings:
        try:
            r_ohm = parse_reading(told)
        except ValueError as error:
            raise NotUnderstood(str(error)) from None
        if math.isinf(r_ohm):
            raise NoAnswer("over range is an open circuit, and stands for no temperature")
        try:
            found.append({"r_ohm": r_ohm, "t_c": curve.t_c(r_ohm)})
        except ValueError as error:
            raise NoAnswer(str(error)) from None
    if as_json:
        one = {"t_c": found[0]["t_c"]} if len(found) == 1 else {"readings": found}
        say_json({"curve": asked.curve.id, **one})
        return
    rows = [["reads", "stands for", "", "±"]]
    for one in found:
        t_c = one["t_c"]
        tol = format_k(curve.tol_k(t_c)) if curve.tolerance_known else "?"
        rows.append([format_ohm(one["r_ohm"]), format_t(t_c), format_t(t_c, unit="F"), tol])
    note = "± is the part's tolerance alone; the meter's error comes on top."
    click.echo(
        "\n".join([asked.heading(), "", *_lines(rows), "", note, _source_line(loaded, asked)])
    )


def _switching(
    asked: Asked, entry: SwitchingPtcCurve, at: tuple[str, ...], *, as_json: bool, loaded: Notes
) -> None:
    """Give a switching PTC's limits: it is a switch, and stands for no temperature."""
    if not at:
        raise NoAnswer(
            f"'{entry.id}' is a switching PTC: its resistance stands for no temperature; "
            "ask for its limits with --at T"
        )
    loop = SwitchingPtc(trip_c=entry.trip_c, in_series=entry.in_series)
    limits = []
    for t_c in _temperatures_read(at):
        try:
            least, most = loop.limits_ohm(t_c)
        except ValueError as error:
            raise NoAnswer(str(error)) from None
        limits.append((t_c, least or None, None if math.isinf(most) else most))
    if as_json:
        told = [{"t_c": t, "least_ohm": low, "most_ohm": high} for t, low, high in limits]
        say_json({"curve": asked.curve.id, "limits": told})
        return
    said = [
        f"{_as_told(told, t_c)}: {_limit_words(low, high)}"
        for told, (t_c, low, high) in zip(at, limits, strict=True)
    ]
    click.echo(
        "\n".join(
            [
                asked.heading(),
                "",
                f"A switch, not a curve: {entry.in_series} in series, trips at "
                f"{format_t(entry.trip_c)}.",
                *said,
                "",
                f"Measure with at most {format_plain(TEST_VOLTS_MAX)} V on each element, never "
                "with an insulation "
                "tester.",
                _source_line(loaded, asked),
            ]
        )
    )


def _limit_words(low: float | None, high: float | None) -> str:
    if low is not None:
        return f"at least {format_ohm(low)}"
    if high is not None:
        return f"at most {format_ohm(high)}"
    return "anything: it is switching here"


def _temperatures_read(at: tuple[str, ...]) -> list[float]:
    try:
        return [parse_t_c(told) for told in at]
    except ValueError as error:
        raise NotUnderstood(str(error)) from None


def _as_told(told: str, t_c: float) -> str:
    return format_t(t_c, unit="F" if re.search("[fF]$", told.strip()) else "C")


def _lines(rows: list[list[str]]) -> list[str]:
    wide = [max(len(row[i]) for row in rows) for i in range(len(rows[0]))]
    return [
        "  ".join(cell.rjust(width) for cell, width in zip(row, wide, strict=True)) for row in rows
    ]


def _source_line(loaded: Notes, asked: Asked) -> str:
    said = []
    for cited in asked.curve.source:
        source = loaded.of(Source).get(cited.id)
        name = source.name if source is not None else cited.id
        said.append(f"{name} ({cited.at})" if cited.at else name)
    checked = asked.curve.checked
    tail = f"Checked by {checked.by} on {checked.on}." if checked else "A draft: nobody checked it."
    return f"Source: {'; '.join(said)}. {tail}"
