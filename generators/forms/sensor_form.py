"""The sensor page's form: a reading at a temperature in, a verdict out."""

from __future__ import annotations

from kb.catalog import Catalog
from kb.facts import family_labels, instructions_of
from kb.model import Sensor

from ..html import Html, el
from ..site_context import SiteContext
from .fields import (
    READING_HINT,
    answer,
    clear_key,
    how_taken,
    instruments_fold,
    packed,
    plain_field,
    stepped_field,
    two_ways,
)


def sensor_form(context: SiteContext, *, sensor: Sensor) -> Html:
    """Return the form that judges a reading of one sensor."""
    instructions = {name: getattr(sensor, name) for name in instructions_of(sensor)}
    return el(
        "form",
        two_ways(
            "when",
            label="This reading is",
            options=[("before", "before the repair"), ("after", "after the repair")],
        ),
        stepped_field("at", label="Temperature at the sensor", value="20"),
        how_taken(),
        plain_field("reading", label="Meter shows", hint=READING_HINT),
        instruments_fold(context.catalog),
        answer("at", "how", "reading", "meter", "thermometer"),
        el("div", class_="ohm-more"),
        clear_key(),
        class_="ohm-calc",
        data_calc="judge",
        data_sensor=sensor.id,
        data_family=sensor.family,
        data_facts=packed(_facts(context.catalog, sensor)),
        data_instructions=packed(instructions),
        hidden=True,
        autocomplete="off",
    )


def _facts(catalog: Catalog, sensor: Sensor) -> dict[str, object]:
    """Return what decides on its readings, in the page's names."""
    board = sensor.board_input
    labels = family_labels(catalog, sensor)
    return {
        "curveId": sensor.curve,
        "allowK": sensor.allow_k or 0.0,
        "pullUpOhm": board.pull_up_ohm if board else None,
        "supplyV": board.supply_v if board else None,
        "instructions": list(instructions_of(sensor)),
        "labels": {curve: list(named) for curve, named in labels.items() if curve != sensor.curve},
    }


def curves_of_family(context: SiteContext, *, family_id: str) -> list[str]:
    """Return every curve that a sensor of the family has, for its scripts."""
    return [
        sensor.curve
        for sensor in context.catalog.of_family(Sensor, family_id)
        if sensor.curve and context.catalog.characteristic_of_sensor(sensor)
    ]
