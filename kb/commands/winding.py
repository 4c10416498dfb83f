"""`ohmfolio winding`: are a part's windings equal, and do they read what they should?"""

from __future__ import annotations

import math
from pathlib import Path

import click

from kb.notes.load import load_notes
from kb.numbers.rounding import (
    format_departure,
    format_ohm_to,
    format_percent,
    format_plain,
    format_spread,
)
from kb.numbers.winding_balance import Balance
from kb.numbers.winding_metal import CONSTANTS
from kb.numbers.winding_value import TEMPERATURE_HALF_K
from kb.words.catalogue import name_of

from .arguments import ManyPairs, Temperature, at_option, pair_arguments
from .instruments_used import meter_named, meter_option
from .options import json_option, notes_option, say_json
from .part_lookup import caution_lines, find_part
from .terminal import wrapped
from .windings_read import LEADS, Windings, as_dict, compared

BESIDE = (
    "Balance compares readings of one meter on one range within a minute, and nothing else: "
    "there one digit of it counts."
)


@click.command(cls=ManyPairs)
@click.argument("part", metavar="PART")
@click.option(
    "--reading",
    metavar="A-B=R…",
    multiple=True,
    required=True,
    help=f"A pair of leads and what it read, {LEADS}, such as U-V=3.2.",
)
@at_option(required=False, help="The winding's temperature; needed to bring readings to 20 °C.")
@meter_option
@notes_option
@json_option
def winding(
    part: str,
    reading: tuple[str, ...],
    at: Temperature | None,
    meter: str | None,
    notes: Path,
    as_json: bool,
) -> None:
    """Say whether a part's windings are equal, and read what its entry gives.

    Type readings with the leads zeroed, or their reading taken off. Balance is in per cent of the
    mean and counts one digit of the meter: read all on one range within a minute. With the
    winding's temperature, readings are brought to 20 °C and held against the entry's values, and
    the meter's whole accuracy counts.

    Example: ohmfolio winding quellmark-fan-motor --reading U1-U2=38.1 V1-V2=38.6 W1-W2=38.3 --at 22
    """
    loaded = load_notes(notes)
    found = find_part(loaded, part, has=lambda one: one.windings, what="windings")
    one = compared(
        loaded,
        found,
        pair_arguments(reading, form="U-V=3.2"),
        at=at,
        meter=meter_named(loaded, meter),
    )
    say_json(as_dict(one)) if as_json else click.echo(words(one))


def words(one: Windings) -> str:
    """Return the whole answer for a terminal."""
    parts = [
        wrapped(_headline(one)),
        "\n".join(_rows(one)),
        wrapped(" ".join(_footing(one))),
        wrapped(" ".join(_advice(one))),
        caution_lines(one.cautions),
    ]
    return "\n\n".join(part for part in parts if part)


def _headline(one: Windings) -> str:
    if not one.state:
        return "No verdict: the entry gives no limit that these readings can be held against."
    lead = f"{name_of('verdict', one.state)}: "
    if one.state == "open":
        pairs = [pair for pair, each in one.pairs.items() if math.isinf(each.r_ohm)]
        verb = "is" if len(pairs) == 1 else "are"
        return f"{lead}{', '.join(pairs)} {verb} over range; a winding or a lead is broken."
    if one.state == "undecided":
        if any(balance.state == "undecided" for balance in one.balances):
            return f"{lead}{one.meter.name} is too coarse to tell at these ohms."
        spreads = [balance.worst_share for balance in one.balances if balance.state == "within"]
        alike = f"the windings are {format_spread(max(spreads))}, but " if spreads else ""
        return (
            f"{lead}{alike}{one.meter.name} and a temperature known to "
            f"± {one.at.apart(TEMPERATURE_HALF_K)} cannot hold them against their entry's values."
        )
    if one.state == "outside":
        return lead + "; ".join(_faults(one)) + "."
    said = []
    worst = [balance.worst_share for balance in one.balances if balance.state == "within"]
    if worst:
        said.append(f"the windings are {format_spread(max(worst))}")
    if any(each.state == "within" for each in one.pairs.values()):
        said.append("each reads what the entry gives")
    return f"{lead}{', and '.join(said)}."


