"""Seeded notes of any size that look like real ones: for what takes long when there are thousands.

Run: python -m tests.bench.many_notes ENTRIES FOLDER. The demo stands in them as it is. Beside it stand
families that are made of its four: each has its own sensors, codes, parts, drawings and handbook, and
shares curves, methods and instruments with all others. Codes are shown in another form on each family,
with ties between families; past jobs cluster: a few families have most of them, many have none.
"""

from __future__ import annotations

import datetime
import random
import re
import shutil
import sys
from dataclasses import dataclass
from pathlib import Path

from kb.notes.folder import CONTENT, DATA
from kb.writer import copy_tree, write_folder

ROOT = Path(__file__).resolve().parents[2]
SEED = 14
OF_FAMILY = ("families", "sources", "sensors", "codes", "parts", "drawings", "cases")
"""Kinds of which each family has its own."""
NAMES = ("quellmark", "veldane", "osterlyn", "brenholt")
SYLLABLES = (
    "Ar",
    "Bel",
    "Cor",
    "Dun",
    "Fal",
    "Gor",
    "Hul",
    "Ker",
    "Mol",
    "Nar",
    "Ost",
    "Pel",
    "Tor",
)
ENDINGS = ("beck", "dale", "fen", "holm", "mere", "rick", "stad", "vik", "wold")
FORMS = (
    lambda i: f"E{i:02d}",
    lambda i: f"{i:03d}",
    lambda i: f"F{i // 8 + 1}-{i % 8 + 1}",
    lambda i: f"{i // 6}E{i % 6}",
    lambda i: f"H{i}",
    lambda i: f"{i // 10}:{i % 10}0",
    lambda i: f"AL{i * 3 + 1}",
)
"""How a controller writes its codes; small numbers come again and again on other families."""
_SHOWN = re.compile(r"(?<=text: )(\"[^\"]*\"|[^,}\n]+)(?=[,}])")
_ON = re.compile(r"^on: (\d{4}-\d\d-\d\d)$", re.MULTILINE)
CASES_MOST = 3
"""So many times a family's cases may have happened again."""


@dataclass(frozen=True)
class Original:
    """One of the demo's families: the name that its ids begin with, and every file of it."""

    name: str
    files: dict[str, str]
    """Path below the notes → text."""


def originals() -> list[Original]:
    """Return the demo's families."""
    found = []
    for name in NAMES:
        paths = sorted(
            path for kind in OF_FAMILY for path in (ROOT / DATA / kind).rglob(f"{name}-*.yaml")
        )
        texts = {p.relative_to(ROOT).as_posix(): p.read_text(encoding="utf-8") for p in paths}
        found.append(Original(name, texts))
    return found


def another(original: Original, number: int, *, draw: random.Random) -> dict[str, str]:
    """Return the files of another family like this one."""
    maker = draw.choice(SYLLABLES) + draw.choice(ENDINGS)
    name = f"{maker.lower()}-{number}"
    form, start = draw.choice(FORMS), draw.randrange(0, 30)
    shown: dict[str, str] = {}

    def renamed(text: str) -> str:
        text = re.sub(rf"\b{original.name}-", f"{name}-", text)
        return text.replace(original.name.capitalize(), f"{maker} {number}")

    def reshown(found: re.Match[str]) -> str:
        code = found[1].strip('"')
        return '"' + shown.setdefault(code, form(start + len(shown))) + '"'

    made = {}
    # Past jobs cluster: of three families one has none, one as many as the demo's, few have more.
    times = int(min(draw.paretovariate(1.2), CASES_MOST + 1) - 1 + draw.random())
    for path, text in original.files.items():
        new = renamed(text)
        if "/codes/" in path:
            new = _named_by_code(_SHOWN.sub(reshown, new), shown=shown)
        if "/cases/" not in path:
            made[renamed(path)] = new
            continue
        for again in range(times):
            day = datetime.date.fromisoformat(_ON.search(new)[1])
            day -= datetime.timedelta(days=again * 37 + draw.randrange(0, 30))
            end = f"-{again}.yaml" if again else ".yaml"
            made[renamed(path).removesuffix(".yaml") + end] = _ON.sub(f"on: {day}", new)
    return made


def _named_by_code(text: str, *, shown: dict[str, str]) -> str:
    """Let a name that begins with the code begin with the code as it is shown now."""
    head, _, rest = text.partition("\n")
    begin, _, words = head.removeprefix("name: ").partition(" ")
    quoted = begin.startswith('"')
    new = shown.get(begin.strip('"'))
    if new is None:
        return text
    return f'name: "{new} {words.rstrip(chr(34)) if quoted else words}"\n{rest}'.replace('""', '"')


def many_notes(entries: int, *, seed: int = SEED) -> dict[str, str]:
    """Return about so many entries as files by path, beside the demo's own."""
    draw, models = random.Random(seed), originals()
    made: dict[str, str] = {}
    there = sum(path.suffix == ".yaml" for path in (ROOT / DATA).rglob("*/*.yaml"))
    number = 0
    while there + len(made) < entries:
        number += 1
        made.update(another(models[draw.randrange(len(models))], number, draw=draw))
    return made


def write_many_notes(entries: int, *, folder: Path) -> int:
    """Write the demo and what is made of it into a folder; return how many entries there are."""
    if folder.exists():
        shutil.rmtree(folder)
    copy_tree(ROOT / DATA, folder / DATA)
    copy_tree(ROOT / CONTENT, folder / CONTENT)
    write_folder(folder, many_notes(entries), keep_others=True)
    return sum(1 for _ in (folder / DATA).rglob("*/*.yaml"))


if __name__ == "__main__":
    print(write_many_notes(int(sys.argv[1]), folder=Path(sys.argv[2])), "entries")
