"""One module rounds what was measured or computed: no other one formats or rounds a number."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

TOP = Path(__file__).resolve().parents[1]
ROUNDING = "kb/numbers/rounding.py"
EXCEPTIONS = {
    # These rooms say back what was typed, and may not import the numbers' rounding.
    "kb/model/": "an entry's own figure, in a message about it",
    "kb/notes/": "a field's own figure, in a message about it",
    "kb/bring/table_file.py": "what a workbook shows of a cell, without the tails of its binary",
    # No reading comes out of these.
    "kb/numbers/e_series.py": "the series itself is defined by rounded powers of ten",
    "kb/numbers/misprint.py": "counts in units of the last printed digit",
    "kb/numbers/switching_ptc.py": "a limit holds at its very temperature, last binary digit or not",
    "generators/blinks.py": "places in a drawing",
    "generators/stair.py": "places in a drawing",
    "generators/labels/": "places on a sticker, in millimetres and points",
    "kb/label_sheets.py": "places on a sheet of stickers, in millimetres",
    "generators/sketch.py": "places in a drawing",
    "generators/chart.py": "places in a drawing",
    "kb/photos.py": "megabytes",
    "generators/release/icons.py": "colours",
    "generators/site_commands.py": "seconds and the length of a bar",
    "generators/summary.py": "seconds, megabytes and the error of a grid",
    "generators/publish/commands.py": "kilobytes and megabytes",
}
"""File or room → what it rounds instead of a quantity."""

FILES = sorted(
    str(file.relative_to(TOP))
    for room in ("kb", "generators")
    for file in (TOP / room).rglob("*.py")
    if str(file.relative_to(TOP)) != ROUNDING
)
ROUNDED = re.compile(r"[efgn%]$", re.IGNORECASE)
"""How a format ends that drops digits; `+d`, `04X` and `<60` drop none."""


def roundings(source: str) -> Iterator[str]:
    """Yield every place in a source that drops digits of a number."""
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.FormattedValue) and node.format_spec is not None:
            spec = ast.unparse(node.format_spec)[2:-1]
            if ROUNDED.search(spec):
                yield f"line {node.lineno}: :{spec}"
        elif isinstance(node, ast.Call):
            name = node.func.attr if isinstance(node.func, ast.Attribute) else ""
            name = node.func.id if isinstance(node.func, ast.Name) else name
            if name in ("round", "around", "format_float_positional"):
                yield f"line {node.lineno}: {name}()"
        elif isinstance(node, ast.BinOp) and isinstance(node.op, ast.Mod):
            left = node.left
            if isinstance(left, ast.Constant) and isinstance(left.value, str):
                yield f"line {node.lineno}: %"


def excepted(file: str) -> list[str]:
    """Return the exceptions that a file falls under."""
    return [name for name in EXCEPTIONS if file == name or file.startswith(name)]


@pytest.mark.parametrize("file", FILES)
def test_no_other_module_rounds(file):
    found = list(roundings((TOP / file).read_text(encoding="utf-8")))
    assert not found or excepted(file), f"{file}: use {ROUNDING}: {found}"


@pytest.mark.parametrize("name", EXCEPTIONS)
def test_every_exception_is_still_needed(name):
    files = [file for file in FILES if name in excepted(file)]
    assert any(list(roundings((TOP / file).read_text(encoding="utf-8"))) for file in files)


@pytest.mark.parametrize(
    "line",
    [
        'f"{t_c:.1f}"',
        'f"{r_ohm:g}"',
        'f"{share:.0%}"',
        'f"{value:.{digits}g}"',
        "round(t_c, 1)",
        "np.round(t_c)",
        "t_c.round(2)",
        '"%.1f" % t_c',
    ],
)
def test_the_scan_sees_every_way_to_round(line):
    assert list(roundings(line))


@pytest.mark.parametrize("line", ['f"{count}"', 'f"{over_k:+d}"', 'f"{sign:04X}"', "r_ohm % 10"])
def test_the_scan_lets_whole_numbers_pass(line):
    assert not list(roundings(line))
