"""A small site for tests of the frame: pages of the test's own, and empty stand-ins for the rest."""

from __future__ import annotations

import posixpath
import re
from pathlib import Path
from types import SimpleNamespace

from generators.browser_catalog import page_words, rules_modules
from generators.dress import dress
from generators.seal import seal
from kb.writer import write_folder

DRESSING = Path(__file__).resolve().parents[2] / "site_config"
RELEASE = '(window.Ohm=window.Ohm||{}).release={"name":"0123456789ab","number":1};\n'
ASKED = re.compile(r'(?:href|src|data-later)="([^":#]+)"')
TEAM = SimpleNamespace(name="Fenwick Cooling", title="Fenwick notes")
STAND_INS = {".webmanifest": '{"icons": []}', ".html": '<meta charset="utf-8"><p>A page.</p>'}


def stub_site(folder: Path, pages: dict[str, str], scripts: dict[str, str]) -> Path:
    """Dress and seal these pages; whatever else the frame leads to stands there empty."""
    write_folder(folder / "pages", pages)
    site = folder / "site"
    modules = rules_modules()
    dress(folder / "pages", site, DRESSING, team=TEAM, words=page_words(), modules=modules)
    write_folder(site, scripts, keep_others=True)
    missing = {}
    for page in site.rglob("*.html"):
        at = page.relative_to(site).parent.as_posix()
        for way in ASKED.findall(page.read_text(encoding="utf-8")):
            path = posixpath.normpath(posixpath.join(at, way))
            if not (site / path).exists():
                missing[path] = STAND_INS.get(posixpath.splitext(path)[1], "")
    write_folder(site, missing, keep_others=True)
    seal(site)
    write_folder(site, {"assets/release.js": RELEASE}, keep_others=True)
    return site
