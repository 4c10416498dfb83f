"""Thirty photos as they come: pins where they belong, nothing left inside, faults said by `check`."""

from __future__ import annotations

import base64
import io
import re
import shutil
import struct
import zipfile
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest
from PIL import Image

from generators import photo_cache
from generators.build import build
from generators.publish.pack import pack
from generators.publish.pockets import write_pockets
from kb.check import check_notes
from tests.release.photographs import (
    DISC,
    HIDDEN,
    Photograph,
    broken_photographs,
    put_photograph,
    sound_photographs,
)

STARTER = Path(__file__).resolve().parents[2] / "kb" / "starter"
SOUND = sound_photographs()
BROKEN = broken_photographs()
LONGEST_PX = 1600
POCKET_PHOTO_BYTES = 120_000


@dataclass(frozen=True)
class Published:
    """The notes with every sound photo, and all that leaves the house of them."""

    notes: Path
    site: Path
    packed: Path
    pocket: Path


@pytest.fixture(scope="module")
def published(tmp_path_factory: pytest.TempPathFactory) -> Published:
    """Build, pack and pocket them once."""
    notes = Path(shutil.copytree(STARTER, tmp_path_factory.mktemp("photos") / "notes"))
    for photograph in SOUND:
        put_photograph(photograph, notes=notes)
    sensor = notes / "docs_data/sensors/example-unit/example-suction.yaml"
    text = sensor.read_text(encoding="utf-8")
    pinned = "pinned: {drawing: example-front, pin: T1}"
    assert pinned in text
    sensor.write_text(text.replace(pinned, "pinned: {drawing: photo-09, pin: D}"), encoding="utf-8")
    case = notes / "docs_data/cases/2026-01-15-example.yaml"
    shown = "photos:\n- {file: tab.jpg, of: The tab}\n- {file: pipe.heic, of: The pipe}\n"
    case.write_text(case.read_text(encoding="utf-8") + shown, encoding="utf-8")
    case.with_name("tab.jpg").write_bytes(SOUND[5].raw)
    case.with_name("pipe.heic").write_bytes(SOUND[-2].raw)
    packed = pack(notes, to=notes.parent / "release.zip").to
    build(notes, out=notes / "site")
    ((pocket, _),) = write_pockets(notes, families=("example-unit",), to=notes / "pocket")
    return Published(notes=notes, site=notes / "site", packed=packed, pocket=pocket)


def sent(published: Published) -> Iterator[tuple[str, bytes]]:
    """Yield every file that leaves the house, and every photo within another."""
    for path in sorted(published.site.rglob("*")):
        if path.is_file():
            yield f"site/{path.relative_to(published.site)}", path.read_bytes()
    with zipfile.ZipFile(published.packed) as packed:
        for name in packed.namelist():
            yield f"pack/{name}", packed.read(name)
    pocket = published.pocket.read_bytes()
    yield "pocket", pocket
    for i, found in enumerate(re.findall(rb"data:image/jpeg;base64,([A-Za-z0-9+/=]+)", pocket)):
        yield f"pocket/{i}", base64.b64decode(found)


def segments(jpeg: bytes) -> list[str]:
    """Return the markers of a JPEG in their order (ITU-T T.81, annex B), and what stands behind it."""
    assert jpeg[:2] == b"\xff\xd8"
    names, at = [], 2
    while at < len(jpeg) and jpeg[at] == 0xFF:
        marker = jpeg[at + 1]
        if marker == 0xD9:
            return [*names, f"{len(jpeg) - at - 2} bytes behind"]
        (length,) = struct.unpack(">H", jpeg[at + 2 : at + 4])
        names.append(f"{marker:02X}")
        at += 2 + length
        if marker == 0xDA:
            # What is coded holds 0xFF only before a zero, or before a restart.
            while jpeg[at] != 0xFF or jpeg[at + 1] == 0 or 0xD0 <= jpeg[at + 1] <= 0xD7:
                at += 1
    return [*names, "cut off"]


def test_every_photo_that_is_tried_has_words_hidden_in_it() -> None:
    assert len(SOUND) + len(BROKEN) == 30
    assert [photograph.name for photograph in SOUND if HIDDEN not in photograph.raw] == []


def test_no_word_that_a_photo_says_of_itself_leaves_the_house(published: Published) -> None:
    names, photos = [], 0
    for name, content in sent(published):
        if HIDDEN in content or HIDDEN.decode().encode("utf-16-be") in content:
            names.append(name)
        photos += content.startswith(b"\xff\xd8")
    assert names == []
    # In site and pack each drawing's and two of the case; in the pocket file each drawing's once.
    assert photos == 2 * (len(SOUND) + 2) + len(SOUND)


def test_a_photo_that_leaves_holds_its_picture_and_nothing_else(published: Published) -> None:
    for name, content in sent(published):
        if content.startswith(b"\xff\xd8"):
            *markers, behind = segments(content)
            # JFIF's own segment, tables, frame, scans.
            assert set(markers) <= {"E0", "DB", "C2", "C4", "DA"}, name
            assert behind == "0 bytes behind", name
            assert dict(Image.open(io.BytesIO(content)).getexif()) == {}, name


def test_no_photo_leaves_as_it_came_or_larger_than_a_phone_shows(published: Published) -> None:
    for path in published.site.rglob("*"):
        assert path.suffix.lower() not in (".jpeg", ".webp", ".heic", ".heif"), path
    for name, content in sent(published):
        if content.startswith(b"\xff\xd8"):
            assert max(Image.open(io.BytesIO(content)).size) <= LONGEST_PX
            assert not name.startswith("pocket/") or len(content) <= POCKET_PHOTO_BYTES


