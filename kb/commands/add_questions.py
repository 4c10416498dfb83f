"""What `ohmfolio add` asks for each kind, in which order, and what is offered."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from kb.columns.column import Column, columns_of
from kb.columns.values import Value, at
from kb.examples import own_ids
from kb.model import KINDS
from kb.model.words import tidy_id
from kb.notes.load import Notes

ASKED: Mapping[str, tuple[str, ...]] = {
    "sources": ("name", "title", "publisher", "edition", "year"),
    "families": (
        "name",
        "source",
        "maker",
        "does",
        "supply.volts",
        "supply.isolate_at",
        "drain_min",
        "no_charge",
        "drained_below_v",
        "drain_at",
    ),
    "curves": ("name", "source", "range_c.0", "range_c.1", "tolerance.r_percent"),
    "sensors": (
        "family",
        "source",
        "label",
        "senses",
        "place",
        "reach",
        "curve",
        "meets_c.0",
        "meets_c.1",
        "healthy.#.when",
        "healthy.#.reads",
        "plug.mark",
    ),
    "codes": (
        "family",
        "source",
        "shown.#.text",
        "shown.#.blinks.long",
        "shown.#.blinks.short",
        "shown.#.blinks.lamp",
        "meaning",
        "suspects.#.thing",
        "suspects.#.minutes",
        "suspects.#.share",
        "clear",
    ),
    "parts": ("families", "source", "name", "is_a", "does"),
    "instruments": (
        "name",
        "source",
        "is_a",
        "resistance.#.span",
        "resistance.#.resolution",
        "resistance.#.percent",
        "resistance.#.digits",
        "temperature.accuracy_k",
        "temperature.resolution_k",
        "temperature.range_c.0",
        "temperature.range_c.1",
        "insulation.#.volts",
        "insulation.#.max_ohm",
        "insulation.#.percent",
        "rated.category",
        "rated.volts",
    ),
    "drawings": ("family", "source", "name", "described", "photo", "pins"),
    "lessons": ("name", "source", "order", "minutes", "about", "steps.#.read", "steps.#.why"),
}
"""Kind → the fields that are asked for; of another kind, those it cannot do without."""
NEW_EACH_TIME: Mapping[str, tuple[str, ...]] = {
    "sensors": ("label", "senses", "place", "pinned", "plug", "aka"),
    "codes": ("shown", "meaning", "aka"),
}
"""What an entry that is like another does not take from it; of another kind, its name."""
MAY_STAY_EMPTY = (
    "edition",
    "year",
    "where",
    "curve",
    "plug.mark",
    "tolerance.r_percent",
    "shown.#.text",
    "shown.#.blinks.long",
    "shown.#.blinks.short",
    "steps.#.read",
    "steps.#.why",
)
"""Fields whose question may be answered by nothing."""
IS_MADE_FOR = {
    "resistance": "meter",
    "temperature": "thermometer",
    "insulation": "insulation tester",
    "rated": "voltage tester",
}
"""What an instrument says of itself → the one that cannot do without."""
OFFERED = 12
"""So many entries are shown to choose from; more are found by a word of their name."""


@dataclass(frozen=True)
class Offer:
    """What can be chosen: what is written, and what it is."""

    written: str
    words: str


def asked_columns(kind: str, *, law: str = "") -> list[Column]:
    """Return what is asked of a kind, in order."""
    columns = columns_of(kind, law=law)
    names = ASKED.get(kind) or tuple(column.field for column in columns if column.needed)
    by_field = {column.field: column for column in columns}
    found = [by_field[name] for name in names if name in by_field]
    if law:
        needed = [column for column in columns if column.needed and column not in found]
        found[2:2] = needed
    return found


def needless(column: Column, *, value: Value, number: int = 1) -> bool:
    """Return whether a question answers itself by what was answered before."""
    curve = at(value, way=("curve",)) is not None
    text = at(value, way=("shown", 0, "text")) is not None
    match column.field:
        case "meets_c.0" | "meets_c.1":
            return not curve
        case "healthy.#.when" | "healthy.#.reads":
            return curve or at(value, way=("untestable",)) is not None
        case "shown.#.text":
            return at(value, way=("shown", 0)) is not None
        case "shown.#.blinks.long" | "shown.#.blinks.short" | "shown.#.blinks.lamp":
            return text or at(value, way=("shown", 0, "asked")) is not None
        case "no_charge":
            return at(value, way=("drain_min",)) != "0"
        case "photo":
            return at(value, way=("shapes",)) is not None
        case "suspects.#.share":
            return number == 1 and len(_list(value, "suspects")) < 2
    made_for = IS_MADE_FOR.get(column.field.partition(".")[0])
    return made_for is not None and column.kind == "instruments" and made_for != value.get("is_a")


def _list(value: Value, name: str) -> list[object]:
    found = value.get(name)
    return found if isinstance(found, list) else []


def offers(column: Column, *, value: Value, notes: Notes) -> list[Offer]:
    """Return what there is to choose from: entries of a kind, or plugs that are free."""
    if column.field == "plug.mark":
        return free_plugs(value, notes=notes)
    if column.holds == "suspect":
        return [
            Offer(entry_id, entry.name)
            for kind in ("sensors", "parts")
            for entry_id, entry in notes.of_kind(kind).items()
            if at(value, way=("family",)) in entry.family_ids
        ]
    if not column.ref:
        return []
    family = at(value, way=("family",))
    own = own_ids(notes, kind=column.ref)
    return [
        Offer(entry_id, entry.name)
        for entry_id, entry in notes.of_kind(column.ref).items()
        if entry_id in own
        if not entry.family_ids or family in (None, *entry.family_ids) or column.ref == "families"
    ]


def free_plugs(value: Value, *, notes: Notes) -> list[Offer]:
    """Return the plugs of the family's boards that no sensor has yet."""
    family = at(value, way=("family",))
    taken = set()
    for sensor_id in notes.of_kind("sensors"):
        plug = at(notes.texts[("sensors", sensor_id)].value, way=("plug",))
        taken.add((at(plug, way=("board",)), at(plug, way=("mark",))))
    found = []
    for part_id, part in notes.of_kind("parts").items():
        stands = notes.texts[("parts", part_id)].value
        if family not in part.family_ids or at(stands, way=("is_a",)) != "board":
            continue
        lines = at(stands, way=("refit",))
        for line in lines if isinstance(lines, list) else []:
            mark = at(line, way=("mark",))
            if at(line, way=("is_a",)) == "plug" and mark and (part_id, mark) not in taken:
                found.append(Offer(str(mark), f"{at(line, way=('what',))} ({part_id})"))
    return found


