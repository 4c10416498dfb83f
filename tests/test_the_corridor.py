"""The house's two rules: data flows one way, and one module only writes.

docs_data says, kb knows, generators write, site_config dresses; nobody looks back.
"""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

TOP = Path(__file__).resolve().parents[1]
MODULES = sorted([*(TOP / "kb").rglob("*.py"), *(TOP / "generators").rglob("*.py")])
WRITER = TOP / "kb" / "writer.py"
HEAVY = {"matplotlib", "mkdocs", "markdown", "jinja2", "material"}

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


def may_import(path: str, name: str) -> bool:
    """True when a module of that path may import that name."""
    parts = name.split(".")
    if path.startswith("kb/"):
        if parts[0] in {"generators", "site_config", "tests"} | HEAVY:
            return False
        if path.startswith("kb/numbers/"):
            return parts[0] != "kb" or parts[1:2] in ([], ["numbers"])
        if path.startswith("kb/model/"):
            return parts[0] != "kb" or parts[1:2] in ([], ["model"], ["numbers"])
        return True
    return parts[0] not in {"site_config", "tests"}


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
            if called.attr == "open" and owner != "os" and _opens_to_write(node, mode_at=0):
                yield f"line {node.lineno}: .open"
            elif called.attr in WRITING_METHODS or called.attr in WRITING_OF.get(owner, ()):
                yield f"line {node.lineno}: {called.attr}"


def _opens_to_write(node: ast.Call, *, mode_at: int) -> bool:
    modes = [key.value for key in node.keywords if key.arg == "mode"] or node.args[mode_at:][:1]
    return any(
        not isinstance(mode, ast.Constant) or set(str(mode.value)) & set("wax+") for mode in modes
    )


@pytest.mark.parametrize("path", MODULES, ids=room)
def test_nobody_looks_back(path):
    tree = ast.parse(path.read_text(encoding="utf-8"))
    assert [name for name in imports(tree, path) if not may_import(room(path), name)] == []


@pytest.mark.parametrize("path", [one for one in MODULES if one != WRITER], ids=room)
def test_nothing_but_the_writer_writes(path):
    assert list(writes(ast.parse(path.read_text(encoding="utf-8")))) == []


def test_the_scan_sees_that_the_writer_writes():
    assert len(list(writes(ast.parse(WRITER.read_text(encoding="utf-8"))))) > 5


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


@pytest.mark.parametrize(
    ("path", "line", "allowed"),
    [
        ("kb/check/x.py", "import generators.build", False),
        ("kb/check/x.py", "from kb.notes.load import Notes", True),
        ("kb/check/x.py", "import matplotlib.pyplot", False),
        ("kb/numbers/x.py", "from kb.model import Curve", False),
        ("kb/numbers/x.py", "from ..model import Curve", False),
        ("kb/numbers/x.py", "from .law import Law", True),
        ("kb/model/x.py", "from kb.notes.load import Notes", False),
        ("generators/x.py", "from kb.check import check_notes", True),
    ],
)
def test_the_rule_tells_the_ways_apart(path, line, allowed):
    names = list(imports(ast.parse(line), TOP / path))
    assert all(may_import(path, name) for name in names) == allowed
