"""Run the page's own modules in Debian's node, as they are or with a slip of the pen in one."""

from __future__ import annotations

import json
import shutil
import subprocess
from pathlib import Path

from generators.browser_catalog import MODULE, SPELLINGS, catalog_module_text, spellings_module_text

ROOT = Path(__file__).resolve().parents[2]
ASSETS = ROOT / "site_config" / "assets"
NODE = "/usr/bin/node"
DRIVER = "tests/site/answer_over_stdin.js"
HARNESS = (DRIVER, "tests/site/answer_vectors.js")
WRITTEN = {MODULE: catalog_module_text(), SPELLINGS: spellings_module_text()}
"""What the build writes for the modules, by where they stand in `assets/`."""


def copy_scripts(folder: Path, *, broken: dict[str, str] | None = None) -> Path:
    """Copy the modules and what asks them, in the same places; `broken` holds changed texts.

    The copy stands in a folder whose package.json says that its files are modules: the notes'
    own folder needs no such file, as no page loads a module.
    """
    shutil.copytree(ASSETS, folder / "site_config" / "assets")
    (folder / "tests" / "site").mkdir(parents=True)
    for path in HARNESS:
        shutil.copy(ROOT / path, folder / path)
    for name, text in WRITTEN.items():
        (folder / "site_config" / "assets" / name).write_text(text, encoding="utf-8")
    (folder / "package.json").write_text('{"type": "module"}\n', encoding="utf-8")
    for name, text in (broken or {}).items():
        (folder / "site_config" / "assets" / name).write_text(text, encoding="utf-8")
    return folder


def run_node(folder: Path, *arguments: str, sent: str = "") -> str:
    """Return what a run of node in that folder prints; a fault in a script is a fault here."""
    ran = subprocess.run(
        [NODE, *arguments], cwd=folder, input=sent, capture_output=True, encoding="utf-8"
    )
    assert ran.returncode == 0, ran.stderr
    return ran.stdout


def node_answers(folder: Path, *, grids: dict[str, object], vectors: list[object]) -> str:
    """Return the answers to these vectors, as the JSON that the modules wrote."""
    return run_node(folder, DRIVER, sent=json.dumps({"grids": grids, "vectors": vectors}))
