"""The room of jobs: machines kept apart, nothing overwritten, and what a phone refuses."""

from __future__ import annotations

import shutil
import subprocess
from pathlib import Path

from tests.site.node_answers import NODE, ROOT, copy_scripts

CASES = "tests/site/job_store_cases.js"


def test_jobs_are_kept_apart_and_whole_whatever_the_phone_does(tmp_path: Path) -> None:
    folder = copy_scripts(tmp_path)
    shutil.copy(ROOT / CASES, folder / CASES)
    ran = subprocess.run(
        [NODE, "--test", CASES], cwd=folder, capture_output=True, encoding="utf-8", check=False
    )
    assert ran.returncode == 0, ran.stdout
    assert "# fail 0" in ran.stdout
