"""The sensor page's form: a reading at a temperature in, a verdict out."""

from __future__ import annotations

import json

from kb.catalog import shown_name
from kb.model import Sensor
from kb.numbers.rounding import format_plain

from ..html import Html, el
from ..site_context import SiteContext
from .fields import (
    READING_HINT,
    answer,
    clear_key,
    how_taken,
    instruments_fold,
    plain_field,
    stepped_field,
    two_ways,
)


def sensor_form(context: SiteContext, sensor: Sensor) -> Html:
    """Return the form that judges a reading of one sensor."""
    others = [
        {"curve": one.curve, "label": shown_name(one)}
        for one in context.catalog.of_family(Sensor, sensor.family)
        if one.curve and one.curve != sensor.curve and context.catalog.characteristic(one.curve)
    ]
    board = sensor.board_input
    return el(
        "form",
        two_ways(
            "when",
            "This reading is",
            [("before", "before the repair"), ("after", "after the repair")],
        ),
        stepped_field("at", "Temperature at the sensor", value="20"),
        how_taken(),
        plain_field("reading", "Meter shows", hint=READING_HINT),
        instruments_fold(context.catalog),
        answer("at", "how", "reading", "meter", "thermometer"),
        el("div", class_="ohm-more"),
        clear_key(),
        class_="ohm-calc",
        data_calc="judge",
        data_curve=sensor.curve,
        data_sensor=sensor.id,
        data_family=sensor.family,
        data_allow_k=format_plain(sensor.allow_k or 0),
        data_pull_up=format_plain(board.pull_up_ohm) if board else None,
        data_supply=format_plain(board.supply_v) if board else None,
        data_others=json.dumps(others, ensure_ascii=False, separators=(",", ":")),
        data_good=sensor.when_good,
        data_bad=sensor.when_bad,
        data_open=sensor.when_open or sensor.when_bad,
        data_short=sensor.when_short or sensor.when_bad,
        hidden=True,
        autocomplete="off",
    )


def curves_of_family(context: SiteContext, family_id: str) -> list[str]:
    """Return every curve that a sensor of the family has, for its scripts."""
    return [
        one.curve
        for one in context.catalog.of_family(Sensor, family_id)
        if one.curve and context.catalog.characteristic(one.curve)
    ]
