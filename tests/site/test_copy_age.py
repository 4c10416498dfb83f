"""How old a copy is, told by a clock that may be wrong."""

from __future__ import annotations

import datetime
import json
from pathlib import Path

import pytest

from tests.site.node_answers import copy_scripts, run_node

AGES = """
import { ageDays, dayOf } from "./site_config/assets/copy/copy-age.js";
const [known, now] = JSON.parse(process.argv[1]);
console.log(JSON.stringify([ageDays(known, now), dayOf(now)]));
"""
NOW = datetime.datetime(2026, 11, 27, 9, tzinfo=datetime.UTC)


@pytest.fixture(scope="module")
def scripts(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The page's modules."""
    return copy_scripts(tmp_path_factory.mktemp("copy-age"))


@pytest.mark.parametrize(
    ("known", "days"),
    [
        ("2026-11-27", 0),
        ("2026-11-28", 0),  # it is tomorrow there already
        ("2026-09-27", 61),
        ("2026-11-29", None),
        ("2062-11-27", None),
        (None, 0),
    ],
)
def test_a_copy_of_a_day_to_come_has_no_age(
    scripts: Path, known: str | None, days: int | None
) -> None:
    at = datetime.datetime.fromisoformat(f"{known}T00:00:00Z").timestamp() * 1000 if known else 0
    asked = json.dumps([at, NOW.timestamp() * 1000])
    printed = run_node(scripts, "--input-type=module", "-e", AGES, asked)
    assert json.loads(printed) == [days, "2026-11-27"]
