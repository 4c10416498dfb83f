"""Ticks, proofs and settings belong to one machine: what is ticked stays there, and goes only when asked."""

from __future__ import annotations

import pytest

from .test_job_bar import jobs_kept, leave, start

BOARD = "parts/quellmark-main-board.html"


def boxes(page, list_name: str = "refit"):
    return page.locator(f".ohm-tick[data-list$='-{list_name}'] input[type=checkbox]")


def state(page, list_name: str = "refit") -> str:
    return page.locator(f".ohm-tick[data-list$='-{list_name}'] + .ohm-tick-state").inner_text()


def keys(page, list_name: str = "refit"):
    return page.locator(f".ohm-tick[data-list$='-{list_name}'] + p + .ohm-tick-keys")


def tick_all(page, list_name: str = "refit") -> int:
    all_boxes = boxes(page, list_name)
    for box in all_boxes.all():
        box.check()
    return all_boxes.count()


@pytest.fixture()
def board(phone, served) -> object:
    phone.page.goto(served + BOARD)
    start(phone.page, "left of the lift")
    return phone.page


def test_the_board_of_the_second_machine_opens_with_nothing_ticked(board, served) -> None:
    count = tick_all(board)
    keys(board).get_by_role("button", name="Everything is back").click()
    tick_all(board, "prove")
    board.get_by_label("What was read: ").first.fill("3.1 V")
    start(board, "by the stairs", key="Start, leave the other open")
    assert state(board) == f"0 of {count} put back, {count} left."
    assert [box.is_checked() for box in [*boxes(board).all(), *boxes(board, "prove").all()]] == [
        False
    ] * (count + boxes(board, "prove").count())
    assert board.get_by_label("What was read: ").first.input_value() == ""
    by_mark = {job["mark"]: job for job in jobs_kept(board)}
    assert by_mark["by the stairs"]["ticks"] == {}
    assert len(by_mark["left of the lift"]["ticks"]) == 2


def test_clear_ticks_asks_clears_its_own_list_and_can_be_undone(board) -> None:
    count = tick_all(board)
    keys(board).get_by_role("button", name="Everything is back").click()
    boxes(board, "prove").first.check()
    keys(board).get_by_role("button", name="Clear ticks").click()
    question = keys(board).locator(".ohm-tick-sure").inner_text()
    assert question == (
        f"Clear the ticks of this list ({count} put back)? It is then no longer called complete."
    )
    keys(board).get_by_role("button", name="Keep them").click()
    assert state(board) == f"✓ Complete: all {count} put back."
    keys(board).get_by_role("button", name="Clear ticks").click()
    keys(board).get_by_role("button", name="Yes, clear them").click()
    assert state(board) == f"0 of {count} put back, {count} left."
    assert boxes(board, "prove").first.is_checked()
    keys(board).get_by_role("button", name="Bring them back").click()
    assert state(board) == f"✓ Complete: all {count} put back."
    assert keys(board).get_by_role("button").all_inner_texts() == ["Clear ticks"]


def test_a_list_that_was_complete_says_so_when_a_tick_is_taken_out(board) -> None:
    count = tick_all(board)
    keys(board).get_by_role("button", name="Everything is back").click()
    boxes(board).nth(3).uncheck()
    assert state(board) == f"No longer complete: {count - 1} of {count} put back, 1 left."


def test_the_proof_waits_until_everything_is_back(board) -> None:
    count = tick_all(board)
    boxes(board).nth(0).uncheck()
    assert state(board, "prove").startswith("Waits until everything is put back.")
    assert boxes(board, "prove").first.is_disabled()
    boxes(board).nth(0).check()
    # All ticked is not yet called complete.
    assert boxes(board, "prove").first.is_disabled()
    keys(board).get_by_role("button", name="Everything is back").click()
    proofs = tick_all(board, "prove")
    keys(board, "prove").get_by_role("button", name="It is proved").click()
    assert state(board, "prove") == f"✓ Complete: all {proofs} proved."
    # With a plug off again it is not proved any more, and its ticks are not lost.
    boxes(board).nth(0).uncheck()
    assert state(board, "prove") == (
        f"Waits until everything is put back. {proofs} of {proofs} proved."
    )
    assert keys(board, "prove").get_by_role("button", name="It is proved").is_disabled()
    assert count > 1


def test_what_proved_it_is_written_beside_it_and_stays(board) -> None:
    field = board.get_by_label("What was read: ").first
    field.fill("3.1 V at the plug")
    board.reload()
    assert board.get_by_label("What was read: ").first.input_value() == "3.1 V at the plug"
    (job,) = jobs_kept(board)
    assert job["proofs"] == {"quellmark-main-board": {"1": "3.1 V at the plug"}}


def test_settings_are_written_down_for_one_machine(board) -> None:
    form = board.locator('form[data-calc="settings"]')
    fields = form.locator("input, select")
    for i in range(fields.count()):
        field = fields.nth(i)
        if field.evaluate("field => field.localName") == "select":
            field.select_option(index=1)
        else:
            field.fill(f"set {i}")
    assert "Written down in the job: left of the lift." in form.inner_text()
    (job,) = jobs_kept(board)
    assert len(job["settings"]["quellmark-main-board"]) == fields.count()
    start(board, "by the stairs", key="Start, leave the other open")
    shown = board.locator('form[data-calc="settings"]').locator("input, select")
    assert [field.input_value() for field in shown.all()] == [""] * fields.count()


def test_on_a_job_that_was_left_nothing_is_ticked_before_it_is_said_whose_it_is(board) -> None:
    boxes(board).nth(0).check()
    leave(board, "left of the lift", hours=13)
    board.reload()
    boxes(board).nth(1).click()
    assert "Say in the bar at the top whether it is the same machine" in state(board)
    assert [box.is_checked() for box in boxes(board).all()[:2]] == [True, False]
    board.get_by_role("button", name="Decide").click()
    board.get_by_role("button", name="The same: go on").click()
    boxes(board).nth(1).check()
    (job,) = jobs_kept(board)
    assert job["ticks"]["quellmark-main-board-refit"]["ticked"] == ["1", "2"]


def test_on_a_job_that_was_left_no_setting_and_no_proof_is_written_either(board) -> None:
    form = board.locator('form[data-calc="settings"]')
    fields = form.locator("input, select")
    proof = board.locator(".ohm-proof-value").first
    fields.nth(0).select_option(index=1)
    written = fields.nth(0).input_value()
    leave(board, "left of the lift", hours=13)
    board.reload()
    # What was written down before the old board came out is what the return visit needs.
    assert fields.nth(0).input_value() == written
    assert "Say in the bar at the top whether it is the same machine" in form.inner_text()
    assert [field.is_disabled() for field in fields.all()] == [True] * fields.count()
    assert proof.is_disabled()
    board.get_by_role("button", name="Decide").click()
    board.get_by_role("button", name="The same: go on").click()
    assert "Say in the bar" not in form.inner_text()
    assert fields.nth(0).is_enabled() and proof.is_enabled()
    assert len(jobs_kept(board)) == 1
