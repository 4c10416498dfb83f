"""The house's two rules: each room imports what its row in DEVELOPERS.md allows, and one only writes.

docs_data says, kb knows, generators write, site_config dresses; nobody looks back.
"""

from __future__ import annotations

import ast
import re
import sys
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cache
from graphlib import CycleError, TopologicalSorter
from pathlib import Path

import pytest

TOP = Path(__file__).resolve().parents[1]
MODULES = sorted([*(TOP / "kb").rglob("*.py"), *(TOP / "generators").rglob("*.py")])
WRITERS = [TOP / "kb" / name for name in ("writer.py", "whole_folders.py")]
"""Files and folders; whole folders in the place of others."""
HOUSE = (TOP / "DEVELOPERS.md").read_text(encoding="utf-8").partition("## The house")[2]
MADE = {"site", "pocket", "dist", "node_modules", "__pycache__"}
"""Folders at the top that .gitignore names."""
OURS = ("kb", "generators", "site_config", "tests")

WRITING_METHODS = {
    "write_text",
    "write_bytes",
    "mkdir",
    "rmdir",
    "unlink",
    "rename",
    "touch",
    "symlink_to",
    "hardlink_to",
    "chmod",
    "makedirs",
    "removedirs",
    "rmtree",
    "copytree",
    "copyfile",
    "copy2",
    "tofile",
    "savetxt",
    "mkstemp",
    "mkdtemp",
}
"""Methods and functions that nothing but files has."""
WRITING_OF = {
    "os": {"replace", "remove", "open", "write", "link", "symlink", "truncate", "renames"},
    "shutil": {"move", "copy", "make_archive", "unpack_archive", "chown"},
    "tempfile": {"TemporaryDirectory", "NamedTemporaryFile", "TemporaryFile"},
}
"""Functions with everyday names, told by the module they are called on."""


def imports(tree: ast.Module, module: Path) -> Iterator[str]:
    """Yield every module imported, relative ones by their full name."""
    package = module.relative_to(TOP).parent.parts
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            base = package[: len(package) - node.level + 1] if node.level else ()
            stem = ".".join([*base, *([node.module] if node.module else [])])
            yield stem
            yield from (f"{stem}.{alias.name}" for alias in node.names)


def room(path: Path) -> str:
    return path.relative_to(TOP).as_posix()


@dataclass(frozen=True)
class Row:
    """One row of the table: the rooms it is about, and what they may import."""

    rooms: tuple[str, ...]
    allowed: tuple[str, ...]

    def closeness(self, path: str) -> int:
        """Return how much of a module's path one of the rooms says; 0 when it stands in none."""
        return max((len(name) for name in self.rooms if path.startswith(name)), default=0)

    def allowing(self, name: str) -> str | None:
        """Return what in the row allows an import, the longest that does; None when nothing does."""
        fits = [part for part in self.allowed if name == part or name.startswith(f"{part}.")]
        return max(fits, key=len, default=None)


def table(text: str) -> list[Row]:
    """Return the rows of the first table of a text: `| rooms | words | imports |`, names in ticks."""
    cells = [line.strip("| ").split(" | ") for line in re.findall(r"^\|.*\|$", text, re.MULTILINE)]
    return [
        Row(_ticked(first), _ticked(rest[1]) if len(rest) > 1 else ())
        for first, *rest in cells
        if first.startswith("`")
    ]


def _ticked(cell: str) -> tuple[str, ...]:
    return tuple(re.findall(r"`([^`]+)`", cell))


ROWS = table(HOUSE.partition("\n## ")[0])


def row_of(path: str, *, rows: Iterable[Row] = ROWS) -> Row | None:
    """Return the row of a module's path, the most special one; None when it has none."""
    closest = max(rows, key=lambda row: row.closeness(path))
    return closest if closest.closeness(path) else None


