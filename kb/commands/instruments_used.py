"""What a reading was taken with: the instruments named, or those the team carries."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import TypeVar

import click

from kb.answers.instruments import Tools
from kb.answers.typed import ICE, SISTER
from kb.catalog import Catalog
from kb.facts import named_meter, named_thermometer
from kb.model import Instrument
from kb.notes.load import TEAM_FILE
from kb.notes.problem import nearest
from kb.numbers.placement import PLACEMENTS
from kb.words.catalogue import name_of

from .options import NoAnswer, NotUnderstood, read_entry

PLACEMENT = "held-on"
"""How a temperature is taken to have been taken where the command does not say."""

Command = TypeVar("Command", bound=Callable[..., object])


def meter_option(command: Command) -> Command:
    """Add `--meter ID`."""
    return click.option(
        "--meter", metavar="ID", help="The meter used; by default the one the team carries."
    )(command)


def thermometer_option(command: Command) -> Command:
    """Add `--thermometer ID`."""
    return click.option(
        "--thermometer",
        metavar="ID",
        help="The thermometer used; by default the one the team carries.",
    )(command)


def instruments_options(command: Command) -> Command:
    """Add `--meter`, `--thermometer` and `--placement`."""
    command = click.option(
        "--placement",
        type=click.Choice(list(PLACEMENTS)),
        default=None,
        show_default=PLACEMENT,
        help="How the temperature was taken.",
    )(command)
    return meter_option(thermometer_option(command))


def sister_options(command: Command) -> Command:
    """Add `--sister R` and `--sister-curve ID`."""
    command = click.option(
        "--sister-curve",
        metavar="ID",
        default="",
        help="The sister's curve, another of the family's; by default the sensor's own.",
    )(command)
    return click.option(
        "--sister",
        metavar="R",
        default="",
        help="What the same meter shows on another sensor in the same stirred cup: then no "
        "temperature is taken.",
    )(command)


def beside_sister(tools: Tools, *, sister: str, curve: str) -> Tools:
    """Return the tools of a reading that is held against a sister in the same cup."""
    return replace(
        tools, placement=SISTER, placement_assumed=False, sister=sister, sister_curve=curve
    )


def tools_named(
    catalog: Catalog, *, meter: str | None, thermometer: str | None, placement: str | None = None
) -> Tools:
    """Return the tools of those ids, or the team's own; PLACEMENT where none is named.

    Raises
    ------
    NotUnderstood
        When there is none of that id, or it reads something else.
    NoAnswer
        When its entry cannot be read, or the notes do not say what the team carries.
    """
    reads_ohm = meter_entry(meter, catalog=catalog)
    probe = _named(
        thermometer,
        catalog=catalog,
        what="thermometer",
        reads="temperature",
        own=catalog.notes.team.thermometer if catalog.notes.team else None,
        fit=catalog.thermometers(),
    )
    return Tools(
        meter=named_meter(reads_ohm),
        thermometer=named_thermometer(probe),
        placement=placement or PLACEMENT,
        placement_assumed=placement is None,
    )


def tools_words(tools: Tools) -> str:
    """Return what a reading was taken with, in words."""
    # In stirred ice no thermometer counts, whoever held one into it; nor beside a sister.
    fixed = tools.placement in (ICE, SISTER)
    used = (tools.meter,) if fixed else (tools.meter, tools.thermometer)
    names = [tool.name for tool in used if tool is not None]
    how = name_of("placement", name=tools.placement, form="said")
    assumed = " (assumed: --placement says otherwise)" if tools.placement_assumed else ""
    return f"{'; '.join(names)}, {how}{assumed}"


def meter_entry(meter: str | None, *, catalog: Catalog) -> Instrument:
    """Return the entry of the meter of that id, or of the team's own; raises as `tools_named`."""
    return _named(
        meter,
        catalog=catalog,
        what="meter",
        reads="resistance",
        own=catalog.notes.team.meter if catalog.notes.team else None,
        fit=catalog.meters(),
    )


def _named(
    named: str | None,
    *,
    catalog: Catalog,
    what: str,
    reads: str,
    own: str | None,
    fit: list[Instrument],
) -> Instrument:
    if named is None and own is None:
        raise NoAnswer(
            f"{TEAM_FILE} does not say which {what} the team carries; name one with --{what}"
        )
    entry_id = named or own or ""
    ids = [instrument.id for instrument in fit]
    if not catalog.notes.knows("instruments", entry_id):
        raise NotUnderstood(f"no instrument is called '{entry_id}'; {nearest(entry_id, ids)}")
    entry = read_entry(catalog.notes, model=Instrument, entry_id=entry_id)
    if entry_id not in ids:
        raise NotUnderstood(f"{entry.name} reads no {reads}; {nearest('', ids)}")
    return entry
