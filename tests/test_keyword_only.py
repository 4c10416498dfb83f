"""Of a public function only the first argument may come without its name: two swapped numbers show."""

from __future__ import annotations

import importlib
import inspect
from collections.abc import Iterator
from pathlib import Path
from types import FunctionType, ModuleType

import pytest

TOP = Path(__file__).resolve().parents[1]
ROOMS = sorted(
    {
        module.parent.relative_to(TOP).as_posix()
        for top in ("kb", "generators")
        for module in (TOP / top).rglob("*.py")
    }
)
NOT_YET = {"generators", "generators/pages", "kb", "kb/model", "kb/notes"}
"""Rooms that still hold functions with several bare arguments; none is ever added."""
OURS = ("kb", "generators", __name__)


def modules(room: str) -> Iterator[ModuleType]:
    """Import every module that stands in a room itself."""
    for path in sorted((TOP / room).glob("*.py")):
        name = ".".join(path.relative_to(TOP).with_suffix("").parts)
        yield importlib.import_module(name.removesuffix(".__init__"))


def public_functions(module: ModuleType) -> Iterator[tuple[str, FunctionType]]:
    """Yield functions and methods by name; a click command is no function any more."""
    for name, value in vars(module).items():
        if name.startswith("_") or getattr(value, "__module__", None) != module.__name__:
            continue
        if inspect.isclass(value):
            yield from ((f"{name}.{called}", method) for called, method in _methods(value))
        elif inspect.isfunction(inspect.unwrap(value)):
            yield name, inspect.unwrap(value)


def _methods(of_class: type) -> Iterator[tuple[str, FunctionType]]:
    elsewhere = [base for base in of_class.__mro__ if not base.__module__.startswith(OURS)]
    for name, value in vars(of_class).items():
        method = value.__func__ if isinstance(value, classmethod | staticmethod) else value
        # What a library calls has the arguments that the library gives it.
        overrides = any(name in vars(base) for base in elsewhere)
        if not name.startswith("_") and not overrides and inspect.isfunction(method):
            yield name, method


def bare(function: FunctionType, *, method: bool) -> list[str]:
    """Return the arguments that may come without their name, after the first."""
    kinds = (inspect.Parameter.POSITIONAL_ONLY, inspect.Parameter.POSITIONAL_OR_KEYWORD)
    parameters = inspect.signature(function).parameters.values()
    names = [parameter.name for parameter in parameters if parameter.kind in kinds]
    if method and names[:1] in (["self"], ["cls"]):
        names = names[1:]
    return names[1:]


def violations(room: str) -> list[str]:
    """Return every function of a room that takes several arguments by their place."""
    return [
        f"{module.__name__}.{name}: {', '.join(names)}"
        for module in modules(room)
        for name, function in public_functions(module)
        if (names := bare(function, method="." in name))
    ]


@pytest.mark.parametrize("room", [room for room in ROOMS if room not in NOT_YET])
def test_arguments_after_the_first_are_named(room: str) -> None:
    assert violations(room) == []


@pytest.mark.parametrize("room", sorted(NOT_YET))
def test_a_room_that_names_all_is_taken_off_the_list(room: str) -> None:
    assert violations(room) != [], f"{room} names all its arguments: take it out of NOT_YET"


class Example:
    """What the scan is tried on."""

    def named(self, r_ohm: float, *, t_c: float) -> None:
        """Take one by its place."""

    def swapped(self, r_ohm: float, t_c: float) -> None:
        """Take two by their place."""

    @staticmethod
    def fixed(r_ohm: float, t_c: float) -> None:
        """Take two by their place, without self."""

    @classmethod
    def made(cls, r_ohm: float) -> None:
        """Take one by its place."""


@pytest.mark.parametrize(
    ("name", "names"), [("named", []), ("swapped", ["t_c"]), ("fixed", ["t_c"]), ("made", [])]
)
def test_the_scan_sees_what_may_come_without_its_name(name: str, names: list[str]) -> None:
    assert bare(dict(_methods(Example))[name], method=True) == names
