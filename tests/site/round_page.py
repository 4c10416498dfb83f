"""The round of a family in a browser: its places, its lines, and the job that it writes to."""

from __future__ import annotations

import json

FAMILY = "families/quellmark-rooftop.html"
OUTDOORS = "outdoor air"
AT_REST = {"quellmark-return-air": "11.7k", "quellmark-coil-out": "11.6k"}


def the_round(page: object) -> object:
    return page.locator('[data-calc="round"]')


def row_of(page: object, sensor: str) -> object:
    return page.locator(f'li[data-sensor="{sensor}"]')


def fill(page: object, readings: dict[str, str]) -> None:
    for sensor, reading in readings.items():
        row_of(page, sensor).locator("input").fill(reading)


def place_of(page: object, place: str) -> object:
    return page.locator(f'.ohm-place[data-place="{place}"]')


def says_of(page: object, place: str) -> str:
    return place_of(page, place).locator("output").inner_text().replace("\u00a0", " ")


def take(page: object, place: str, at: str, *, how: str | None = "Held on") -> None:
    """Give a place its temperature."""
    section = place_of(page, place)
    if section.locator("details").get_attribute("open") is None:
        section.locator("summary").click()
    section.locator('input[inputmode="decimal"]').fill(at)
    if how:
        section.get_by_text(how, exact=True).click()


def job_of(page: object) -> dict:
    """The one job on this phone."""
    return page.evaluate("Ohm.allJobs()[0]")


def readings_of(page: object, sensor: str) -> list[dict]:
    return [one["typed"] for one in job_of(page)["measurements"] if one["of"] == sensor]


def open_round(page: object) -> None:
    """Unfold what the page folds around the round."""
    page.evaluate(
        """() => { for (let box = document.querySelector('[data-calc="round"]'); box;
             box = box.parentElement) if (box.tagName === "DETAILS") box.open = true; }"""
    )


def sensors_in(page: object) -> list[str]:
    rows = page.locator('[data-calc="round"] li[data-sensor]').all()
    return [row.get_attribute("data-sensor") for row in rows]


def at_one_temperature(page: object, t_c: float) -> dict[str, str]:
    """What every sensor of the round reads at one temperature, by the page's own grids."""
    return {
        row.get_attribute("data-sensor"): page.evaluate(
            "([curve, t]) => String(Ohm.gridOf(curve).ohm(t) + 0.3)",
            [json.loads(row.get_attribute("data-facts"))["curveId"], t_c],
        )
        for row in page.locator('[data-calc="round"] li[data-sensor]').all()
    }
