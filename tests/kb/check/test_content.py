"""Hand-written pages: the one that must be there, and names that are taken."""

from __future__ import annotations


def test_notes_without_a_safety_page_are_refused(run, notes):
    (notes / "content" / "safety.md").unlink()
    result = run("check", "--notes", notes)
    assert result.exit_code == 1
    assert result.output.startswith(
        "content/safety.md:1:1: no-safety-page: every page that leads to a measurement links to "
        "this page, and it is not there\n"
        "    hint: write it; 'ohmfolio start DIR --bare' has one to begin with\n"
    )


def test_notes_without_any_hand_written_page_are_checked_all_the_same(run, notes):
    (notes / "content" / "safety.md").unlink()
    (notes / "content").rmdir()
    assert "no-safety-page" in run("check", "--notes", notes).output
