"""`ohmfolio which`: a sensor without a mark: which curves do these readings belong to?"""

from __future__ import annotations

import math
from dataclasses import dataclass
from pathlib import Path

import click

from kb.catalog import Catalog
from kb.model import Curve
from kb.notes.load import Notes, load_notes
from kb.numbers.rounding import format_ohm
from kb.numbers.which_curve import Which, which_curve

from .arguments import ManyPairs, Temperature, pair_arguments, temperature_argument
from .instruments_used import Used, instruments_options, used
from .options import NoAnswer, NotUnderstood, json_option, notes_option, say_json
from .terminal import caution_words, wrapped

SHOWN = 6
"""Curves that do not fit are told up to here: the nearest misses."""


@dataclass(frozen=True, kw_only=True)
class Found:
    """The curves ranked against some readings.

    Parameters
    ----------
    readings : tuple of (Temperature, ohms)
    names : dict of curve to its name
    """

    readings: tuple[tuple[Temperature, float], ...]
    used: Used
    which: Which
    names: dict[str, str]


@click.command(cls=ManyPairs)
@click.option(
    "--pair",
    metavar="T=R…",
    multiple=True,
    required=True,
    help="A temperature and what it read there, such as 0=32.6k or 77F=10k; more is better.",
)
@instruments_options
@notes_option
@json_option
def which(
    pair: tuple[str, ...],
    meter: str | None,
    thermometer: str | None,
    placement: str,
    notes: Path,
    as_json: bool,
) -> None:
    """Say which of the notes' curves some readings belong to.

    Ice water and a warm hand are good places to measure an unmarked sensor. Curves that cannot be
    told apart are said to be so, with the temperature at which they would part.

    Example: ohmfolio which --pair 0=32.6k 25=10k --placement ice-water
    """
    readings = []
    for told, r_ohm in pair_arguments(pair, form="25=10k"):
        if math.isinf(r_ohm):
            raise NotUnderstood("over range belongs to every curve or none; give what it reads")
        readings.append((temperature_argument(told), r_ohm))
    loaded = load_notes(notes)
    tools = used(loaded, meter=meter, thermometer=thermometer, placement=placement)
    one = found(loaded, readings, tools=tools)
    say_json(as_dict(one)) if as_json else click.echo(words(one))


def found(notes: Notes, readings: list[tuple[Temperature, float]], *, tools: Used) -> Found:
    """Return the notes' curves ranked against the readings."""
    curves = Catalog(notes).computing_curves()
    if not curves:
        raise NoAnswer("the notes hold no curve that computes; see 'ohmfolio check'")
    measured = [tools.took(r_ohm, at=at) for at, r_ohm in readings]
    return Found(
        readings=tuple(readings),
        used=tools,
        which=which_curve(curves, readings=measured),
        names={name: notes.of(Curve)[name].name for name in curves},
    )


def as_dict(one: Found) -> dict[str, object]:
    """Return what `which --json` promises: only curves that reach every reading are ranked."""
    reached = [candidate for candidate in one.which.ranking if math.isfinite(candidate.worst_k)]
    return {
        "ranking": [
            {
                "curve": candidate.curve,
                "worst_k": candidate.worst_k,
                "chi2": candidate.chi2 if math.isfinite(candidate.chi2) else None,
            }
            for candidate in reached
        ],
        "unreached": sorted(
            candidate.curve for candidate in one.which.ranking if candidate not in reached
        ),
        "separable": one.which.separable,
        "advice": advice(one),
    }


def advice(one: Found) -> str:
    """Return what the ranking means and what to do next, in words."""
    fitting = [candidate.curve for candidate in one.which.ranking if candidate.fits]
    at = one.readings[0][0]
    if not fitting:
        return (
            "No curve of the notes fits. Was the plug off, and sensor and thermometer at one "
            "temperature? If so its curve is not in the notes: measure it at several temperatures "
            "and see 'ohmfolio fit'."
        )
    if len(fitting) == 1:
        more = ""
        if len(one.readings) == 1:
            more = " One more reading, some 20 K away, makes sure."
        return f"Only {fitting[0]} fits.{more}"
    listed = f"{', '.join(fitting[:-1])} and {fitting[-1]}"
    parting = one.which.parting
    if parting is None:
        return f"{listed} cannot be told apart by these readings, and share no temperature."
    first, second = parting.curves
    told = f"{listed} cannot be told apart by these readings."
    if not parting.certain:
        return (
            f"{told} {first} and {second} never part by more than {at.apart(parting.by_k)}, at "
            f"{at.degrees(parting.at_c)}, where {at.apart(parting.needed_k)} would be needed: take "
            "better instruments or ice water, or go by what is printed on the part."
        )
    return (
        f"{told} Measure at {at.degrees(parting.at_c)}: there {first} and {second} are "
        f"{at.apart(parting.by_k)} apart, and {at.apart(parting.needed_k)} is enough."
    )


def words(one: Found) -> str:
    """Return the whole answer for a terminal."""
    at = one.readings[0][0]
    said = " and ".join(f"{format_ohm(r_ohm)} at {t}" for t, r_ohm in one.readings)
    ranking = one.which.ranking
    fit = [candidate for candidate in ranking if candidate.fits]
    misses = [c for c in ranking if not c.fits and math.isfinite(c.worst_k)][:SHOWN]
    rows = [wrapped(advice(one)), wrapped(f"Read {said}, with {one.used.said()}.")]
    for title, candidates in (("It fits:", fit), ("It does not fit:", misses)):
        if candidates:
            lines = [
                f"  {c.curve}: at most {at.apart(c.worst_k)} off ({one.names[c.curve]})"
                for c in candidates
            ]
            rows.append("\n".join([title, *lines]))
    unsaid = len(ranking) - len(fit) - len(misses)
    if unsaid:
        rows.append(f"{unsaid} more curves are further off, or do not reach these readings.")
    return "\n\n".join([*rows, caution_words(("sensor-unplugged", "maker-first"))])
