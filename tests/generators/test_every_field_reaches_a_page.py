"""What a keeper writes is read by somebody: each field of each model is on a page, or says why not.

A field is changed in one entry, the pages are made again, and something that can be read without
scripts must be different.
"""

from __future__ import annotations

import datetime
import re
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Literal, get_args, get_origin

import pytest
from pydantic import BaseModel
from pydantic.fields import FieldInfo

from generators.make import make_entry, make_site
from generators.plan import plan_site
from generators.release.coming_release import coming_release
from generators.site_context import SiteContext
from kb.catalog import Catalog
from kb.check import check_notes
from kb.model import CURVE_LAWS, KINDS, Curve, Entry, ReleaseNote, Team
from kb.model.case import Cause
from kb.model.off_page import off_page
from kb.model.shape import inner_block, ref_of
from kb.model.team import KeyBefore, Ring, Signing
from kb.model.tolerance import Tolerance
from kb.notes.load import Notes

GOOD = Path(__file__).resolve().parents[1] / "data" / "entries" / "good"
OTHER_WORDS = "qq7 other words"
TEAM = {
    "safety": "Nobody works alone.",
    "short_below_ohm": 4.0,
    "voltage_tester": "bench-tester",
    "ring": [Ring(who="The office", when="At any hour.", number="112")],
    "signing": Signing(key="a" * 64, before=[KeyBefore(key="b" * 64, by="c" * 128)]),
}
RELEASE = ReleaseNote(number=3, date=datetime.date(2026, 1, 2), title="Third", words=["Read it."])
ALSO: tuple[tuple[str, str, dict[str, object]], ...] = (
    ("curves", "grows", {"tolerance": Tolerance(r_percent=2.0, r_percent_per_c=0.01)}),
    ("lessons", "second", {"order": 1.5}),
    ("cases", "2026-03-01-water", {"cause": Cause(what="water in the plug")}),
)
"""Entries beside the good ones, each like the first of its kind but for this."""
UNMADE = (ValueError, KeyError, TypeError, FileNotFoundError)
"""Nothing checks the changed value: where it breaks its page, another entry may bear it."""

Step = str | int
Way = tuple[Step, ...]


@dataclass(frozen=True)
class Field:
    """One field of a model, or of a block inside it."""

    model: type[BaseModel]
    names: tuple[str, ...]
    info: FieldInfo

    def __str__(self) -> str:
        return ".".join([self.model.__name__, *self.names])


def fields_of(model: type[BaseModel], block: type[BaseModel], above: Way = ()) -> Iterator[Field]:
    """Yield every field of a model that a file may hold, those of its blocks too."""
    for name, info in block.model_fields.items():
        names = (*above, name)
        if names == ("id",) or names == ("law",) or info.annotation is type(None):
            continue  # the file's name; the word that chooses the model; not used in this kind
        inner = inner_block(info.annotation)
        if inner is None:
            yield Field(model, names, info)
        else:
            yield from fields_of(model, inner, names)


def every_field() -> list[Field]:
    """Return the fields of every kind, every law, the team and the release."""
    models = [model for model in KINDS.values() if model is not Curve]
    found = [
        field for model in [*models, Curve, Team, ReleaseNote] for field in fields_of(model, model)
    ]
    shared = {field.names for field in fields_of(Curve, Curve)}
    for law in CURVE_LAWS.values():
        found += [field for field in fields_of(law, law) if field.names not in shared]
    return found


FIELDS = every_field()


@pytest.fixture(scope="module")
def notes() -> Notes:
    """The good notes, with words about safety and a release of their own."""
    read = check_notes(GOOD)
    assert read.problems == []
    assert read.team is not None
    read.team = read.team.model_copy(update=TEAM)
    read.release = RELEASE
    for kind, entry_id, update in ALSO:
        first = next(iter(read.entries[kind].values()))
        read.entries[kind][entry_id] = first.model_copy(update={"id": entry_id, **update})
        read.texts[(kind, entry_id)] = read.texts[(kind, first.id)]
    return read


@pytest.fixture(scope="module")
def before(notes: Notes) -> dict[str, str]:
    """What the pages say before anything is changed."""
    return pages_of(notes)


def pages_of(notes: Notes) -> dict[str, str]:
    """Return what each page of the notes says to somebody without scripts."""
    context = SiteContext(Catalog(notes))
    plan = plan_site(notes)
    coming = coming_release(context, history=[], pages=plan.pages)
    made = make_site(context, plan, charts={}, curves={}, coming=coming)
    return {path: read_without_scripts(text) for path, text in made.pages.items()}


def read_without_scripts(page: str) -> str:
    """Return a page without what only a script reads, and without the summary in its head."""
    shown = re.sub(
        r"<form[^>]* hidden[ >].*?</form>|<script.*?</script>", "", page, flags=re.DOTALL
    )
    shown = re.sub(r' data-[\w-]+="[^"]*"', "", shown)
    return re.sub(r"^summary: .*$", "", shown, flags=re.MULTILINE)


def ways_to(block: BaseModel, names: tuple[str, ...]) -> Iterator[Way]:
    """Yield the way to each place in a block where a field of these names stands."""
    name, *rest = names
    if name not in type(block).model_fields:
        return
    if not rest:
        yield (name,)
        return
    inner = getattr(block, name)
    several: list[tuple[Way, object]] = [((name,), inner)]
    if isinstance(inner, list):
        several = [((name, at), item) for at, item in enumerate(inner)]
    elif isinstance(inner, dict):
        several = [((name, key), item) for key, item in inner.items()]
    for way, item in several:
        if isinstance(item, BaseModel):
            yield from ((*way, *further) for further in ways_to(item, tuple(rest)))