def shown_at(page: str, *, of: tuple[int, int]) -> tuple[float, float]:
    """Return which point of a photo its pin covers, in shares of its width and height.

    A browser fits a photo into its frame whole and in the middle (SVG 2, `xMidYMid meet`).
    """
    frame = re.search(r'<image [^>]*width="([\d.]+)" height="([\d.]+)"', page)
    group = re.search(r'<g class="ohm-pin[^>]*>.*?<rect ([^>]*)>', page)
    assert frame and group
    x, y, wide, high = (
        float(re.search(rf'(?<!\w){name}="([\d.]+)"', group[1])[1])  # type: ignore[index]
        for name in ("x", "y", "width", "height")
    )
    frame_wide, frame_high = float(frame[1]), float(frame[2])
    scale = min(frame_wide / of[0], frame_high / of[1])
    left, top = (frame_wide - of[0] * scale) / 2, (frame_high - of[1] * scale) / 2
    return (x + wide / 2 - left) / (of[0] * scale), (y + high / 2 - top) / (of[1] * scale)


def is_disc(pixel: object) -> bool:
    return all(abs(a - b) < 70 for a, b in zip(pixel, DISC, strict=True))  # type: ignore[call-overload]


@pytest.mark.parametrize("photograph", SOUND, ids=lambda photograph: photograph.file)
def test_a_pin_covers_what_it_was_put_on(published: Published, photograph: Photograph) -> None:
    page = (published.site / f"drawings/{photograph.name}.html").read_text(encoding="utf-8")
    photo = Image.open(published.site / f"drawings/{photograph.name}.jpg")
    x, y = shown_at(page, of=photo.size)
    # The middle of a pin is written to a tenth of a unit of four hundred.
    assert x * 100 == pytest.approx(photograph.x_percent, abs=0.1)
    assert y * 100 == pytest.approx(photograph.y_percent, abs=0.2)
    assert photo.size[0] / photo.size[1] == pytest.approx(
        photograph.wide / photograph.high, rel=0.01
    )
    assert is_disc(photo.convert("RGB").getpixel((int(x * photo.size[0]), int(y * photo.size[1]))))


@pytest.fixture(scope="module")
def faults(tmp_path_factory: pytest.TempPathFactory) -> list[str]:
    """What `check` says of the broken ones."""
    notes = Path(shutil.copytree(STARTER, tmp_path_factory.mktemp("broken") / "notes"))
    for name, (raw, _) in BROKEN.items():
        put_photograph(
            Photograph(
                name=name, file=f"{name}.jpg", wide=4, high=3, x_percent=50, y_percent=50, raw=raw
            ),
            notes=notes,
        )
    return [problem.headline() for problem in check_notes(notes).problems if not problem.warning]


def test_every_broken_photo_is_said_by_check_with_its_file(faults: list[str]) -> None:
    assert faults == [
        f"docs_data/drawings/{name}.yaml:5:8: photo: '{name}.jpg' {words}"
        for name, (_, words) in sorted(BROKEN.items())
    ]


def test_an_unchanged_photo_is_not_drawn_again_and_the_site_is_the_same(
    published: Published, monkeypatch: pytest.MonkeyPatch
) -> None:
    before = {path.name: path.read_bytes() for path in (published.site / "drawings").glob("*.jpg")}
    monkeypatch.setattr(photo_cache, "tidy_photo", lambda _: pytest.fail("it was drawn again"))
    build(published.notes, out=published.site)
    after = {path.name: path.read_bytes() for path in (published.site / "drawings").glob("*.jpg")}
    assert after == before


@pytest.mark.parametrize("number", [9, 10, 16, 20, 23])
def test_in_a_browser_the_disc_is_seen_below_its_pin(
    published: Published, browser: object, number: int
) -> None:
    photograph = SOUND[number - 1]
    page = browser.new_page(viewport={"width": 390, "height": 844})
    page.goto((published.site / f"drawings/{photograph.name}.html").as_uri())
    assert is_disc(below_pin(page, "svg.ohm-sketch"))
    page.close()


def test_in_a_pocket_file_it_is_too_though_many_pages_share_one_photo(
    published: Published, browser: object
) -> None:
    page = browser.new_page(viewport={"width": 390, "height": 844})
    for of in ("drawings-photo-09", "sensors-example-suction"):
        page.goto(f"{published.pocket.as_uri()}#{of}")
        assert is_disc(below_pin(page, f"#{of} svg.ohm-sketch")), of
    page.close()


def below_pin(page: object, sketch: str) -> object:
    """Return the colour that a screen shows where a pin stands, with the pin taken away."""
    page.wait_for_function(f"document.querySelector('{sketch} image, [id^=drawn] image') !== null")
    drawn = page.locator(sketch)
    drawn.scroll_into_view_if_needed()
    pin = drawn.locator(".ohm-pin rect, use").last
    box = pin.bounding_box()
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    page.evaluate(
        "(sketch) => { for (const pin of document.querySelectorAll(sketch + ' .ohm-pin'))"
        " pin.setAttribute('visibility', 'hidden'); }",
        sketch,
    )
    page.wait_for_timeout(150)
    shot = Image.open(io.BytesIO(page.screenshot())).convert("RGB")
    return shot.getpixel((int(x), int(y)))