def board_of(mark: str, *, value: Value, notes: Notes) -> str:
    """Return the board that has a plug, or the family's only board; empty if nothing says."""
    family = at(value, way=("family",))
    boards = [
        (part_id, notes.texts[("parts", part_id)].value)
        for part_id, part in notes.of_kind("parts").items()
        if family in part.family_ids
    ]
    boards = [(part_id, text) for part_id, text in boards if at(text, way=("is_a",)) == "board"]
    for part_id, text in boards:
        lines = at(text, way=("refit",))
        if any(
            at(line, way=("mark",)) == mark for line in (lines if isinstance(lines, list) else [])
        ):
            return part_id
    return boards[0][0] if len(boards) == 1 else ""


def flag(column: Column, *, number: int = 1) -> str:
    """Return the flag that answers a column's question."""
    return "--" + tidy_id(column.called(number).replace("Ω", " ohm").replace("%", " percent"))


def kind_named(word: str) -> str:
    """Return the kind of a word, `sensor` or `sensors`; empty if it is none."""
    for kind, model in KINDS.items():
        if word.casefold() in (kind, model.noun):
            return kind
    return ""


NEXT: Mapping[str, str] = {
    "sources": "ohmfolio add family, or cite it where its facts stand",
    "families": "ohmfolio add curve, then ohmfolio add sensor",
    "curves": "ohmfolio add sensor",
    "sensors": "ohmfolio add code, or ohmfolio check",
    "codes": "ohmfolio check, then ohmfolio build or ohmfolio pocket",
    "parts": "ohmfolio add sensor, or ohmfolio check",
}
"""Kind → what is done next."""
