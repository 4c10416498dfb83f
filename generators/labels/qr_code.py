"""An address as a QR code: drawn as one path, no smaller than a phone reads it."""

from __future__ import annotations

from dataclasses import dataclass

import segno

from ..html import Html, el

LEVEL = "Q"
"""A quarter of the code may be lost (ISO/IEC 18004: L 7, M 15, Q 25, H 30 %). A door in the weather
gets scratches and dirt, so not L or M; H needs smaller modules for the same address."""
QUIET = 4
"""Modules of white around it (ISO/IEC 18004)."""
LEAST_MODULE_MM = 0.4
"""Common practice, no source: five dots of a printer of 300 dpi, and a phone at arm's length."""
LEAST_SIDE_MM = 18.0
"""Common practice, no source: smaller ones are searched for with the nose at the door."""
MOST_BYTES = {1: 11, 2: 20, 3: 32, 4: 46, 5: 60, 6: 74, 7: 86, 8: 108, 9: 130, 10: 151}
"""Version → bytes that it holds at level Q (ISO/IEC 18004, byte mode)."""


class TooLong(ValueError):
    """An address needs more modules than there is room for."""


@dataclass(frozen=True)
class QrCode:
    """A code, drawn and measured."""

    address: str
    modules: int
    """On each side, without the white around it."""
    path: str
    """What is black, in modules."""

    def drawn(self, side_mm: float) -> Html:
        """Return it as a picture of this width, the white around it not counted."""
        span, mm = self.modules + 2 * QUIET, side_mm / self.modules
        return el(
            "svg",
            el("path", d=self.path, fill="#000"),
            xmlns="http://www.w3.org/2000/svg",
            viewBox=f"{-QUIET} {-QUIET} {span} {span}",
            width=f"{span * mm:.3f}mm",
            height=f"{span * mm:.3f}mm",
            shape_rendering="crispEdges",
            role="img",
            aria_label=self.address,
        )

    def side_in(self, room_mm: float) -> float:
        """Return how wide it may be where it has so much room with the white around it."""
        return room_mm * self.modules / (self.modules + 2 * QUIET)


def qr_code(address: str) -> QrCode:
    """Return the code of an address, at the highest level of correction that costs no module."""
    made = segno.make(address, error=LEVEL, mode="byte", micro=False, boost_error=True)
    rows = [bytes(row) for row in made.matrix]
    return QrCode(address, len(rows), "".join(_runs(rows)))


def held_to(code: QrCode, *, side_mm: float) -> QrCode:
    """Return the code when a phone reads it at this width.

    Raises
    ------
    TooLong
    """
    if side_mm < LEAST_SIDE_MM:
        raise TooLong(
            f"the code would be {side_mm:.0f} mm wide on such a sticker, and below "
            f"{LEAST_SIDE_MM:.0f} mm few phones read it; take a larger one with --sheet"
        )
    if side_mm / code.modules < LEAST_MODULE_MM:
        most = max(
            (bytes_ for version, bytes_ in MOST_BYTES.items() if _fits(version, side_mm=side_mm)),
            default=0,
        )
        raise TooLong(
            f"the address has {len(code.address.encode())} signs ({code.address}); a sticker with "
            f"a code of {side_mm:.0f} mm holds {most}. Shorten the folder on the host or the "
            "family's id, or take a larger sticker with --sheet"
        )
    return code


def _fits(version: int, *, side_mm: float) -> bool:
    # ISO/IEC 18004: version 1 has 21 modules, each further one four more.
    return side_mm / (17 + 4 * version) >= LEAST_MODULE_MM


def _runs(rows: list[bytes]) -> list[str]:
    """Return each run of black modules in a row as a box of a path."""
    runs = []
    for y, row in enumerate(rows):
        x = 0
        while x < len(row):
            end = x
            while end < len(row) and row[end]:
                end += 1
            if end > x:
                runs.append(f"M{x} {y}h{end - x}v1H{x}z")
            x = end + 1
    return runs
