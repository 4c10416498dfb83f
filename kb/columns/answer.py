"""Hold one answer against its field alone, so that a slip is mended where it was typed."""

from __future__ import annotations

from typing import Annotated, Any

from pydantic import TypeAdapter, ValidationError

from kb.model.words import Fault, TempC
from kb.numbers.rounding import format_plain

from .cell import CellFault
from .column import Column

_BOUNDS = {
    "greater_than": ("gt", "above"),
    "greater_than_equal": ("ge", "at least"),
    "less_than": ("lt", "below"),
    "less_than_equal": ("le", "at most"),
}


def refuse_unfit(value: object, *, column: Column) -> None:
    """Refuse a value that its field does not take.

    Raises
    ------
    CellFault
        With what would work. What needs other fields too is left to the whole entry.
    """
    if column.info is None or column.holds in ("source", "pins"):
        return
    kind: Any = column.info.annotation
    if column.field.endswith((".0", ".1")):
        kind = TempC
    for mark in column.info.metadata if kind is column.info.annotation else ():
        kind = Annotated[kind, mark]
    try:
        TypeAdapter(kind).validate_python(value)
    except ValidationError as error:
        raise _fault(error, value=value, column=column) from None


def _fault(error: ValidationError, *, value: object, column: Column) -> CellFault:
    first = error.errors(include_url=False)[0]
    context = first.get("ctx", {})
    fault = context.get("error")
    if isinstance(fault, Fault):
        return CellFault(str(fault), hint=fault.hint)
    if first["type"] in _BOUNDS:
        bound, word = _BOUNDS[first["type"]]
        return CellFault(
            f"'{value}' must be {word} {format_plain(context[bound])}", hint="give another number"
        )
    if column.choices:
        return CellFault(
            f"'{value}' is not one of the words for {column.name}",
            hint=f"there is: {', '.join(column.choices)}",
        )
    return CellFault(f"'{value}' is no {column.name}", hint=column.doc)
