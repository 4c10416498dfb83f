"""Drawn photos are kept by their content: the same is not drawn twice, what is not wanted goes."""

from __future__ import annotations

import io
from pathlib import Path

import pytest
from PIL import Image

from generators import photo_cache
from generators.photo_cache import PhotoNotDrawn, photo_name, photos_for
from kb.photos import tidy_photo


def photo(shade: int) -> bytes:
    raw = io.BytesIO()
    Image.new("RGB", (40, 30), (shade, shade, shade)).save(raw, "JPEG")
    return raw.getvalue()


@pytest.fixture()
def wanted(tmp_path: Path) -> dict[str, Path]:
    """Three photos of the notes by their path in the site; two are the same."""
    files = {name: tmp_path / f"{name}.jpg" for name in ("a", "b", "c")}
    for name, shade in (("a", 10), ("b", 200), ("c", 10)):
        files[name].write_bytes(photo(shade))
    return {f"drawings/{name}.jpg": file for name, file in files.items()}


def test_each_is_drawn_once_and_kept_until_no_entry_names_it(
    wanted: dict[str, Path], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    drawn: list[bytes] = []
    monkeypatch.setattr(photo_cache, "tidy_photo", lambda raw: drawn.append(raw) or tidy_photo(raw))
    folder = tmp_path / "kept"
    first = photos_for(wanted, folder=folder)
    assert first["drawings/a.jpg"] == tidy_photo(photo(10))
    assert len(drawn) == 2 and len(list(folder.iterdir())) == 2
    assert photos_for(wanted, folder=folder) == first
    assert len(drawn) == 2
    del wanted["drawings/b.jpg"]
    photos_for(wanted, folder=folder)
    assert [file.name for file in folder.iterdir()] == [photo_name(photo(10))]
    assert photos_for({}, folder=folder) == {}
    assert list(folder.iterdir()) == []


def test_notes_without_photos_get_no_folder(tmp_path: Path) -> None:
    assert photos_for({}, folder=tmp_path / "kept") == {}
    assert not (tmp_path / "kept").exists()


def test_how_many_are_done_is_told_from_the_first(wanted: dict[str, Path], tmp_path: Path) -> None:
    told: list[tuple[int, int]] = []
    photos_for(wanted, folder=tmp_path / "kept", progress=lambda done, of: told.append((done, of)))
    assert told == [(0, 3), (1, 3), (2, 3), (3, 3)]


def test_a_photo_that_was_changed_after_check_ends_a_build_with_its_file_and_what_would_work(
    wanted: dict[str, Path], tmp_path: Path
) -> None:
    broken = wanted["drawings/b.jpg"]
    broken.write_bytes(broken.read_bytes()[:300])
    with pytest.raises(PhotoNotDrawn) as refused:
        photos_for(wanted, folder=tmp_path / "kept")
    assert str(refused.value) == (
        f"{broken} holds a picture that is cut off or damaged; copy the photo from the camera again"
    )
