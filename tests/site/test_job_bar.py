"""The bar under the header: which job is open, another machine, an old job, what is not kept."""

from __future__ import annotations

import datetime
import json
import re

import pytest

CODE = "codes/quellmark-k4-2.html"
SENSOR = "sensors/quellmark-coil-out.html"
FAMILY_PAGES = (
    "families/quellmark-rooftop.html",
    CODE,
    SENSOR,
    "parts/quellmark-main-board.html",
    "jobs/quellmark-rooftop.html",
    "drawings/quellmark-board.html",
)


def bar_of(page):
    return page.locator("[data-ohm-job-bar]")


def words_of(page) -> str:
    """What the bar says, without its sign and its key."""
    return bar_of(page).locator(".ohm-job-name").inner_text()


def start(page, mark: str, key: str = "Start") -> None:
    """Start a job from the bar of the page; where another one was open, the page begins anew."""
    if not page.locator(".ohm-job-panel").is_visible():
        page.locator(".ohm-job-change").click()
    another = page.get_by_role("button", name="Another machine")
    reloads = another.count() > 0
    if reloads:
        another.click()
    page.locator(".ohm-job-panel").get_by_label("Your mark for it").fill(mark)
    begin = page.get_by_role("button", name=key, exact=True)
    if reloads:
        with page.expect_navigation():
            begin.click()
    else:
        begin.click()
    page.locator(".ohm-job-name").filter(has_text=mark).wait_for()


def jobs_kept(page) -> list[dict]:
    """The jobs in this phone's storage, as they stand there."""
    return page.evaluate(
        "Object.keys(localStorage).filter((key) => /^ohm\\.job\\./.test(key))"
        ".map((key) => JSON.parse(localStorage.getItem(key)))"
    )


def change_kept(page, mark: str, **fields: object) -> None:
    """Write other fields into the record of a job, as time or another release would."""
    (job,) = [job for job in jobs_kept(page) if job["mark"] == mark]
    page.evaluate(
        "([key, value]) => localStorage.setItem(key, value)",
        [f"ohm.job.{job['id']}", json.dumps({**job, **fields})],
    )


def leave(page, mark: str, hours: float) -> None:
    """Leave a job alone for so long."""
    before = datetime.datetime.now(datetime.UTC) - datetime.timedelta(hours=hours)
    change_kept(page, mark, touched=before.isoformat())


@pytest.mark.parametrize("path", FAMILY_PAGES)
def test_every_page_of_a_family_has_the_bar_and_it_is_thin(phone, served, path) -> None:
    page = phone.page
    page.goto(served + path)
    assert words_of(page) == "No job open: start one"
    start(page, "left of the lift")
    assert re.fullmatch(r"left of the lift, since \d\d:\d\d", words_of(page))
    assert bar_of(page).bounding_box()["height"] <= 48
    for target in bar_of(page).locator("a, button").all():
        if target.is_visible():
            box = target.bounding_box()
            assert min(box["width"], box["height"]) >= 44, target.inner_text()
    assert phone.complaints == []


@pytest.mark.parametrize("path", ["index.html", "curves/ntc-10k-3435.html", "safety.html"])
def test_a_page_of_no_family_has_none(phone, served, path) -> None:
    phone.page.goto(served + path)
    assert bar_of(phone.page).count() == 0


def test_what_is_open_is_said_on_every_page_with_its_code(phone, served) -> None:
    page = phone.page
    page.goto(served + SENSOR)
    start(page, "left of the lift")
    page.goto(served + CODE)
    page.evaluate(
        "document.querySelector('#ohm-main h1').insertAdjacentHTML('afterend',"
        '\'<p><a href="#x" data-ohm-code="quellmark-k4-2">Accused</a></p>\')'
    )
    page.get_by_role("link", name="Accused").click()
    page.goto(served + "families/quellmark-rooftop.html")
    assert words_of(page).startswith("left of the lift, K4-2, since ")
    (job,) = jobs_kept(page)
    assert [(code["code"], code["shown"]) for code in job["codes"]] == [("quellmark-k4-2", "K4-2")]
    # Another family's pages know nothing of it.
    page.goto(served + "families/brenholt-split.html")
    assert words_of(page) == "No job open: start one"


def test_starting_another_machine_asks_what_becomes_of_the_open_one(phone, served) -> None:
    page = phone.page
    page.goto(served + SENSOR)
    start(page, "left of the lift")
    page.locator(".ohm-job-change").click()
    page.get_by_role("button", name="Another machine").click()
    assert "left of the lift stays open." in page.locator(".ohm-job-panel").inner_text()
    page.get_by_role("button", name="Not now").click()
    assert len(jobs_kept(page)) == 1
    start(page, "by the stairs", key="Start, leave the other open")
    assert sorted((job["mark"], bool(job["closed"])) for job in jobs_kept(page)) == [
        ("by the stairs", False),
        ("left of the lift", False),
    ]
    # The other one is chosen again.
    page.locator(".ohm-job-change").click()
    with page.expect_navigation():
        page.get_by_role("button", name=re.compile("^left of the lift")).click()
    page.locator(".ohm-job-name").filter(has_text="left of the lift").wait_for()
    start(page, "third", key="Start, close the other")
    closed = {job["mark"]: bool(job["closed"]) for job in jobs_kept(page)}
    assert closed == {"third": False, "by the stairs": False, "left of the lift": True}


