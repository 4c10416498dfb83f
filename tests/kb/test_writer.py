"""What the only writer promises: whole files, none outside, the old site until the new stands."""

from __future__ import annotations

import hashlib
import json
import os
import stat
import zipfile
from pathlib import Path

import pytest

from kb import whole_folders, writer
from kb.release_format.places import LIST
from kb.site_folder import FolderNotOurs, refuse_foreign_zip


def a_list(files: dict[str, str]) -> str:
    """The list of a release that holds these files."""
    sums = {path: hashlib.sha256(text.encode()).hexdigest() for path, text in files.items()}
    head = {"number": 1, "date": "", "title": "", "team": "Ours"}
    return json.dumps({"files": sums, "release": head})


def site(folder: Path, word: str) -> Path:
    folder.mkdir(parents=True)
    (folder / "index.html").write_text(word)
    (folder / LIST).write_text(a_list({"index.html": word}))
    return folder


def word(folder: Path) -> str:
    return (folder / "index.html").read_text()


def test_a_file_that_holds_the_same_is_left_alone(tmp_path):
    path = tmp_path / "deep" / "page.md"
    assert writer.write_if_changed(path, "10 kΩ")
    os.utime(path, (1, 1))
    assert not writer.write_if_changed(path, "10 kΩ")
    assert path.stat().st_mtime == 1


def test_a_written_file_can_be_read_by_a_web_server(tmp_path):
    writer.write_if_changed(tmp_path / "a", b"x")
    assert stat.S_IMODE((tmp_path / "a").stat().st_mode) == 0o644


def test_a_write_that_fails_leaves_the_old_file_and_no_crumbs(tmp_path, monkeypatch):
    path = tmp_path / "page.md"
    path.write_text("old")

    def full(*_):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "replace", full)
    with pytest.raises(OSError, match=r"\[Errno 28\] No space left on device"):
        writer.write_if_changed(path, "new")
    assert path.read_text() == "old"
    assert [one.name for one in tmp_path.iterdir()] == ["page.md"]


def test_a_folder_loses_what_is_no_longer_wanted(tmp_path):
    writer.write_folder(tmp_path, {"a/one.md": "1", "b/two.md": "2"})
    assert writer.write_folder(tmp_path, {"b/two.md": "2", "three.md": "3"}) == 1
    assert sorted(p.relative_to(tmp_path).as_posix() for p in tmp_path.rglob("*.md")) == [
        "b/two.md",
        "three.md",
    ]


def test_a_folder_keeps_the_others_when_asked(tmp_path):
    writer.write_folder(tmp_path, {"one.md": "1"})
    writer.write_folder(tmp_path, {"two.md": "2"}, keep_others=True)
    assert (tmp_path / "one.md").exists()


def test_a_path_that_leads_out_is_refused_before_anything_is_written(tmp_path):
    with pytest.raises(ValueError) as told:
        writer.write_folder(tmp_path / "in", {"a.md": "1", "../b.md": "2"})
    assert str(told.value) == "'../b.md' leads out of the folder it should be written to"
    assert not (tmp_path / "in").exists()


def test_hidden_files_are_not_copied(tmp_path):
    (tmp_path / "from" / ".git").mkdir(parents=True)
    (tmp_path / "from" / ".git" / "config").write_text("")
    (tmp_path / "from" / "shown.css").write_text("")
    writer.copy_tree(tmp_path / "from", tmp_path / "to")
    assert [p.name for p in (tmp_path / "to").rglob("*")] == ["shown.css"]


@pytest.mark.parametrize("way", ["exchange", "two renames"])
def test_the_new_site_takes_the_place_of_the_old(tmp_path, monkeypatch, way):
    if way == "two renames":
        monkeypatch.setattr(whole_folders, "_exchanged", lambda fresh, out: False)
    fresh, out = site(tmp_path / "work" / "site", "new"), site(tmp_path / "site", "old")
    whole_folders.swap_folders(fresh, out=out)
    assert (word(out), word(fresh)) == ("new", "old")
    assert sorted(p.name for p in tmp_path.iterdir()) == ["site", "work"]


def test_this_system_exchanges_folders_in_one_step_or_says_so(tmp_path):
    fresh, out = site(tmp_path / "a", "new"), site(tmp_path / "b", "old")
    exchanged = whole_folders._exchanged(fresh, out)
    assert word(out) == ("new" if exchanged else "old")


def test_the_first_site_is_simply_put_there(tmp_path):
    fresh = site(tmp_path / "fresh", "new")
    whole_folders.swap_folders(fresh, out=tmp_path / "srv" / "notes")
    assert word(tmp_path / "srv" / "notes") == "new"
    assert not fresh.exists()


def test_a_second_rename_that_fails_gives_the_old_site_back(tmp_path, monkeypatch):
    monkeypatch.setattr(whole_folders, "_exchanged", lambda fresh, out: False)
    fresh, out = site(tmp_path / "fresh", "new"), site(tmp_path / "site", "old")
    rename = os.rename

    def failing(source, target):
        if Path(source) == fresh:
            raise OSError(28, "No space left on device")
        rename(source, target)

    monkeypatch.setattr(os, "rename", failing)
    with pytest.raises(OSError, match=r"\[Errno 28\] No space left on device"):
        whole_folders.swap_folders(fresh, out=out)
    assert word(out) == "old"


