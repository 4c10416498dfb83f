"""A column: one field of a kind, what the trade calls it, and what may stand in its cells."""

from __future__ import annotations

import functools
import re
import unicodedata
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Literal, get_args, get_origin

from pydantic import BaseModel
from pydantic.fields import FieldInfo

from kb.entry_file.entry_text import literal_words
from kb.model import CURVE_LAWS, KINDS
from kb.model.field_docs import described
from kb.model.shape import inner_block, ref_of

from .trade_words import names_of

Holds = Literal["text", "lines", "ids", "id", "choice", "pairs", "pins", "source", "suspect"]
ITEM = "#"
"""In a field's way: the number of an item of a list."""
MOST_ITEMS = 200
"""Items of a list that may have columns."""
OTHERWISE_READ = {"codes": ("suspects.#.sensor", "suspects.#.part", "suspects.#.what")}
"""Fields that another column stands for: a suspect is what it names."""
NO_COLUMN = ("id", "law", "points", "fitted_to", "shapes")
"""Fields that no cell holds: tables of points have sheets of their own, drawings have none."""


PINS_DOC = (
    "What is where, in percent from the left and from the top, and in words: "
    "T1: 28 40 On the suction pipe."
)
SOURCE_DOC = "Where the facts come from: a source's id; a comma and the page may follow."


@dataclass(frozen=True, kw_only=True)
class Column:
    """One column.

    Parameters
    ----------
    field : str
        The way to the field, such as `plug.mark` or `suspects.#.share`.
    names : tuple of str
        The column's name, then others that are understood.
    holds : str
        What stands in a cell.
    needed : bool
        Whether an entry (or an item of its list) cannot do without.
    doc : str
        What the field is, by its model.
    ref : str
        The kind whose ids stand there; empty for none.
    kind : str
        Of which it is a column.
    choices : tuple of str
        The words it chooses among; none when it is free.
    """

    field: str
    names: tuple[str, ...]
    holds: Holds
    needed: bool
    doc: str
    ref: str = ""
    choices: tuple[str, ...] = ()
    kind: str = ""
    info: FieldInfo | None = None

    @property
    def name(self) -> str:
        """The column's name."""
        return self.names[0]

    @functools.cached_property
    def plain_names(self) -> frozenset[str]:
        """Whatever it may be called, as it is compared; its field's own name is understood too."""
        known = [*self.names, self.field.replace(f".{ITEM}.", "."), self.field]
        return frozenset(map(plain_header, known))

    @property
    def repeats(self) -> bool:
        """Whether it belongs to an item of a list, so that a number may follow its name."""
        return ITEM in self.field

    def called(self, number: int = 1) -> str:
        """Return its name for an item, counted from 1."""
        return f"{self.name} {number}" if self.repeats and number > 1 else self.name

    def way(self, number: int = 1) -> tuple[str | int, ...]:
        """Return the way into a value, for an item counted from 1."""
        steps: list[str | int] = []
        for step in self.field.split("."):
            steps.append(number - 1 if step == ITEM else int(step) if step.isdigit() else step)
        return tuple(steps)


@functools.cache
def columns_of(kind: str, *, law: str = "") -> tuple[Column, ...]:
    """Return the columns of a kind, in the order of its model.

    Parameters
    ----------
    kind : str
        One of KINDS.
    law : str
        For a curve: the law whose own fields are columns too.
    """
    described()
    model = CURVE_LAWS[law] if law else KINDS[kind]
    skipped = OTHERWISE_READ.get(kind, ())
    found = [column for column in _columns(kind, model, "") if column.field not in skipped]
    if kind == "codes":
        at = next(i for i, column in enumerate(found) if column.field.startswith("suspects."))
        found.insert(at, _suspect())
    return tuple(found)


@functools.cache
def sheet_columns(kind: str) -> tuple[Column, ...]:
    """Return the columns of a sheet of a kind: of curves, the parameters of every law too."""
    found = columns_of(kind)
    if kind != "curves":
        return found
    seen = {column.field: column for column in found}
    for law in CURVE_LAWS:
        for column in columns_of(kind, law=law):
            # What one law cannot do without, another has not at all.
            # Its letter alone would be taken for B, the B value.
            letter = len(column.name) == 1 and column.field == column.name
            names = (f"coefficient {column.name}",) if letter else column.names
            seen.setdefault(column.field, replace(column, names=names, needed=False))
    law_column = Column(
        field="law",
        kind=kind,
        names=tuple(names_of(kind, field="law")),
        holds="choice",
        needed=True,
        doc="Which law gives resistance from temperature. Rows of a table have a sheet: points.",
        choices=tuple(CURVE_LAWS),
    )
    return (law_column, *seen.values())


