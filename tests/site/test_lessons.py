"""The path through the lessons: from Home in one tap, ticks kept on the phone, on where one left off."""

from __future__ import annotations

from pathlib import Path


def test_ticks_stay_and_the_path_leads_on(phone, served) -> None:
    page = phone.page
    page.goto(served + "index.html")
    page.get_by_role("link", name="Learn", exact=True).first.click()
    # A script says where to go on: wait for it.
    page.get_by_role("link", name="Begin: Safety first").click()
    page.wait_for_url("**/lessons/safety-first.html#step-1")
    steps = page.get_by_label("Done")
    count = steps.count()
    assert count >= 8
    steps.nth(0).check()
    steps.nth(1).check()
    page.reload()
    page.locator(".ohm-lesson-step:nth-child(2) :checked").wait_for()
    assert [steps.nth(at).is_checked() for at in range(3)] == [True, True, False]
    page.goto(served + "lessons/index.html")
    first = page.locator(".ohm-path > li").first
    page.get_by_role("link", name="Go on: Safety first, step 3").click()
    page.wait_for_url("**/lessons/safety-first.html#step-3")
    page.go_back()
    first.get_by_text(f"2 of {count} steps done").wait_for()
    page.go_forward()
    for at in range(count):
        steps.nth(at).check()
    page.goto(served + "lessons/index.html")
    first.get_by_text("✓ Done").wait_for()
    assert page.get_by_role("link", name="Go on: What the sensors do, step 1").count() == 1


def test_without_scripts_a_lesson_says_what_the_notes_say(site: Path) -> None:
    lesson = (site / "lessons/judging-a-reading.html").read_text(encoding="utf-8")
    assert "± 139" in lesson
    assert "Within limits" in lesson and "Not decided" in lesson
    assert "Still plugged in" in lesson
    words = (site / "terms/crimp.html").read_text(encoding="utf-8")
    assert 'href="../sensors/quellmark-coil-out.html"' in words
    sensor = (site / "sensors/quellmark-coil-out.html").read_text(encoding="utf-8")
    assert sensor.count('class="ohm-word" href="../terms/pull-up.html"') == 1