def test_a_build_stopped_between_two_renames_is_recovered(tmp_path):
    site(tmp_path / ".site.ohmfolio-old", "old")
    assert whole_folders.recover_swap(tmp_path / "site")
    assert word(tmp_path / "site") == "old"
    assert not whole_folders.recover_swap(tmp_path / "site")


def test_another_disk_gets_a_copy_first(tmp_path, monkeypatch):
    fresh, out = site(tmp_path / "fresh", "new"), site(tmp_path / "site", "old")
    whole_folders._swap_from_another_disk(fresh, out)
    assert (word(out), word(fresh)) == ("new", "new")
    assert sorted(p.name for p in tmp_path.iterdir()) == ["fresh", "site"]


def test_a_folder_that_is_no_site_is_never_replaced(tmp_path):
    fresh = site(tmp_path / "fresh", "new")
    home = tmp_path / "home"
    home.mkdir()
    (home / "letters.txt").write_text("mine")
    with pytest.raises(FolderNotOurs) as told:
        whole_folders.swap_folders(fresh, out=home)
    assert str(told.value) == (
        f"{home} holds files but no release.json, so it is not a site that was built here; "
        "name a new or empty folder, it would be replaced"
    )
    assert (home / "letters.txt").read_text() == "mine"


def test_a_link_to_the_site_stays_a_link(tmp_path):
    fresh, real = site(tmp_path / "fresh", "new"), site(tmp_path / "real", "old")
    (tmp_path / "site").symlink_to(real)
    whole_folders.swap_folders(fresh, out=tmp_path / "site")
    assert (tmp_path / "site").is_symlink()
    assert word(real) == "new"


def refusal(tmp_path: Path, out: Path) -> str:
    """What is said when a site should take the place of a folder that it may not."""
    with pytest.raises(FolderNotOurs) as told:
        whole_folders.swap_folders(site(tmp_path / "fresh", "new"), out=out)
    return str(told.value)


@pytest.mark.parametrize(
    "text",
    [
        "{}",
        '{"version": "1.2", "files": ["a.bin"]}',
        '{"files": {}, "release": {"number": 1}}',
        '{"files": {"a": "no sum"}, "release": {"number": 1, "date": "", "title": "", "team": ""}}',
        "[1]",
        "no json",
    ],
)
def test_a_release_list_of_somebody_else_is_no_mark(tmp_path, text):
    album = tmp_path / "album"
    album.mkdir()
    (album / "release.json").write_text(text)
    (album / "one.jpg").write_text("mine")
    assert refusal(tmp_path, album) == (
        f"{album} holds a release.json that lists no site; "
        "name a new or empty folder, it would be replaced"
    )
    assert (album / "one.jpg").read_text() == "mine"


@pytest.mark.parametrize(
    "stray", ["letters.txt", ".git/config", "assets/mine.js", "releases/a.pdf", "worker-mine.js"]
)
def test_a_file_that_the_list_does_not_know_keeps_its_folder(tmp_path, stray):
    out = site(tmp_path / "site", "old")
    (out / stray).parent.mkdir(exist_ok=True)
    (out / stray).write_text("mine")
    assert refusal(tmp_path, out) == (
        f"{out} is a site that was built here, but {stray} in it did not come from a build and "
        "would be lost; take that out, or name another folder"
    )
    assert (out / stray).read_text() == "mine"


def test_a_link_in_a_site_is_somebodys(tmp_path):
    out = site(tmp_path / "site", "old")
    (tmp_path / "photos").mkdir()
    (out / "photos").symlink_to(tmp_path / "photos")
    assert "but photos in it did not come from a build" in refusal(tmp_path, out)


def test_what_a_release_and_a_desktop_put_beside_the_list_is_known(tmp_path):
    out = site(tmp_path / "site", "old")
    for path in (
        "newest.json",
        "worker.js",
        "worker-0123456789ab.js",
        "assets/release.js",
        "releases/0123456789ab/record.json",
        "releases/0123456789ab/all.pack",
        "releases/0123456789ab/from-ba9876543210.pack",
        ".DS_Store",
        "assets/.ohmfolio-ab12cd_3",
    ):
        (out / path).parent.mkdir(parents=True, exist_ok=True)
        (out / path).write_text("")
    whole_folders.swap_folders(site(tmp_path / "fresh", "new"), out=out)
    assert word(out) == "new"


def test_a_zip_file_of_somebody_else_is_never_replaced(tmp_path):
    photos = tmp_path / "photos.zip"
    with zipfile.ZipFile(photos, "w") as packed:
        packed.writestr("one.jpg", "mine")
    before = photos.read_bytes()
    with pytest.raises(FolderNotOurs) as told:
        refuse_foreign_zip(photos)
    assert str(told.value) == (
        f"{photos} is no release that was packed here; name a new file, it would be replaced"
    )
    assert photos.read_bytes() == before


def test_a_full_disk_names_the_file_that_was_to_be_written(tmp_path, monkeypatch):
    def full(*_):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "replace", full)
    with pytest.raises(OSError, match="No space left on device") as told:
        writer.write_if_changed(tmp_path / "page.md", "new")
    assert told.value.filename == str(tmp_path / "page.md")
