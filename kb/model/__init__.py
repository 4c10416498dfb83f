"""What an entry of each kind may say: one file per kind, its field docstrings are the manual."""

from __future__ import annotations

import importlib
import pkgutil

from .case import Case
from .code import Code
from .curve import CURVE_LAWS, Curve
from .declaration import by_kind
from .drawing import Drawing
from .entry import Entry
from .family import Family
from .instrument import Instrument
from .lesson import Lesson
from .method import Method
from .part import Part
from .release import ReleaseNote
from .sensor import Sensor
from .slip import SLIPS, Slip
from .source import Source
from .team import Team
from .term import Term

# Every file of the room is read, so that a kind that is in no list is noticed.
for _module in pkgutil.iter_modules(__path__):
    importlib.import_module(f"{__name__}.{_module.name}")

KINDS: dict[str, type[Entry]] = by_kind(
    [Source, Family, Curve, Sensor, Code, Method, Instrument, Part, Drawing, Case, Lesson, Term],
    declared=Entry.declared,
)
"""Folder under `docs_data/` → what its entries are, in the order in which changes are told."""

__all__ = [
    "CURVE_LAWS",
    "KINDS",
    "SLIPS",
    "Case",
    "Code",
    "Curve",
    "Drawing",
    "Entry",
    "Family",
    "Instrument",
    "Lesson",
    "Method",
    "Part",
    "ReleaseNote",
    "Sensor",
    "Slip",
    "Source",
    "Team",
    "Term",
]
