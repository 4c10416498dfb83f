"""Tell what changed inside an entry, field by field, in the words of the trade."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from typing import Any

from kb.model import CURVE_LAWS, KINDS, Curve
from kb.model.field_change import Changes, FieldChange
from kb.numbers.rounding import format_plain
from kb.words.catalogue import words
from kb.words.phrase import in_words, listed

from .changed_tolerance import tolerance_change

Block = Mapping[str, Any]
"""An entry, or a block inside it, as a release remembers it: plain JSON values."""
Names = Callable[[str, str], str]
"""(kind, id) → what it is called."""

UNITS = {"_min": " min", "minutes": " min", "_v": " V", "_k": " K"}
"""How a field's name ends → its unit."""
SHORT = 60
SENTENCE = 200
"""A longer text is better read on its own page."""
FEW = 3


def field_changes(
    kind: str, *, before: Block, now: Block, names: Names
) -> Iterator[tuple[str, str]]:
    """Yield (level, what changed) for each field of an entry that is different.

    Parameters
    ----------
    kind : str
    before, now : the entry's fields as plain values
    names : (kind, id) → what it is called
    """
    changes = _changes_of(kind)
    for field in sorted(before.keys() | now.keys()):
        was, is_ = before.get(field), now.get(field)
        change = changes.get(field, FieldChange("words", field.replace("_", " ")))
        if was == is_ or change.level == "told otherwise":
            continue
        texts = _special(kind, field, was=was, is_=is_, names=names)
        if texts is None:
            called = _called(kind, field, change)
            texts = [_plain(kind, field, called=called, was=was, is_=is_)]
        for text in texts:
            yield change.level, text


def _special(kind: str, field: str, *, was: object, is_: object, names: Names) -> list[str] | None:
    """Return what changed of a field that has words of its own; None where it has none.

    A record of another version may hold the field in another shape, and one of a host anything:
    then it is told as other fields are, never left out.
    """
    special = SPECIAL.get((kind, field))
    try:
        return list(special(was, is_, names)) if special else None
    except (KeyError, IndexError, TypeError, ValueError, AttributeError):
        return None


def _changes_of(kind: str) -> Changes:
    """Return how changes of a kind's fields are told; none of a kind that only older notes had."""
    models = [KINDS[kind]] if kind in KINDS else []
    if Curve in models:
        models += CURVE_LAWS.values()  # the law itself may be another now
    return {field: change for model in models for field, change in model.changes.items()}


def _called(kind: str, field: str, change: FieldChange) -> str:
    """Return what a field is called; as its model has it where the catalogue does not know it."""
    names = words()["changed-field"]
    return str(names.get(f"{kind}-{field}", names.get(field, change.called)))


def _plain(kind: str, field: str, *, called: str, was: object, is_: object) -> str:
    unit = next((unit for ending, unit in UNITS.items() if field.endswith(ending)), "")
    was, is_ = (_chosen(kind, field, side) for side in (was, is_))
    if isinstance(was, list) or isinstance(is_, list):
        return _list_change(called, _items(was), _items(is_))
    if was is None:
        if not _short(is_):
            return _said("added", called=called)
        return _said("added-value", called=called, value=f"{_number(is_)}{unit}")
    if is_ is None:
        return _said("out", called=called)
    if _short(was) and _short(is_):
        now, before = (f"{_number(side)}{unit}" for side in (is_, was))
        return _said("is", called=called, now=now, before=before)
    if isinstance(is_, str) and len(is_) <= SENTENCE:
        return _said("reworded-to", called=called, text=is_)
    return _said("reworded", called=called)


def _chosen(kind: str, field: str, value: object) -> object:
    """Return the words for what a field of choice says; any other value as it is.

    What the team's language has no words for is of older notes, and stands as it stood there.
    """
    section = CHOSEN.get((kind, field))
    return words()[section].get(str(value), value) if section else value


def _list_change(called: str, was: list, is_: list) -> str:
    come = [item for item in is_ if item not in was]
    gone = [item for item in was if item not in is_]
    if not come and not gone:
        return _said("order", called=called)
    if all(isinstance(item, int | float) for item in [*was, *is_]):
        return _said("span", called=called, now=_span(is_), before=_span(was))
    if len(come) == len(gone) == 1 and isinstance(come[0], str):
        return _said("reworded-to", called=called, text=come[0])
    if not all(isinstance(item, str) for item in come + gone) or len(come) + len(gone) > FEW:
        return _said("changed", called=called)
    items = [_said("item-added", item=item) for item in come]
    items += [_said("item-out", item=item) for item in gone]
    return _said("items", called=called, items="; ".join(items))


def _span(values: list) -> str:
    return _said("to").join(format_plain(value) for value in values) or _said("none")


def _short(value: object) -> bool:
    return isinstance(value, str | int | float) and len(str(value)) <= SHORT


def _number(value: object) -> str:
    return format_plain(value) if isinstance(value, float | int) else str(value)


def _block(value: object) -> Block:
    """Return a block of a record; an empty one where there is none."""
    return value if isinstance(value, dict) else {}


def _items(value: object) -> list:
    return value if isinstance(value, list) else []


