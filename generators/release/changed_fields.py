"""Tell what changed inside an entry, field by field, in the words of the trade."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from typing import Any

from kb.model import CURVE_LAWS, KINDS, Curve
from kb.model.field_change import Changes, FieldChange
from kb.numbers.rounding import format_ohm, format_plain

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
        special = SPECIAL.get((kind, field))
        if special:
            for text in special(was, is_, names):
                yield change.level, text
        else:
            yield change.level, _plain(field, change.called, was, is_)


def _changes_of(kind: str) -> Changes:
    """Return how changes of a kind's fields are told; none of a kind that only older notes had."""
    models = [KINDS[kind]] if kind in KINDS else []
    if Curve in models:
        models += CURVE_LAWS.values()  # the law itself may be another now
    return {field: change for model in models for field, change in model.changes.items()}


def _plain(field: str, called: str, was: object, is_: object) -> str:
    unit = next((unit for ending, unit in UNITS.items() if field.endswith(ending)), "")
    if isinstance(was, list) or isinstance(is_, list):
        return _list_change(called, _items(was), _items(is_))
    if was is None:
        return f"{called} added: {_number(is_)}{unit}" if _short(is_) else f"{called} added"
    if is_ is None:
        return f"{called} taken out"
    if _short(was) and _short(is_):
        return f"{called} is {_number(is_)}{unit}, not {_number(was)}{unit}"
    if isinstance(is_, str) and len(is_) <= SENTENCE:
        return f"{called} reworded: {is_}"
    return f"{called} reworded"


def _list_change(called: str, was: list, is_: list) -> str:
    come = [item for item in is_ if item not in was]
    gone = [item for item in was if item not in is_]
    if not come and not gone:
        return f"{called}: in another order"
    if all(isinstance(item, int | float) for item in [*was, *is_]):
        return f"{called} {_span(is_)}, not {_span(was)}"
    if len(come) == len(gone) == 1 and isinstance(come[0], str):
        return f"{called} reworded: {come[0]}"
    if not all(isinstance(item, str) for item in come + gone) or len(come) + len(gone) > FEW:
        return f"{called} changed"
    items = [f"added: {item}" for item in come] + [f"taken out: {item}" for item in gone]
    return f"{called}, " + "; ".join(items)


def _span(values: list) -> str:
    return " to ".join(f"{format_plain(value)}" for value in values) or "none"


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
        yield f"plug is {now['mark']}" if now else "plug taken out"
        return
    if before["board"] != now["board"]:
        old, new = (names("parts", str(side["board"])) for side in (before, now))
        yield f"plugs into {new}, not {old}"
    if before["mark"] != now["mark"]:
        yield f"plug is {now['mark']}, not {before['mark']}"
    if before.get("pins") != now.get("pins"):
        yield f"pins {_pins(now)}, not {_pins(before)}"
    if before.get("colour") != now.get("colour"):
        old, new = (side.get("colour", "not said") for side in (before, now))
        yield f"colour is {new}, not {old}"
    if before.get("shared_with") != now.get("shared_with"):
        others = " and ".join(names("sensors", other) for other in _items(now.get("shared_with")))
        yield f"shares its pins with {others or 'none'}"


def _pins(plug: Block) -> str:
    return " and ".join(_items(plug.get("pins"))) or "not said"


def _curve(was: object, is_: object, names: Names) -> Iterator[str]:
    old, new = (names("curves", str(curve)) if curve else "none" for curve in (was, is_))
    yield f"curve is {new}, not {old}"


def _suspects(was: object, is_: object, names: Names) -> Iterator[str]:
    before, now = (
        {_suspect(suspect, names): suspect for suspect in _items(side)} for side in (was, is_)
    )
    for name in sorted(now.keys() - before.keys()):
        yield f"new suspect: {name}"
    for name in sorted(before.keys() - now.keys()):
        yield f"no longer a suspect: {name}"
    for name in sorted(now.keys() & before.keys()):
        for change in _within_suspect(before[name], now[name], names):
            yield f"{name}: {change}"
    if before == now and was != is_:
        yield "suspects in another order"


def _within_suspect(before: Block, now: Block, names: Names) -> Iterator[str]:
    for field, called in (("share", "share"), ("minutes", "minutes to check")):
        if before.get(field) != now.get(field):
            yield f"{called} {_number(now.get(field))}, not {_number(before.get(field))}"
    if before.get("method") != now.get("method"):
        old, new = (
            names("methods", str(side["method"])) if side.get("method") else "none"
            for side in (before, now)
        )
        yield f"method {new}, not {old}"
    if before.get("look_for") != now.get("look_for"):
        yield "what to look for reworded"


def _suspect(suspect: Block, names: Names) -> str:
    for field in ("sensor", "part"):
        if suspect.get(field):
            return names(f"{field}s", str(suspect[field]))
    return str(suspect.get("what"))


def _untestable(was: object, is_: object, _: Names) -> Iterator[str]:
    if not was:
        yield f"cannot be tested any more: {_block(is_)['why']}"
    elif not is_:
        yield "can be tested now"
    else:
        yield "why it cannot be tested, reworded"


def _insulation(was: object, is_: object, _: Names) -> Iterator[str]:
    before, now = _block(was), _block(is_)
    if not before or not now:
        yield "insulation limit added" if now else "insulation limit taken out"
        return
    old_ohm, new_ohm = (float(str(side["min_ohm"])) for side in (before, now))
    if old_ohm != new_ohm:
        yield f"least insulation {format_ohm(new_ohm)}, not {format_ohm(old_ohm)}"
    if before["test_v"] != now["test_v"]:
        before_v, now_v = (format_plain(float(str(side["test_v"]))) for side in (before, now))
        yield f"insulation test at {now_v} V, not {before_v} V"
    if before["disconnect"] != now["disconnect"]:
        yield f"before the insulation test disconnect: {now['disconnect']}"


def shown_as(way: Block) -> str:
    """Return one way a code is shown, in words."""
    blinks = _block(way.get("blinks"))
    if not blinks:
        return str(way.get("text") or way.get("asked") or "")
    counts = [f"{blinks[length]} {length}" for length in ("long", "short") if blinks.get(length)]
    return " ".join(counts)


def _shown(was: object, is_: object, _: Names) -> Iterator[str]:
    old, new = (", ".join(map(shown_as, _items(side))) for side in (was, is_))
    yield f"shown as {new}, not {old}"


def _tolerance(was: object, is_: object, _: Names) -> Iterator[str]:
    yield from tolerance_change(_block(was), now=_block(is_))


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

for _kind, _field in SPECIAL:
    if _field not in KINDS[_kind].model_fields:
        raise ImportError(f"{__name__}: SPECIAL words '{_field}' of {_kind}, which is no field")
