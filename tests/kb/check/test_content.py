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


def test_a_photo_that_is_named_as_it_stands_in_the_notes_is_told_its_name_in_the_site(run, notes):
    page = notes / "content" / "front.md"
    page.write_text('# Front\n\n<img src="drawings/unit-b-front.png" alt="Front">\n')
    result = run("check", "--notes", notes)
    assert result.output.startswith(
        "content/front.md:3:6: dead-image: 'drawings/unit-b-front.png' has another ending in the "
        "site, where every photo is a JPEG\n"
    )
    assert "    hint: write drawings/unit-b-front.jpg\n" in result.output
    page.write_text('# Front\n\n<img src="drawings/unit-b-front.jpg" alt="Front">\n')
    assert "dead-image" not in run("check", "--notes", notes).output