def _plug(was: object, is_: object, names: Names) -> Iterator[str]:
    before, now = _block(was), _block(is_)
    if not before or not now:
        yield _said("plug", mark=now["mark"]) if now else _said("plug-out")
        return
    if before["board"] != now["board"]:
        yield _both("plug-board", before, now, lambda side: names("parts", str(side["board"])))
    if before["mark"] != now["mark"]:
        yield _both("plug-mark", before, now, lambda side: str(side["mark"]))
    if before.get("pins") != now.get("pins"):
        yield _both("plug-pins", before, now, _pins)
    if before.get("colour") != now.get("colour"):
        unsaid = _said("unsaid")
        yield _both("plug-colour", before, now, lambda side: str(side.get("colour", unsaid)))
    if before.get("shared_with") != now.get("shared_with"):
        others = listed([names("sensors", other) for other in _items(now.get("shared_with"))])
        yield _said("plug-shared", others=others or _said("none"))


def _pins(plug: Block) -> str:
    return listed(_items(plug.get("pins"))) or _said("unsaid")


def _curve(was: object, is_: object, names: Names) -> Iterator[str]:
    old, new = (names("curves", str(curve)) if curve else _said("none") for curve in (was, is_))
    yield _said("curve", now=new, before=old)


def _suspects(was: object, is_: object, names: Names) -> Iterator[str]:
    before, now = (
        {_suspect(suspect, names): suspect for suspect in _items(side)} for side in (was, is_)
    )
    for name in sorted(now.keys() - before.keys()):
        yield _said("suspect-new", name=name)
    for name in sorted(before.keys() - now.keys()):
        yield _said("suspect-gone", name=name)
    for name in sorted(now.keys() & before.keys()):
        for change in _within_suspect(before[name], now[name], names):
            yield _said("suspect", name=name, change=change)
    if before == now and was != is_:
        yield _said("suspects-order")


def _within_suspect(before: Block, now: Block, names: Names) -> Iterator[str]:
    for field in ("share", "minutes"):
        if before.get(field) != now.get(field):
            old, new = (_number(side.get(field)) for side in (before, now))
            yield _said(f"suspect-{field}", now=new, before=old)
    if before.get("method") != now.get("method"):
        yield _both(
            "suspect-method",
            before,
            now,
            lambda side: names("methods", side["method"]) if side.get("method") else _said("none"),
        )
    if before.get("look_for") != now.get("look_for"):
        yield _said("suspect-look")


def _suspect(suspect: Block, names: Names) -> str:
    for field in ("sensor", "part"):
        if suspect.get(field):
            return names(f"{field}s", str(suspect[field]))
    return str(suspect.get("what"))


def _untestable(was: object, is_: object, _: Names) -> Iterator[str]:
    if not was:
        yield _said("untestable", why=_block(is_)["why"])
    elif not is_:
        yield _said("testable")
    else:
        yield _said("untestable-why")


def _insulation(was: object, is_: object, _: Names) -> Iterator[str]:
    before, now = _block(was), _block(is_)
    if not before or not now:
        yield _said("insulation" if now else "insulation-out")
        return
    old_ohm, new_ohm = (float(str(side["min_ohm"])) for side in (before, now))
    if old_ohm != new_ohm:
        yield _said("insulation-least", now_ohm=new_ohm, before_ohm=old_ohm)
    if before["test_v"] != now["test_v"]:
        yield _both(
            "insulation-volts", before, now, lambda side: format_plain(float(str(side["test_v"])))
        )
    if before["disconnect"] != now["disconnect"]:
        yield _said("insulation-first", what=str(now["disconnect"]))


def shown_as(way: Block) -> str:
    """Return one way a code is shown, in words."""
    blinks = _block(_block(way).get("blinks"))
    if not blinks:
        return str(_block(way).get("text") or _block(way).get("asked") or "")
    return " ".join(
        _said(f"blinks-{length}", count=blinks[length])
        for length in ("long", "short")
        if blinks.get(length)
    )


def _shown(was: object, is_: object, _: Names) -> Iterator[str]:
    old, new = (", ".join(map(shown_as, _items(side))) for side in (was, is_))
    yield _said("shown", now=new, before=old)


def _both(name: str, before: Block, now: Block, shown: Callable[[Block], str]) -> str:
    """Return what stands now, and what stood before."""
    return _said(name, now=shown(now), before=shown(before))


def _said(name: str, /, **figures: object) -> str:
    return in_words(f"changed.{name}", **figures)


def _tolerance(was: object, is_: object, _: Names) -> Iterator[str]:
    yield from tolerance_change(_block(was), now=_block(is_))


CHOSEN = {
    ("sensors", "reach"): "value-reach",
    ("codes", "stops"): "short-stops",
    ("methods", "judges"): "value-judges",
    ("methods", "live"): "short-live",
    ("instruments", "is_a"): "value-instrument",
    ("parts", "is_a"): "value-part",
    ("curves", "law"): "short-law",
}
"""(kind, field that chooses from words) → the section that says them in a few words."""

SPECIAL: dict[tuple[str, str], Callable[[object, object, Names], Iterator[str]]] = {
    ("sensors", "plug"): _plug,
    ("sensors", "curve"): _curve,
    ("sensors", "untestable"): _untestable,
    ("codes", "suspects"): _suspects,
    ("codes", "shown"): _shown,
    ("parts", "insulation"): _insulation,
    ("curves", "tolerance"): _tolerance,
}
"""Fields that are told in words of their own."""

for _kind, _field in [*SPECIAL, *CHOSEN]:
    if _field not in KINDS[_kind].model_fields:
        raise ImportError(f"{__name__} words '{_field}' of {_kind}, which is no field")
