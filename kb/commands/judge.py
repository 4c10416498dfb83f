"""`ohmfolio judge`: is this reading right for this temperature, with these instruments?"""

from __future__ import annotations

from pathlib import Path

import click

from kb.model.curve import SwitchingPtc as SwitchingPtcCurve
from kb.notes.load import load_notes

from .arguments import Temperature, at_option, reading_argument
from .instruments_used import instruments_options, used
from .judge_words import loop_words, verdict_words
from .judged import as_dict, judged, loop_as_dict, loop_judged
from .options import Asked, NoAnswer, find_curve, json_option, notes_option, say_json
from .settled import what_settles


@click.command()
@click.argument("name", metavar="SENSOR|CURVE")
@at_option(required=True, help="The temperature at the sensor, such as 7, -10 or 45F.")
@click.option(
    "--reading", metavar="R", required=True, help="What the meter shows: 6.32k, 6k32, 480, OL."
)
@instruments_options
@notes_option
@json_option
def judge(
    name: str,
    at: Temperature,
    reading: str,
    meter: str | None,
    thermometer: str | None,
    placement: str,
    notes: Path,
    as_json: bool,
) -> None:
    """Say whether a reading is right for a temperature.

    Within limits, outside limits or not decided, with the part's tolerance and the errors of
    meter, thermometer and placement counted. Exit code 0 whatever the verdict.

    Example: ohmfolio judge ntc-10k-3435 --at 7 --reading 20.1k --placement strapped
    """
    r_ohm = reading_argument(reading)
    loaded = load_notes(notes)
    asked = find_curve(loaded, name=name)
    _testable(asked)
    tools = used(loaded, meter=meter, thermometer=thermometer, placement=placement)
    if isinstance(asked.curve, SwitchingPtcCurve):
        loop = loop_judged(loaded, asked, at=at, r_ohm=r_ohm, tools=tools)
        if as_json:
            say_json(loop_as_dict(loop))
        else:
            click.echo(loop_words(loop))
        return
    one = judged(loaded, asked, at=at, r_ohm=r_ohm, tools=tools)
    if as_json:
        say_json(as_dict(one))
        return
    click.echo(verdict_words(one, settles=what_settles(loaded, one)))


def _testable(asked: Asked) -> None:
    sensor = asked.sensor
    if sensor is not None and sensor.untestable is not None:
        raise NoAnswer(
            f"the sensor '{sensor.id}' has no test. {sensor.untestable.why} "
            f"{sensor.untestable.instead}"
        )
