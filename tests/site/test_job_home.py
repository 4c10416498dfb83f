"""Home leads back to what is open: every job of this phone, and the pages opened last."""

from __future__ import annotations

from .test_job_bar import leave, start


def jobs_of(page) -> list[str]:
    rows = page.locator("[data-ohm-jobs] li").all_inner_texts()
    return [" | ".join(row.split("\n")) for row in rows]


def test_home_lists_the_open_jobs_of_every_family_and_chooses_one(phone, served) -> None:
    page = phone.page
    page.goto(served)
    assert not page.locator("[data-ohm-jobs]").is_visible()
    page.goto(served + "families/quellmark-rooftop.html")
    start(page, "left of the lift")
    start(page, "by the stairs", key="Start, leave the other open")
    page.goto(served + "families/brenholt-split.html")
    start(page, "server room")
    page.goto(served)
    assert [row.partition(", since")[0] for row in jobs_of(page)] == [
        "server room | Brenholt Serra wall split",
        "by the stairs | Quellmark RT rooftop heat pump",
        "left of the lift | Quellmark RT rooftop heat pump",
    ]
    page.get_by_role("link", name="left of the lift").click()
    page.wait_for_url("**/jobs/quellmark-rooftop.html")
    assert page.locator(".ohm-job-name").inner_text().startswith("left of the lift, since ")
    assert phone.complaints == []


def test_a_job_that_was_left_says_so_and_is_asked_about_on_its_page(phone, served) -> None:
    page = phone.page
    page.goto(served + "families/quellmark-rooftop.html")
    start(page, "left of the lift")
    leave(page, "left of the lift", hours=30)
    page.goto(served)
    assert ", left since " in jobs_of(page)[0]
    page.get_by_role("link", name="left of the lift").click()
    page.wait_for_url("**/jobs/quellmark-rooftop.html")
    assert page.locator(".ohm-job-bar").get_attribute("data-state") == "old"


def test_home_leads_back_to_the_last_five_pages(phone, served) -> None:
    page = phone.page
    for path in (
        "safety.html",
        "codes/quellmark-k4-2.html",
        "sensors/quellmark-coil-out.html",
        "curves/ntc-10k-3435.html",
        "parts/quellmark-main-board.html",
        "families/quellmark-rooftop.html",
        "sensors/quellmark-coil-out.html?x=1#y",
    ):
        page.goto(served + path)
    page.goto(served)
    ways = page.locator("[data-ohm-last-opened] a")
    assert [way.get_attribute("href") for way in ways.all()] == [
        "sensors/quellmark-coil-out.html",
        "families/quellmark-rooftop.html",
        "parts/quellmark-main-board.html",
        "curves/ntc-10k-3435.html",
        "codes/quellmark-k4-2.html",
    ]
    assert ways.first.inner_text() == "R4 outdoor coil"
    ways.nth(1).click()
    page.wait_for_url("**/families/quellmark-rooftop.html")
