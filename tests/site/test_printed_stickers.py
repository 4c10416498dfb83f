"""Printed stickers are read as a phone reads them: small, blurred, pale and askew."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import pypdfium2
import pytest
import zxingcpp
from PIL import Image, ImageFilter

from generators.labels.label_page import label_page
from generators.labels.qr_code import qr_code
from generators.labels.sticker import Sticker, code_room, side_of
from generators.publish.chromium import printed
from kb.label_sheets import LabelSheet

CHROMIUM = Path("/usr/bin/chromium")
DPI = 300
SIDE_MM = 20.0
ADDRESS = "https://notes.larkmoor.example/team/families/quellmark-rooftop.html"
LONGEST = "https://notes.example/" + "a" * 86
"""As long as a code of 20 mm holds: 108 signs, 49 modules of 0.41 mm."""
PLACES = 4


@dataclass(frozen=True)
class Printed:
    """A sheet as a printer puts it on paper, and where its stickers must be."""

    paper: Image.Image
    sheet: LabelSheet
    sizes: list[tuple[float, float]]
    """Width and height of each page in millimetres."""

    def sticker(self, place: int) -> Image.Image:
        x, y = list(self.sheet.places())[place]
        box = (x, y, x + self.sheet.wide, y + self.sheet.high)
        return self.paper.crop(tuple(round(mm / 25.4 * DPI) for mm in box))


def sheet_of(modules: int) -> LabelSheet:
    """Return a sheet on which a code of so many modules is 20 mm wide."""
    high = SIDE_MM * (modules + 8) / modules
    lengths = {"wide": 70.0, "left": 20.0, "top": 30.0, "across": 80.0, "down": 40.0}
    return LabelSheet(paper="a4", columns=2, rows=2, high=high, **lengths)


@pytest.fixture(scope="module")
def printed_stickers(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Printed]:
    """Return the sheets of a common and of the longest address, drawn at 300 dots to the inch."""
    folder = tmp_path_factory.mktemp("stickers")
    found = {}
    for address in (ADDRESS, LONGEST):
        code = qr_code(address)
        sheet = sheet_of(code.modules)
        assert side_of(code, sheet=sheet) == pytest.approx(SIDE_MM)
        content = Sticker(code=code, name="Roof unit", lines=("Roof east",), team="Larkmoor")
        page = folder / "labels.html"
        page.write_text(label_page([content] * PLACES, sheet=sheet, first=1), encoding="utf-8")
        document = pypdfium2.PdfDocument(printed(page, browser=CHROMIUM, work=folder / "work"))
        sizes = [tuple(pt / 72 * 25.4 for pt in sheet_.get_size()) for sheet_ in document]
        paper = document[0].render(scale=DPI / 72).to_pil().convert("L")
        found[address] = Printed(paper=paper, sheet=sheet, sizes=sizes)
    return found


def askew(picture: Image.Image, degrees: float) -> Image.Image:
    return picture.rotate(degrees, expand=True, fillcolor=255, resample=Image.Resampling.BICUBIC)


def pale(picture: Image.Image) -> Image.Image:
    """Return a print that the sun has bleached: a third of the contrast."""
    return picture.point([110 + level // 3 for level in range(256)])


def spoilt(picture: Image.Image) -> Image.Image:
    return askew(pale(picture.filter(ImageFilter.GaussianBlur(1.8))), 11)


def scratched(picture: Image.Image) -> Image.Image:
    """Return a code with a white scratch of a millimetre right across it."""
    torn = picture.copy()
    torn.paste(255, (0, torn.height * 11 // 20, torn.width, torn.height * 11 // 20 + DPI // 25))
    return torn


WAYS: dict[str, Callable[[Image.Image], Image.Image]] = {
    "as printed": lambda picture: picture,
    "blurred": lambda picture: picture.filter(ImageFilter.GaussianBlur(2.0)),
    "pale": pale,
    "upside down": lambda picture: askew(picture, 180),
    "askew": lambda picture: askew(picture, 33),
    "at half the dots": lambda picture: picture.resize(
        (picture.width // 2, picture.height // 2), Image.Resampling.BOX
    ),
    "scratched": scratched,
    "blurred, pale and askew": spoilt,
}


@pytest.mark.parametrize("address", [ADDRESS, LONGEST], ids=["common", "longest"])
@pytest.mark.parametrize("way", WAYS)
def test_a_sticker_of_twenty_millimetres_is_read(
    printed_stickers: dict[str, Printed], address: str, way: str
) -> None:
    sheet = printed_stickers[address]
    for place in (0, PLACES - 1):
        codes = zxingcpp.read_barcodes(WAYS[way](sheet.sticker(place)))
        assert [code.text for code in codes] == [address]


def test_codes_and_stickers_stand_on_paper_at_their_true_size(
    printed_stickers: dict[str, Printed],
) -> None:
    for address, sheet in printed_stickers.items():
        assert len(sheet.sizes) == 1
        assert sheet.sizes[0] == pytest.approx((210, 297), abs=0.3)
        code = qr_code(address)
        room_mm = code_room(code, side_mm=SIDE_MM)
        quiet_mm = (room_mm - SIDE_MM) / 2
        for place in range(PLACES):
            dark = sheet.sticker(place).crop(
                (0, 0, round((room_mm - 0.3) / 25.4 * DPI), sheet.sticker(place).height)
            )
            found = dark.point([255 * (level < 128) for level in range(256)]).getbbox()
            left, top, right, foot = (dots / DPI * 25.4 for dots in found)
            assert right - left == pytest.approx(SIDE_MM, abs=0.2)
            assert foot - top == pytest.approx(SIDE_MM, abs=0.2)
            assert left == pytest.approx(quiet_mm, abs=0.2)