@pytest.mark.parametrize(
    ("key", "closed"), [("The same: go on", False), ("Another: close that job", True)]
)
def test_an_old_job_is_offered_to_be_closed_or_gone_on_with(phone, served, key, closed) -> None:
    page = phone.page
    page.goto(served + SENSOR)
    start(page, "left of the lift")
    leave(page, "left of the lift", hours=13)
    page.reload()
    assert words_of(page).startswith("left of the lift: left since ")
    page.get_by_role("button", name="Decide").click()
    assert "Is this still the same machine?" in page.locator(".ohm-job-old").inner_text()
    page.get_by_role("button", name=key).click()
    page.locator(f".ohm-job-bar[data-state={'none' if closed else 'open'}]").wait_for()
    (job,) = jobs_kept(page)
    assert bool(job["closed"]) is closed
    expected = "No job open" if closed else "left of the lift, since "
    assert words_of(page).startswith(expected)


@pytest.mark.parametrize(
    ("key", "left"),
    [("The same: put it there", ["9k", "12k"]), ("Another: keep them apart", ["9k"])],
)
def test_what_is_typed_on_the_second_day_asks_whether_it_is_the_same_machine(
    phone, served, key, left
) -> None:
    page = phone.page
    page.goto(served + SENSOR)
    start(page, "left of the lift")
    page.locator("#reading").fill("9k")
    leave(page, "left of the lift", hours=50)
    page.reload()
    page.locator("#reading").fill("12k")
    assert re.fullmatch(r"New since \d\d:\d\d: left of the lift again\?", words_of(page))
    page.get_by_role("button", name="Decide").click()
    assert "so what you typed begins a new job" in page.locator(".ohm-job-old").inner_text()
    with_reload = key.startswith("The same")
    if with_reload:
        with page.expect_navigation():
            page.get_by_role("button", name=key).click()
    else:
        page.get_by_role("button", name=key).click()
    page.locator(".ohm-job-bar[data-state=open]").wait_for()
    jobs = jobs_kept(page)
    assert len(jobs) == (1 if with_reload else 2)
    (lifts,) = [job for job in jobs if job["mark"] == "left of the lift"]
    assert [read["typed"]["reading"] for read in lifts["measurements"]] == left
    page.reload()
    assert words_of(page).startswith("left of the lift" if with_reload else "Job without a mark")
    assert phone.complaints == []


def test_a_phone_that_keeps_nothing_says_so_and_the_job_goes_on(phone, served) -> None:
    page = phone.page
    page.add_init_script(
        "Storage.prototype.setItem = () => { throw new DOMException('no', 'SecurityError'); };"
    )
    page.goto(served + SENSOR)
    assert words_of(page) == "Not kept: No job open: start one"
    page.locator(".ohm-job-change").click()
    assert "This phone keeps nothing of a job" in page.locator(".ohm-job-trouble").inner_text()
    page.get_by_label("Your mark for it").fill("left of the lift")
    page.get_by_role("button", name="Start", exact=True).click()
    assert words_of(page).startswith("Not kept: left of the lift, since ")
    assert jobs_kept(page) == []


def test_a_full_phone_says_so(phone, served) -> None:
    page = phone.page
    page.goto(served + SENSOR)
    start(page, "left of the lift")
    page.evaluate(
        "Storage.prototype.setItem = () => { throw new DOMException('no', 'QuotaExceededError'); };"
        "undefined"
    )
    page.locator(".ohm-job-change").click()
    page.get_by_role("button", name="Another machine").click()
    page.get_by_label("Your mark for it").fill("by the stairs")
    page.get_by_role("button", name="Start, leave the other open").click()
    assert words_of(page).startswith("Not kept: by the stairs")


def test_jobs_of_a_newer_copy_are_left_alone_and_named(phone, served) -> None:
    page = phone.page
    page.goto(served + SENSOR)
    start(page, "left of the lift")
    change_kept(page, "left of the lift", version=2)
    page.reload()
    assert words_of(page) == "No job open: start one"
    page.locator(".ohm-job-change").click()
    assert "jobs of a newer copy" in page.locator(".ohm-job-trouble").inner_text()
    assert len(jobs_kept(page)) == 1


def test_in_a_file_of_its_own_the_bar_is_there_too(browser, pocket_file) -> None:
    context = browser.new_context()
    page = context.new_page()
    page.goto(pocket_file + "#sensors-quellmark-coil-out")
    start(page, "left of the lift")
    page.goto(pocket_file + "#codes-quellmark-k4-2")
    assert words_of(page).startswith("left of the lift, since ")
    way = bar_of(page).locator(".ohm-job-way")
    way.click()
    assert page.url.endswith("#jobs-quellmark-rooftop")
    assert page.get_by_role("heading", name="Job on Quellmark RT rooftop heat pump").is_visible()
    context.close()


def test_the_bar_leaves_nothing_to_be_read_aloud_twice(phone, served) -> None:
    page = phone.page
    page.goto(served + SENSOR)
    start(page, "left of the lift")
    key = page.locator(".ohm-job-change")
    assert key.get_attribute("aria-expanded") == "false"
    key.click()
    assert key.get_attribute("aria-expanded") == "true"
    page.keyboard.press("Escape")
    assert not page.locator(".ohm-job-panel").is_visible()
    assert page.evaluate("document.activeElement.className") == "ohm-job-change"