def _suspect() -> Column:
    return Column(
        field="suspects.#.thing",
        names=tuple(names_of("codes", field="suspects.#.thing")),
        holds="suspect",
        needed=True,
        doc="What may be at fault: the id of a sensor or a part, or words.",
    )


def _columns(
    kind: str, model: type[BaseModel], above: str, *, optional: bool = False
) -> Iterator[Column]:
    for name, info in model.model_fields.items():
        field = f"{above}{name}"
        if field in NO_COLUMN or info.annotation is type(None):
            continue
        if field == "source":
            yield _column(kind, field, info, holds="source", ref="sources")
            continue
        for column in _of_field(kind, field, info):
            yield replace(column, needed=False) if optional else column


def _of_field(kind: str, field: str, info: FieldInfo) -> Iterator[Column]:
    inner = inner_block(info.annotation)
    ref = ref_of(info.annotation, info.metadata)
    outer = _without_none(info.annotation)
    if inner is not None and get_origin(outer) is not dict:
        item = f"{ITEM}." if get_origin(outer) is list else ""
        optional = not info.is_required()
        yield from _columns(kind, inner, f"{field}.{item}", optional=optional)
    elif inner is not None:
        # Pins by their names: a drawing's.
        yield replace(_column(kind, field, info, holds="pins"), doc=PINS_DOC)
    elif get_origin(outer) is tuple:
        for at in ("0", "1"):
            yield _column(kind, f"{field}.{at}", info, holds="text")
    elif get_origin(outer) is dict:
        yield _column(kind, field, info, holds="pairs")
    elif get_origin(outer) is list:
        marks = ref is not None or field.endswith("pins")
        of_kind = ref.kind if ref is not None else ""
        yield _column(kind, field, info, holds="ids" if marks else "lines", ref=of_kind)
    elif ref is not None:
        yield _column(kind, field, info, holds="id", ref=ref.kind)
    elif literal_words(info.annotation) or _holds_bool(outer):
        yield _column(kind, field, info, holds="choice")
    else:
        yield _column(kind, field, info, holds="text")


def _column(
    kind: str, field: str, info: FieldInfo, *, holds: Holds, ref: str | None = None
) -> Column:
    words = literal_words(info.annotation)
    if _holds_bool(info.annotation):
        words = ("yes", "no")
    return Column(
        field=field,
        kind=kind,
        names=tuple(names_of(kind, field=field)),
        holds=holds,
        needed=info.is_required(),
        doc=SOURCE_DOC if holds == "source" else " ".join((info.description or "").split()),
        ref=ref or "",
        choices=words,
        info=info,
    )


def _without_none(annotation: object) -> object:
    """Return what a field holds when it holds something."""
    parts = [part for part in get_args(annotation) if part is not type(None)]
    is_optional = type(None) in get_args(annotation)
    return parts[0] if is_optional and len(parts) == 1 else annotation


def _holds_bool(annotation: object) -> bool:
    return annotation is bool or any(map(_holds_bool, get_args(annotation)))


def plain_header(text: str) -> str:
    """Return a column's name as it is compared: small letters, no signs, single spaces."""
    text = unicodedata.normalize("NFKC", text).casefold().replace("_", " ")
    text = text.replace("ω", " ohm ").replace("°", " ").replace("%", " percent ")
    return " ".join(re.sub(r"[^\w#+]+", " ", text).split())


def find_column(columns: Sequence[Column], *, header: str) -> tuple[Column, int] | None:
    """Return the column that a header means, and its number; None when it means none.

    A field's own name in the entry is understood too: `plug.mark`, `meets_c.0`. An item beyond
    MOST_ITEMS is none: the list would be filled up to it.
    """
    plain = plain_header(header)
    numbered = re.fullmatch(r"(.*?) ?(\d{1,12})", plain)
    for name, number in [(plain, 1), *([(numbered[1], int(numbered[2]))] if numbered else [])]:
        for column in columns:
            if (
                name in column.plain_names
                and (number == 1 or column.repeats)
                and number <= MOST_ITEMS
            ):
                return column, number
    return None
