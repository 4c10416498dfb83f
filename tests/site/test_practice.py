"""The practice machine in a browser: safe first, found by measuring, and the best order beside it."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path

import pytest

from kb.answers.practice_check import Bench, read_sensor
from kb.answers.practice_draw import Hidden, draw_job
from kb.answers.practice_machine import PracticeMachine
from kb.answers.practice_order import best_order
from kb.catalog import Catalog
from kb.model import Code, Sensor
from kb.notes.folder import carried
from kb.notes.load import load_notes
from kb.numbers.grid import compile_grid
from kb.numbers.rounding import format_ohm_to
from kb.practice_facts import practice_bench, practice_machines

axe = pytest.importorskip("axe_playwright_python", reason="axe-core is not installed")
SOURCE = (Path(axe.__file__).parent / "axe.min.js").read_text(encoding="utf-8")

FOCUSED = "document.activeElement.textContent"


class Truth:
    """What Python knows of a job that the page hides."""

    def __init__(self) -> None:
        self.catalog = Catalog(load_notes(carried("docs_data").parent))
        found = practice_bench(self.catalog)
        grids = {name: compile_grid(curve) for name, curve in found.curves.items()}
        self.bench: Bench = replace(found, curves=grids)
        self.machines: list[PracticeMachine] = [
            replace(machine, sensors={name: self._on(sensor) for name, sensor in sensors.items()})
            for machine in practice_machines(self.catalog)
            for sensors in [machine.sensors]
        ]

    def _on(self, sensor: object) -> object:
        return replace(
            sensor, facts=replace(sensor.facts, curve=self.bench.curves[sensor.facts.curve_id])
        )

    def seed_with(self, kind: str, *, suspects: int) -> Hidden:
        """Return the first job of a kind whose code has so many suspects, the sensor not first."""
        for seed in range(2000):
            job = draw_job(seed, machines=self.machines, curves=self.bench.curves)
            code = self.machines[job.machine].codes[job.code]
            if job.kind == kind and len(code.suspects) == suspects and job.suspect > 0:
                return job
        raise LookupError(kind)


@pytest.fixture(scope="module")
def truth() -> Truth:
    return Truth()


def _start(page: object, home_file: str, seed: int) -> None:
    page.goto("about:blank")
    page.goto(home_file.replace("index.html", f"practice.html#job={seed}"))
    assert page.get_by_label("Two-pole tester").is_checked()
    page.get_by_role("button", name="Start the job").click()
    assert page.evaluate(FOCUSED) == "What I know"
    page.get_by_role("button", name="What next").click()


def _open(page: object, title: str) -> object:
    fold = page.locator("details.ohm-practice-fold").filter(
        has=page.locator(":scope > summary", has_text=title)
    )
    if fold.first.get_attribute("open") is None:
        fold.first.locator(":scope > summary").click()
    return fold.first


def _do(page: object, title: str, key: str) -> None:
    _open(page, title).get_by_role("button", name=key).first.click()


def _make_safe(page: object) -> None:
    for key in ("Isolate:", "Lock off", "Wait", "Prove dead"):
        _do(page, "Make it safe", key)


def _practised(page: object) -> list[dict[str, object]]:
    return json.loads(page.evaluate("localStorage.getItem('ohm.practised')"))["done"]


def test_a_job_is_found_safely_and_every_figure_is_pythons(
    phone: object, home_file: str, truth: Truth
) -> None:
    page, job = phone.page, truth.seed_with("drifted", suspects=3)
    machine = truth.machines[job.machine]
    code = machine.codes[job.code]
    label = truth.catalog.get(Sensor, job.sensor).label
    _start(page, home_file, job.seed)
    _make_safe(page)
    assert "Proved dead" in page.locator(".ohm-practice-stand").inner_text()
    _do(page, label, "ice water")
    read = read_sensor(
        job,
        machine=machine,
        bench=truth.bench,
        sensor=job.sensor,
        meter=next(iter(truth.bench.meters)),
        thermometer=next(iter(truth.bench.thermometers)),
        placement="ice-water",
    )
    shown = format_ohm_to(read.ohm.value, digit_ohm=read.ohm.digit)
    news = page.locator(".ohm-practice-news")
    assert news.inner_text() == f"{label}: {shown} in stirred ice water."
    assert news.evaluate("each => each === document.activeElement")
    # The focus reads what was seen: told beside it once more, it would be heard twice.
    told = page.locator('[data-practice] [role="status"]').first.inner_text()
    assert shown not in told and told.endswith("Proved dead")
    page.get_by_role("button", name="What I know").click()
    page.get_by_role("link", name="The code's page").click()
    page.go_back()
    page.get_by_role("button", name="What next").click()
    assert news.inner_text() == f"{label}: {shown} in stirred ice water."
    _do(page, "Name the fault", "drifted")
    assert page.evaluate(FOCUSED).startswith("Put it right")
    for box in page.locator("[data-panel=next] input").all():
        box.check()
    page.get_by_role("button", name="Done. Switch on").click()
    words = page.locator(".ohm-practice-result").inner_text()
    assert words.startswith("Found")
    assert "Safe: isolated" in words
    assert "You named it at the first try." in words
    best = best_order(code, suspect=job.suspect)
    assert f"The best order comes to this fault after {best.found_min:g} min" in words
    assert "Outside limits" in words
    assert page.locator(".ohm-practice-result tbody tr").count() == 3
    done = _practised(page)[-1]
    assert (done["kind"], done["seed"], done["right"]) == ("machine", job.seed, True)
    assert done["minutes"] > machine.wait_min
    assert phone.complaints == []


def test_hands_that_go_in_too_soon_end_the_job_with_what_could_have_happened(
    phone: object, home_file: str, truth: Truth
) -> None:
    page, job = phone.page, truth.seed_with("open", suspects=3)
    label = truth.catalog.get(Sensor, job.sensor).label
    _start(page, home_file, job.seed)
    _do(page, "Make it safe", "Isolate:")
    _do(page, "Make it safe", "Lock off")
    _do(page, "Make it safe", "Prove dead")
    assert "Keep off" in page.locator(".ohm-practice-news").inner_text()
    _do(page, label, "held on")
    words = page.locator(".ohm-practice-result").inner_text()
    assert words.startswith("Stopped: not safe")
    assert "may still have stood" in words
    assert _practised(page)[-1]["right"] is False
    assert phone.complaints == []


def test_a_resistor_at_the_board_leaves_the_power_on_so_the_next_hand_needs_all_of_it_again(
    phone: object, home_file: str, truth: Truth
) -> None:
    page, job = phone.page, _with_board(truth)
    code = truth.machines[job.machine].codes[job.code]
    label = truth.catalog.get(Sensor, code.sensor).label
    _start(page, home_file, job.seed)
    _make_safe(page)
    page.evaluate("document.querySelectorAll('details').forEach(each => { each.open = true; })")
    page.get_by_role("button", name=f"in place of {label}").click()
    assert "make it safe again" in page.locator(".ohm-practice-news").inner_text()
    assert "Power on: hands out" in page.locator(".ohm-practice-stand").inner_text()
    page.evaluate("document.querySelectorAll('details').forEach(each => { each.open = true; })")
    page.get_by_role("button", name="probe held on").first.click()
    assert page.locator(".ohm-practice-result").inner_text().startswith("Stopped: not safe")
    assert phone.complaints == []


def _with_board(truth: Truth) -> Hidden:
    for seed in range(2000):
        job = draw_job(seed, machines=truth.machines, curves=truth.bench.curves)
        machine = truth.machines[job.machine]
        checks = [row.check for row in machine.codes[job.code].suspects]
        if {"board", "sensor"} <= set(checks) and machine.charge_v:
            return job
    raise LookupError("board")


def test_a_wrong_guess_costs_its_repair_and_the_code_comes_back(
    phone: object, home_file: str, truth: Truth
) -> None:
    page, job = phone.page, truth.seed_with("short", suspects=3)
    code = truth.machines[job.machine].codes[job.code]
    rows = truth.catalog.get(Code, code.id).suspects
    wrong = next(row.what for row in rows if row.what)
    label = truth.catalog.get(Sensor, job.sensor).label
    _start(page, home_file, job.seed)
    for guess in (wrong, "shorted"):
        _make_safe(page)
        _do(page, "Name the fault", guess)
        page.get_by_role("button", name="Done. Switch on").click()
        assert "not ticked" in page.locator("[data-panel=next]").inner_text()
        for box in page.locator("[data-panel=next] input").all():
            box.check()
        page.get_by_role("button", name="Done. Switch on").click()
        if guess == wrong:
            assert "is back" in page.locator(".ohm-practice-news").inner_text()
            assert "Power on" in page.locator(".ohm-practice-stand").inner_text()
    words = page.locator(".ohm-practice-result").inner_text()
    assert "You named it after 1 wrong." in words
    assert f"{label} was shorted." in words
    assert _practised(page)[-1]["right"] is False
    assert phone.complaints == []


def _over(page: object, width: int) -> int:
    """Return how many px stand over a screen so wide; 195 is 390 with its text twice as large."""
    page.set_viewport_size({"width": width, "height": 844})
    inside = "[...document.querySelectorAll('[data-practice] button, [data-practice] summary')]"
    keys = f"{inside}.map(each => each.scrollWidth - each.clientWidth)"
    return page.evaluate(f"Math.max(document.documentElement.scrollWidth - innerWidth, ...{keys})")


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_axe_finds_nothing_while_a_job_goes_on_or_at_its_end(
    browser: object, home_file: str, scheme: str
) -> None:
    context = browser.new_context(
        viewport={"width": 390, "height": 844}, color_scheme=scheme, bypass_csp=True
    )
    page, found, wide = context.new_page(), [], []
    _start(page, home_file, 7)
    for screen in ("What next", "Show me what it was"):
        page.get_by_role("button", name=screen).click()
        page.evaluate("document.querySelectorAll('details').forEach(each => { each.open = true; })")
        page.evaluate(SOURCE)
        found += page.evaluate("axe.run(document)")["violations"]
        wide += [_over(page, width) for width in (195, 390)]
    context.close()
    assert [(fault["id"], fault["nodes"][0]["html"][:90]) for fault in found] == []
    assert max(wide) <= 0