def changed(value: object, way: Way, new: object) -> object:
    """Return a block, list or dict with another value at the end of the way; nothing is checked."""
    if not way:
        return new
    step, rest = way[0], way[1:]
    if isinstance(value, BaseModel):
        return value.model_copy(update={step: changed(getattr(value, str(step)), rest, new)})
    if isinstance(value, list):
        return [changed(item, rest, new) if at == step else item for at, item in enumerate(value)]
    assert isinstance(value, dict)
    return {key: changed(item, rest, new) if key == step else item for key, item in value.items()}


def at(value: object, way: Way) -> object:
    """Return what stands at the end of the way."""
    for step in way:
        value = getattr(value, str(step)) if isinstance(value, BaseModel) else value[step]  # type: ignore[index]
    return value


def others(info: FieldInfo, value: object, notes: Notes) -> list[object]:
    """Return values that the field could hold instead."""
    ref = ref_of(info.annotation, info.metadata)
    words = literal_words(info.annotation)
    if ref:
        ids = [other for other in notes.of_kind(ref.kind) if other not in (value, [value])]
        return [[ids[-1]] if isinstance(value, list) else ids[-1]]
    if words:
        return [word for word in words if word != value]
    if isinstance(value, dict):
        return [{key: other_number(inner) for key, inner in value.items()}]
    if isinstance(value, list):
        pairs = [tuple(map(other_number, item)) for item in value if isinstance(item, tuple)]
        numbers = [other_number(item) for item in value if isinstance(item, float)]
        empty = [5.0] if holds(info.annotation, float) else [OTHER_WORDS]
        return [pairs or numbers or empty]
    if isinstance(value, bool):
        return [not value]
    if isinstance(value, datetime.date):
        return [value + datetime.timedelta(days=400)]
    if isinstance(value, tuple):
        low, high = value
        return [(low + (high - low) / 8, high - (high - low) / 8)]
    if isinstance(value, int | float):
        return [other_number(value), type(value)(value + 1_000_000)]
    assert value is None or isinstance(value, str), f"say what else {info} can hold"
    if holds(info.annotation, tuple):
        return [(5.0, 45.0)]
    printed = re.fullmatch(r"(\d[\d.]*)(k?)(\d*)", value) if isinstance(value, str) else None
    printed = printed if value and re.search("[.k]", str(value)) else None
    if printed:
        # Printed figures are computed with, so they stay figures: the same with a digit more.
        digits, times, after = printed.groups()
        if after:
            return [f"{digits}{times}{after}0"]
        return [f"{digits}{'0' if '.' in digits else '.0'}{times}"]
    number = holds(info.annotation, int) or holds(info.annotation, float)
    return [7.0] if number and not holds(info.annotation, str) else [OTHER_WORDS]


def other_number(value: float) -> float:
    return value + 1 if isinstance(value, int) or not value else value * 0.97


def literal_words(annotation: object) -> tuple:
    if get_origin(annotation) is Literal:
        return get_args(annotation)
    return next((found for part in get_args(annotation) if (found := literal_words(part))), ())


def holds(annotation: object, plain: type) -> bool:
    return plain in (annotation, get_origin(annotation)) or any(
        holds(part, plain) for part in get_args(annotation)
    )


def variants(field: Field, notes: Notes) -> Iterator[tuple[Notes, Entry | None]]:
    """Yield the notes with the field changed, in one place after the other, and the new entry."""
    if field.model is Team or field.model is ReleaseNote:
        holder = "team" if field.model is Team else "release"
        block = getattr(notes, holder)
        for way in ways_to(block, field.names):
            for new in others(field.info, at(block, way), notes):
                yield with_changes(notes, **{holder: changed(block, way, new)}), None
        return
    assert issubclass(field.model, Entry)
    for entry in notes.of(field.model).values():
        for way in ways_to(entry, field.names) if isinstance(entry, field.model) else ():
            for value in others(field.info, at(entry, way), notes):
                new = changed(entry, way, value)
                assert isinstance(new, Entry)
                of_kind = {**notes.entries[entry.kind], entry.id: new}
                entries = {**notes.entries, entry.kind: of_kind}
                yield with_changes(notes, entries=entries), new


def with_changes(notes: Notes, **fields: object) -> Notes:
    return Notes(**{**vars(notes), **fields})  # type: ignore[arg-type]


def reaches(field: Field, notes: Notes, before: dict[str, str]) -> bool:
    """True when some page tells one value of the field from another."""
    tried = list(variants(field, notes))
    assert tried, f"no entry of tests/data/entries/good has a place for {field}: write one"
    # Its own page is made in no time and mostly says it; only then come all the others.
    return any(own_page_differs(*variant, before) for variant in tried) or any(
        any_page_differs(variant, before) for variant, _ in tried
    )


def own_page_differs(notes: Notes, entry: Entry | None, before: dict[str, str]) -> bool:
    if entry is None:
        return False
    try:
        page = make_entry(SiteContext(Catalog(notes)), entry, charts={}, curves={})
    except UNMADE:
        return False
    return read_without_scripts(page.markdown()) != before[page.path]


def any_page_differs(notes: Notes, before: dict[str, str]) -> bool:
    try:
        return pages_of(notes) != before
    except UNMADE:
        return False


@pytest.mark.parametrize("field", FIELDS, ids=str)
def test_a_change_of_the_field_can_be_read(
    field: Field, notes: Notes, before: dict[str, str]
) -> None:
    mark = off_page(field.info)
    if mark is None:
        assert reaches(field, notes, before), (
            f"no page shows {field}: show it, or mark it OffPage(why) in its model, or delete it"
        )
    else:
        assert mark.why.endswith(".")
        assert not reaches(field, notes, before), f"{field} is on a page: take its OffPage away"
