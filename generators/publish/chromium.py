"""Print finished pages through a Chromium that is installed here; nothing is fetched or sent."""

from __future__ import annotations

import os
import re
import shutil
import subprocess
from pathlib import Path

from kb.site_folder import PRINT_SIGN
from kb.writer import make_folder, remove_file

NAMES = ("chromium", "chromium-browser", "google-chrome", "google-chrome-stable", "chrome")
"""What the browser is usually called on a PATH."""
SECONDS = 120
"""A page that is not printed by then never will be: the longest of the demo takes two."""
UNDATED = "19800101"
"""The day of what carries no date, as in a zip."""

_ALONE = (
    "--headless",
    "--disable-gpu",
    "--no-first-run",
    "--disable-sync",
    "--disable-extensions",
    "--disable-background-networking",
    "--disable-component-update",
    # No name leads anywhere: a page of ours asks no other host, and neither does the browser.
    "--host-resolver-rules=MAP * ~NOTFOUND",
    # The edge of a page is ours.
    "--no-pdf-header-footer",
)
_DATE = re.compile(rb"(/(?:CreationDate|ModDate) \(D:)\d{14}")
_PAGE = re.compile(rb"/Type\s*/Page\b(?!s)")


class NoBrowser(Exception):
    """No Chromium is installed here, or what was named is none."""


class NotPrinted(Exception):
    """The browser ended without a whole PDF."""


def find_browser(named: Path | None = None) -> Path:
    """Return the browser that prints: the one that was named, or the first usual name on the PATH.

    Raises
    ------
    NoBrowser
        With what to do.
    """
    if named is not None:
        found = shutil.which(named)
        if found is None:
            raise NoBrowser(
                f"{named} cannot be started; name the file of a Chromium with --browser"
            )
        return Path(found)
    for name in NAMES:
        found = shutil.which(name)
        if found is not None:
            return Path(found)
    raise NoBrowser(
        f"there is no Chromium here (looked for {', '.join(NAMES)}). Install one (Debian: apt "
        "install chromium), or name its file with --browser; or open the page in any browser and "
        "print it there: it gives the same sheet"
    )


def printed(page: Path, *, browser: Path, work: Path, day: str = "") -> bytes:
    """Return a finished page as a PDF that bears our sign.

    Parameters
    ----------
    page : Path
        A page that needs no host.
    browser : Path
    work : Path
        A folder for the browser's own files. Handed on from page to page, it starts sooner.
    day : str
        What the PDF says of when it was made, as `2026-01-31`: the same page gives the same bytes.

    Raises
    ------
    NotPrinted
    """
    pdf = make_folder(work) / "page.pdf"
    remove_file(pdf)
    asked = [str(browser), *_ALONE, *_as_root(), f"--user-data-dir={work / 'profile'}"]
    asked += [f"--print-to-pdf={pdf}", page.absolute().as_uri()]
    try:
        ended = subprocess.run(asked, capture_output=True, timeout=SECONDS, check=False)
    except subprocess.TimeoutExpired:
        raise NotPrinted(f"{browser} did not print {page} within {SECONDS} s") from None
    except OSError as error:
        raise NotPrinted(f"{browser} could not be started: {error.strerror}") from None
    raw = pdf.read_bytes() if pdf.is_file() else b""
    if not raw.startswith(b"%PDF-") or b"%%EOF" not in raw[-64:]:
        raise NotPrinted(
            f"{browser} printed no PDF of {page} (it ended with {ended.returncode})"
            f"{_last_words(ended.stderr)}"
        )
    dated = (day.replace("-", "") or UNDATED).encode("ascii") + b"000000"
    return _DATE.sub(rb"\g<1>" + dated, raw) + f"%{PRINT_SIGN}\n".encode("ascii")


def pages_of(pdf: bytes) -> int:
    """Return how many pages a PDF has that was printed here."""
    return len(_PAGE.findall(pdf))


def _as_root() -> list[str]:
    """Return what lets it start as root, where it has no sandbox; it opens our own page alone."""
    return ["--no-sandbox"] if hasattr(os, "geteuid") and os.geteuid() == 0 else []


def _last_words(raw: bytes) -> str:
    lines = [line.strip() for line in raw.decode("utf-8", "replace").splitlines() if line.strip()]
    return f": {lines[-1]}" if lines else ""
