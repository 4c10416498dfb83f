"""Published tables for the tests: one file each, its header says where the figures come from."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import pytest
import yaml
from hypothesis import settings

# A busy machine is no reason for a property to fail.
settings.register_profile("any machine", deadline=None)
settings.load_profile("any machine")

PUBLISHED = Path(__file__).parents[2] / "data" / "published"


@dataclass(frozen=True)
class Sheet:
    """One published file: its fields, and its points as printed."""

    name: str
    fields: dict
    printed: dict[float, str]

    @property
    def points(self) -> list[tuple[float, float]]:
        """(t_c, value) as numbers."""
        return [(t_c, float(text)) for t_c, text in self.printed.items()]

    def half_digit(self, t_c: float) -> float:
        """Half of the last digit written for that row, and no more than binary noise over it."""
        _, _, part = self.printed[t_c].partition(".")
        return 0.5 * 10.0 ** -len(part) * (1 + 1e-6)


def _read_sheet(name: str) -> Sheet:
    """Load a file of published figures; its header must name source and print resolution."""
    text = (PUBLISHED / f"{name}.yaml").read_text(encoding="utf-8")
    for needed in ("Source", "Edition", "Table", "Print resolution", "Obtained"):
        assert f"# {needed}: " in text, f"{name}.yaml does not say its {needed.lower()}"
    as_text = yaml.load(text, Loader=yaml.BaseLoader).get("points", {})
    printed = {float(t): told for t, told in as_text.items() if isinstance(told, str)}
    return Sheet(name=name, fields=yaml.safe_load(text), printed=printed)


@pytest.fixture
def read_sheet() -> Callable[[str], Sheet]:
    """Load a published file by name."""
    return _read_sheet


def pytest_configure(config: pytest.Config) -> None:
    config.addinivalue_line(
        "markers", "published(pattern): run once for each file of published figures that matches"
    )


def pytest_generate_tests(metafunc: pytest.Metafunc) -> None:
    for marker in metafunc.definition.iter_markers("published"):
        names = sorted(path.stem for path in PUBLISHED.glob(f"{marker.args[0]}.yaml"))
        assert names, f"no published file matches {marker.args[0]}"
        sheets = [_read_sheet(name) for name in names]
        if "t_c" in metafunc.fixturenames:
            rows = [(sheet, t_c) for sheet in sheets for t_c in sheet.printed]
            ids = [f"{sheet.name}-{t_c:g}" for sheet, t_c in rows]
            metafunc.parametrize(("sheet", "t_c"), rows, ids=ids)
        else:
            metafunc.parametrize("sheet", sheets, ids=names)
