"""What was practised stays on the phone, comes back when it is due, and survives what is spoilt."""

from __future__ import annotations

import shutil
import subprocess
from pathlib import Path

from tests.site.node_answers import NODE, ROOT, copy_scripts

CASES = "tests/site/practised_cases.js"


def test_boxes_double_their_days_and_bad_values_survive(tmp_path: Path) -> None:
    folder = copy_scripts(tmp_path)
    shutil.copy(ROOT / CASES, folder / CASES)
    ran = subprocess.run(
        [NODE, "--test", CASES], cwd=folder, capture_output=True, encoding="utf-8", check=False
    )
    assert ran.returncode == 0, ran.stdout
    assert "# fail 0" in ran.stdout
