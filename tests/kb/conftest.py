"""What the tests of this room share: the good notes, alone or with a file laid over them."""

from __future__ import annotations

import shutil
from collections.abc import Callable
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from kb.commands.main import ohmfolio

ENTRIES = Path(__file__).resolve().parents[1] / "data" / "entries"


@pytest.fixture(scope="session")
def good() -> Path:
    """Return the folder of the good notes, to read only."""
    return ENTRIES / "good"


@pytest.fixture
def notes(tmp_path: Path, good: Path) -> Path:
    """Return a copy of the good notes, to change."""
    return Path(shutil.copytree(good, tmp_path / "notes"))


@pytest.fixture
def run() -> Callable[..., Result]:
    """Return a function that runs `ohmfolio` with words and gives what came out."""

    def asked(*words: object) -> Result:
        return CliRunner().invoke(
            ohmfolio, [str(word) for word in words], catch_exceptions=False, prog_name="ohmfolio"
        )

    return asked
