"""An entry's value, taken apart into cells and put together from them."""

from __future__ import annotations

import copy
import itertools
from collections.abc import Callable, Mapping, Sequence

from kb.model.words import tidy_id

from .column import ITEM, Column

Way = tuple[str | int, ...]
Value = dict[str, object]
Meant = Callable[[str], tuple[str, str]]
"""From what a cell says of a suspect to `sensor` or `part` and its id, or `what` and the words."""


def at(value: object, *, way: Way) -> object:
    """Return what stands at the end of a way; None where nothing does."""
    for step in way:
        if isinstance(value, Mapping) and isinstance(step, str):
            value = value.get(step)
        elif isinstance(value, list) and isinstance(step, int) and step < len(value):
            value = value[step]
        else:
            return None
    return value


def with_value(value: Value, *, way: Way, new: object) -> Value:
    """Return a value with something else at the end of a way; None takes it out.

    Lists grow by empty items where a later one is named; `without_gaps` takes them out again.
    What is not on the way is shared with the value given, which stays as it is.
    """
    value = dict(value)
    holder: object = value
    for step, following in itertools.pairwise(way):
        empty: object = [] if isinstance(following, int) else {}
        inner = copy.copy(_entered(holder, step, empty))
        holder = _entered(holder, step, inner, replace=True)
    _entered(holder, way[-1], new, replace=True)
    return value


def _entered(holder: object, step: str | int, empty: object, *, replace: bool = False) -> object:
    """Return what stands behind a step, made when it is not there."""
    if isinstance(holder, dict):
        if replace or not isinstance(holder.get(str(step)), dict | list):
            holder[str(step)] = empty
        return holder[str(step)]
    assert isinstance(holder, list) and isinstance(step, int)
    holder.extend(None for _ in range(step + 1 - len(holder)))
    if replace or not isinstance(holder[step], dict | list):
        holder[step] = empty
    return holder[step]


def without_gaps(value: object) -> object:
    """Return a value without empty fields, blocks and items."""
    if isinstance(value, dict):
        kept = {key: without_gaps(inner) for key, inner in value.items()}
        return {key: inner for key, inner in kept.items() if not _nothing(inner)}
    if isinstance(value, list):
        return [item for item in map(without_gaps, value) if not _nothing(item)]
    return value


def _nothing(value: object) -> bool:
    return value is None or value == {} or value == []


def in_cells(value: Mapping[str, object]) -> Value:
    """Return an entry's value as columns see it: one `thing` for each suspect, lists as lists."""
    seen: Value = copy.deepcopy(dict(value))
    suspects = seen.get("suspects")
    for suspect in suspects if isinstance(suspects, list) else []:
        if isinstance(suspect, dict):
            for word in ("sensor", "part", "what"):
                if word in suspect:
                    suspect["thing"] = suspect.pop(word)
                    break
    return seen


def in_file(value: Value, *, meant: Meant) -> Value:
    """Return a value as its file holds it: each suspect named by what it is, each way an item."""
    made: Value = copy.deepcopy(value)
    suspects = made.get("suspects")
    for at_item, suspect in enumerate(suspects if isinstance(suspects, list) else []):
        if isinstance(suspect, dict) and "thing" in suspect:
            thing = str(suspect.pop("thing"))
            word, named = meant(thing)
            suspects[at_item] = {word: named, **suspect}  # type: ignore[index]
    shown = made.get("shown")
    if isinstance(shown, list):
        made["shown"] = [way for item in shown for way in _ways(item)]
    return made


def _ways(item: object) -> list[object]:
    """Return each way of showing a code as an item of its own, where one row named several."""
    if not isinstance(item, dict):
        return [item]
    named = [name for name in ("text", "blinks", "asked") if item.get(name) is not None]
    if len(named) < 2:
        return [item]
    # Where it is shown belongs to the text; a lamp says itself where it is.
    others = [{name: item[name]} for name in named if name != "text"]
    first = {name: item[name] for name in ("where", "text") if name in item}
    ways: list[object] = [first] if "text" in named else []
    return [*ways, *others]


def items_of(value: Mapping[str, object], *, column: Column) -> int:
    """Return how many items the list of a column has."""
    if not column.repeats:
        return 1
    found = at(value, way=tuple(column.field.partition(f".{ITEM}")[0].split(".")))
    return len(found) if isinstance(found, list) else 0


def id_for(kind: str, *, value: Mapping[str, object]) -> str:
    """Return the id that an entry would have: its family's and its mark; may be empty."""
    family = str(at(value, way=("family",)) or at(value, way=("families", 0)) or "")
    if kind == "sensors":
        mark = str(value.get("label") or "")
    elif kind == "codes":
        mark = shown_mark(at(value, way=("shown", 0)))
    elif kind == "parts":
        mark = str(value.get("name") or "")
    else:
        return tidy_id(str(value.get("name") or value.get("title") or ""))
    return tidy_id(f"{family} {mark}") if mark else ""


def shown_mark(way: object) -> str:
    """Return how a code is called by the first way it is shown."""
    if not isinstance(way, Mapping):
        return ""
    blinks = way.get("blinks")
    if isinstance(blinks, Mapping) and not way.get("text"):
        counts = [
            f"{blinks[length]}{sign}"
            for length, sign in (("long", "L"), ("short", "S"))
            if blinks.get(length) not in (None, "0")
        ]
        return " ".join(counts)
    return str(way.get("text") or way.get("asked") or "")


def name_for(kind: str, *, value: Mapping[str, object]) -> str:
    """Return what an entry may be called when nobody gave it a name."""
    if kind == "sensors":
        words: Sequence[object] = (value.get("label"), value.get("senses"))
    elif kind == "codes":
        meaning = str(value.get("meaning") or "").partition(".")[0]
        words = (shown_mark(at(value, way=("shown", 0))), meaning[:1].lower() + meaning[1:])
    else:
        words = (value.get("title"),)
    return " ".join(str(word) for word in words if word)
