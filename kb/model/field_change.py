"""How loud a change of a field is when releases are compared, and what the field is then called."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal, get_args

Level = Literal["safety", "numbers", "codes", "places", "words", "told otherwise"]
"""What a change is about. `told otherwise`: a curve by how it moved, a name by the new name."""


@dataclass(frozen=True)
class FieldChange:
    """How a change of one field is told."""

    level: Level
    called: str
    """The field in the trade's words."""


Changes = Mapping[str, FieldChange]
"""Field → how a change of it is told."""


def told_as(level: Level, *fields: str, **called: str) -> dict[str, FieldChange]:
    """Return fields whose changes are equally loud.

    Parameters
    ----------
    level : str
        How loud.
    *fields : str
        Fields whose own name says what they are.
    **called : str
        Other fields, each with what it is called.
    """
    if level not in get_args(Level):
        raise ImportError(f"there is no level '{level}' of a change: {', '.join(get_args(Level))}")
    words = {**{field: field.replace("_", " ") for field in fields}, **called}
    return {field: FieldChange(level, word) for field, word in words.items()}