@cache
def path_of(name: str) -> str:
    """Return the path of the module that an imported name stands in: of ours only."""
    parts = name.split(".")
    while parts:
        place = Path(*parts)
        if (TOP / place).with_suffix(".py").is_file():
            return place.with_suffix(".py").as_posix()
        if (TOP / place).is_dir():
            return f"{place.as_posix()}/__init__.py"
        parts.pop()
    return ""


def leaves(path: str, *, names: Iterable[str], rows: Iterable[Row] = ROWS) -> Iterator[str]:
    """Yield the imported names that are neither of the module's own row nor of Python itself."""
    rows = list(rows)
    for name in names:
        top = name.partition(".")[0]
        own = top in OURS and row_of(path_of(name), rows=rows) == row_of(path, rows=rows)
        if not own and top not in sys.stdlib_module_names:
            yield name


def refused(path: str, *, names: Iterable[str], rows: Iterable[Row] = ROWS) -> list[str]:
    """Return the imported names that a module's row does not allow."""
    row = row_of(path, rows=rows)
    outside = leaves(path, names=names, rows=rows)
    return [name for name in outside if row is None or row.allowing(name) is None]


def writes(tree: ast.Module) -> Iterator[str]:
    """Yield what in a module writes, renames, deletes or makes files and folders."""
    for node in ast.walk(tree):
        if not isinstance(node, ast.Call):
            continue
        called = node.func
        if isinstance(called, ast.Name):
            if called.id == "open" and _opens_to_write(node, mode_at=1):
                yield f"line {node.lineno}: open"
            elif called.id in WRITING_METHODS - {"rename"}:
                yield f"line {node.lineno}: {called.id}"
        elif isinstance(called, ast.Attribute):
            owner = called.value.id if isinstance(called.value, ast.Name) else ""
            first = node.args[0] if node.args else None
            if called.attr == "savefig" and isinstance(first, ast.Constant | ast.BinOp):
                # Into a buffer it is no file.
                yield f"line {node.lineno}: savefig"
            if called.attr == "replace" and len(node.args) == 1 and not node.keywords:
                # Of a text it takes two; of a path, one.
                yield f"line {node.lineno}: replace"
            if (
                called.attr == "open"
                and owner not in ("os", "Image")
                and _opens_to_write(node, mode_at=0)
            ):
                yield f"line {node.lineno}: .open"
            elif called.attr in WRITING_METHODS or called.attr in WRITING_OF.get(owner, ()):
                yield f"line {node.lineno}: {called.attr}"


def _opens_to_write(node: ast.Call, *, mode_at: int) -> bool:
    modes = [key.value for key in node.keywords if key.arg == "mode"] or node.args[mode_at:][:1]
    return any(
        not isinstance(mode, ast.Constant) or set(str(mode.value)) & set("wax+") for mode in modes
    )


@cache
def tree_of(path: Path) -> ast.Module:
    return ast.parse(path.read_text(encoding="utf-8"))


@cache
def imported(path: Path) -> list[str]:
    return list(imports(tree_of(path), path))


@pytest.mark.parametrize("path", MODULES, ids=room)
def test_nobody_looks_back(path):
    assert row_of(room(path)) is not None, "it has no row in DEVELOPERS.md"
    assert refused(room(path), names=imported(path)) == []


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row.rooms[0])
def test_a_row_names_rooms_that_are_there_and_allows_what_is_used(row):
    assert [name for name in row.rooms if not (TOP / name).exists()] == []
    used = {
        row.allowing(name)
        for path in MODULES
        if row_of(room(path)) == row
        for name in leaves(room(path), names=imported(path))
    }
    assert [name for name in row.allowed if name not in used] == []


def test_every_folder_at_the_top_has_a_row():
    folders = {path.name for path in TOP.iterdir() if path.is_dir() and path.name[0] != "."}
    named = {name.partition("/")[0] for row in ROWS for name in row.rooms}
    assert folders - named - MADE == set()


