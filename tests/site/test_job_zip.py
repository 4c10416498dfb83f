"""The zip that the page writes is one that Python reads, byte for byte."""

from __future__ import annotations

import subprocess
import zipfile
from pathlib import Path

from kb.case_zip import read_zip
from tests.site.node_answers import NODE, copy_scripts

PROGRAM = """\
import { writeFileSync } from "node:fs";
import { crc32, zipOf } from "./site_config/assets/job/zip.js";
const bytes = (text) => new TextEncoder().encode(text);
if (crc32(bytes("123456789")) !== 0xcbf43926) throw new Error("not CRC-32");
writeFileSync("made.zip", zipOf([
  { name: "a-case.yaml", bytes: bytes("name: 'été'\\n") },
  { name: "a-case-1.jpg", bytes: Uint8Array.from({ length: 70000 }, (_, i) => i % 251) },
  { name: "a-case-2.jpg", bytes: new Uint8Array(0) },
]));
"""


def test_a_zip_of_the_page_holds_what_went_in(tmp_path: Path) -> None:
    folder = copy_scripts(tmp_path)
    (folder / "make.mjs").write_text(PROGRAM, encoding="utf-8")
    ran = subprocess.run(
        [NODE, "make.mjs"], cwd=folder, capture_output=True, encoding="utf-8", check=False
    )
    assert ran.returncode == 0, ran.stderr
    with zipfile.ZipFile(folder / "made.zip") as pack:
        assert pack.testzip() is None
    case = read_zip((folder / "made.zip").read_bytes())
    assert case.yaml == "name: 'été'\n".encode()
    assert case.photos == {
        "a-case-1.jpg": bytes(i % 251 for i in range(70000)),
        "a-case-2.jpg": b"",
    }