def _faults(one: Windings) -> list[str]:
    told = one.part.windings
    found = []
    for balance in one.balances:
        if balance.state == "outside":
            # One bad winding moves the mean under all of them: the furthest is the one.
            pair = max(balance.windings, key=lambda one: abs(balance.windings[one].off_share))
            found.append(
                f"{pair} is {format_departure(balance.windings[pair].off_share)} off the mean, and "
                f"{format_percent(told.balance_percent / 100)} is allowed"
            )
    for pair, each in one.pairs.items():
        if each.state == "outside":
            found.append(
                f"{pair} is {format_departure(each.off_share)} off the "
                f"{format_ohm_to(each.expected_ohm, digit_ohm=each.digit_ohm)} that its entry "
                "gives at "
                f"{one.at}, and {format_percent(each.allowed_share)} is allowed"
            )
    return found


def _rows(one: Windings) -> list[str]:
    rows = [["", "read", "at 20 °C", "off the mean", "off its entry"]]
    for pair, each in one.pairs.items():
        rows.append(
            [
                pair,
                format_ohm_to(each.r_ohm, digit_ohm=each.digit_ohm),
                ""
                if each.at_20_ohm is None
                else format_ohm_to(each.at_20_ohm, digit_ohm=each.digit_ohm),
                _off_mean(one.balances, pair),
                ""
                if each.off_share is None
                else f"{format_departure(each.off_share)} ± {format_percent(each.uncertainty_share)}",
            ]
        )
    wide = [max(len(row[i]) for row in rows) for i in range(len(rows[0]))]
    kept = [i for i, width in enumerate(wide) if i == 0 or any(row[i] for row in rows[1:])]
    return [
        "  ".join(row[i].ljust(wide[i]) if i == 0 else row[i].rjust(wide[i]) for i in kept).rstrip()
        for row in rows
    ]


def _off_mean(balances: tuple[Balance, ...], pair: str) -> str:
    for balance in balances:
        each = balance.windings.get(pair)
        if each is not None and math.isfinite(each.off_share):
            off, left = each.off_share, each.uncertainty_share
            return f"{format_departure(off)} ± {format_percent(left)}"
    return ""


def _footing(one: Windings) -> list[str]:
    told = one.part.windings
    said = [f"{one.part.name} ({one.part.id}), read with {one.meter.name}, {LEADS}."]
    limits = []
    if told.balance_percent:
        limits.append(f"{format_percent(told.balance_percent / 100)} off the mean")
    if told.tolerance_percent:
        limits.append(f"{format_percent(told.tolerance_percent / 100)} off its entry")
    if limits:
        said.append(f"Allowed: {' and '.join(limits)}.")
    if one.balances:
        said.append(BESIDE)
    if one.at is None:
        said.append("Give the winding's temperature with --at to hold it against its entry.")
    else:
        per_k = 1 / (one.constant + one.at.t_c)
        said.append(
            f"Winding at {one.at}, constant {format_plain(one.constant)} "
            f"({CONSTANTS[one.constant]}): each "
            f"kelvin that is wrong there moves the readings by {format_percent(per_k)}, and "
            f"± {one.at.apart(TEMPERATURE_HALF_K)} of it is counted."
        )
    return said


def _advice(one: Windings) -> list[str]:
    said = []
    if one.state == "undecided":
        names = [f"{meter.name} (--meter {meter.id})" for meter in one.better]
        said.append(
            f"Take {' or '.join(names)}." if names else "No meter of the team reads closer."
        )
    if one.unread:
        said.append(f"Not read: {', '.join(one.unread)}.")
    if one.part.insulation is not None:
        said.append(
            "Windings say nothing about earth: test the insulation too, ohmfolio insulation "
            f"{one.part.id}."
        )
    return said
