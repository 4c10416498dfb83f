"""Hand-written pages: the one that must be there, and names that are taken."""

from __future__ import annotations

import pytest


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


@pytest.mark.parametrize(
    ("names", "file", "said", "hint"),
    [
        (
            ("roofs.md", "Roofs.md"),
            "content/roofs.md",
            "'roofs' differs from the page 'Roofs' in capitals only",
            "give this page another name",
        ),
        (
            ("roofs/a.md", "Roofs/b.md"),
            "content/roofs/a.md",
            "'roofs' differs from the folder 'Roofs' in capitals only",
            "give this folder another name, or write both alike",
        ),
        (
            ("Which.md",),
            "content/Which.md",
            "'Which' differs from the page 'which' in capitals only",
            "give this page another name",
        ),
        (
            ("Assets/a.md",),
            "content/Assets/a.md",
            "'Assets' differs from the folder 'assets' in capitals only",
            "give this folder another name, or write both alike",
        ),
        (
            # One e with its accent, and one with an accent behind it.
            ("caf\u00e9.md", "Cafe\u0301.md"),
            "content/caf\u00e9.md",
            "'caf\u00e9' differs from the page 'Cafe\u0301' in capitals only",
            "give this page another name",
        ),
    ],
)
def test_pages_that_many_disks_take_for_one_are_named(run, notes, names, file, said, hint):
    for name in names:
        (notes / "content" / name).parent.mkdir(exist_ok=True)
        (notes / "content" / name).write_text("# A page\n\nWords.\n")
    result = run("check", "--notes", notes)
    assert result.exit_code == 1
    assert result.output.startswith(
        f"{file}:1:1: alike-name: {said}, and many disks take both for one\n    hint: {hint}\n"
    )
    assert result.output.count("alike-name") == 1


def test_a_page_beside_a_folder_of_its_name_is_no_slip(run, notes):
    (notes / "content/roofs").mkdir()
    for name in ("roofs.md", "roofs/flat.md"):
        (notes / "content" / name).write_text("# A page\n\nWords.\n")
    assert run("check", "--notes", notes).exit_code == 0
