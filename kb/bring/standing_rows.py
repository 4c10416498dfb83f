"""The sheet of what stands: a row for each entry, as `bring` reads it back."""

from __future__ import annotations

from collections.abc import Sequence

from kb.columns.cell import cell_of
from kb.columns.column import Column, sheet_columns
from kb.columns.values import Value, at, in_cells, items_of
from kb.notes.load import Notes


def rows_of(kind: str, *, notes: Notes, family: str = "") -> tuple[list[str], list[list[str]]]:
    """Return the sheet of what stands: its head, and a row for each entry that can be read."""
    values: dict[str, Value] = {}
    for entry_id, entry in notes.of_kind(kind).items():
        stands = notes.texts[(kind, entry_id)].value
        if isinstance(stands, dict) and (not family or family in entry.family_ids):
            values[entry_id] = in_cells(stands)
    shown: list[tuple[Column, int]] = []
    for group in _grouped(sheet_columns(kind)):
        most = max((items_of(value, column=group[0]) for value in values.values()), default=1)
        for number in range(1, max(most, 1) + 1):
            shown += [
                (column, number)
                for column in group
                if number == 1
                or any(at(v, way=column.way(number)) is not None for v in values.values())
            ]
    head = ["id", *(column.called(number) for column, number in shown)]
    rows = [
        [entry_id, *(cell_of(at(value, way=column.way(n)), column=column) for column, n in shown)]
        for entry_id, value in values.items()
    ]
    return head, rows


def _grouped(columns: Sequence[Column]) -> list[list[Column]]:
    """Return columns with those of one list together: their items follow each other."""
    groups: list[list[Column]] = []
    for column in columns:
        list_name = column.field.partition(".#")[0] if column.repeats else ""
        if groups and list_name and groups[-1][0].field.startswith(f"{list_name}.#"):
            groups[-1].append(column)
        else:
            groups.append([column])
    return groups