@pytest.mark.parametrize("path", [path for path in MODULES if path not in WRITERS], ids=room)
def test_nothing_but_the_writers_writes(path):
    assert list(writes(tree_of(path))) == []


@pytest.mark.parametrize("path", WRITERS, ids=room)
def test_the_scan_sees_that_the_writers_write(path):
    assert len(list(writes(ast.parse(path.read_text(encoding="utf-8"))))) > 5


@pytest.mark.parametrize(
    "line",
    [
        "path.write_text('x')",
        "open('x', 'w')",
        "open('x', mode='ab')",
        "path.open('w')",
        "os.replace(a, b)",
        "os.remove(a)",
        "shutil.move(a, b)",
        "path.unlink()",
        "path.replace(other)",
        "figure.savefig('x')",
        "from shutil import rmtree\nrmtree('x')",
    ],
)
def test_the_scan_sees_every_way_to_write(line):
    assert list(writes(ast.parse(line)))


@pytest.mark.parametrize("line", ["open('x')", "path.open('rb')", "text.replace('a', 'b')"])
def test_the_scan_lets_reading_pass(line):
    assert list(writes(ast.parse(line))) == []


EXAMPLE = table("""
| room | what is in it | may import |
|---|---|---|
| `kb/numbers/` | numbers | `numpy` |
| `kb/model/` | kinds | `kb.numbers.notation`, `pydantic` |
| `kb/catalog.py`, `kb/suspects.py` | bridges | `kb.model` |
| `generators/` | pages | `kb` |
| `generators/chart.py` | pictures | `matplotlib` |
| `site_config/` | the frame | |
""")


@pytest.mark.parametrize(
    ("path", "line", "allowed"),
    [
        ("kb/numbers/x.py", "from kb.model import Curve", False),
        ("kb/numbers/x.py", "from ..model import Curve", False),
        ("kb/numbers/x.py", "from .law import Law", True),
        ("kb/numbers/x.py", "import numpy.polynomial, math", True),
        ("kb/numbers/x.py", "import scipy", False),
        ("kb/model/x.py", "from kb.numbers.notation import parse_ohm", True),
        ("kb/model/x.py", "from kb.numbers.rounding import format_ohm", False),
        ("kb/model/x.py", "def late():\n    from kb.check import check_notes", False),
        ("kb/catalog.py", "from kb.suspects import suspects", True),
        ("kb/catalog.py", "from kb.writer import write_folder", False),
        ("kb/other.py", "import numpy", False),
        ("kb/other.py", "import json", True),
        ("generators/x.py", "from kb.check import check_notes", True),
        ("generators/x.py", "import matplotlib.pyplot", False),
        ("generators/chart.py", "import matplotlib.pyplot", True),
        ("generators/chart.py", "from kb.model import Curve", False),
    ],
)
def test_the_rule_tells_the_ways_apart(path, line, allowed):
    names = list(imports(ast.parse(line), TOP / path))
    assert (refused(path, names=names, rows=EXAMPLE) == []) == allowed


def generator_rooms() -> dict[str, set[str]]:
    """Return each room of generators, a module or a sub-package, with the rooms it imports."""
    rooms: dict[str, set[str]] = {}
    for path in sorted((TOP / "generators").rglob("*.py")):
        own = path.relative_to(TOP / "generators").parts[0].removesuffix(".py")
        others = {name.split(".")[1] for name in imported(path) if name.startswith("generators.")}
        rooms.setdefault(own, set()).update(others - {own, "__init__"})
    return rooms


def test_no_room_of_the_generators_leads_back_to_itself():
    rooms = generator_rooms()
    assert rooms["build"] >= {"release", "seal"}
    # Raises CycleError, which names the rooms of the circle.
    TopologicalSorter(rooms).prepare()


def test_the_search_for_circles_finds_one():
    with pytest.raises(CycleError):
        TopologicalSorter({**generator_rooms(), "release": {"build"}}).prepare()
