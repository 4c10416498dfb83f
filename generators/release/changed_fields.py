"""Tell what changed inside an entry, field by field, in the words of the trade."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping

from kb.model import CURVE_LAWS, KINDS, Curve
from kb.model.field_change import Changes, FieldChange
from kb.numbers.rounding import format_ohm, format_plain

Entry = Mapping[str, object]
Names = Callable[[str, str], str]
"""(kind, id) → what it is called."""

UNITS = {"_min": " min", "minutes": " min", "_v": " V", "_k": " K"}
"""How a field's name ends → its unit."""
SHORT = 60
SENTENCE = 200
"""A longer text is better read on its own page."""
FEW = 3


def field_changes(
    kind: str, before: Entry, now: Entry, *, names: Names
) -> Iterator[tuple[str, str]]:
    """Yield (level, what changed) for each field of an entry that is different.

    Parameters
    ----------
    kind : str
    before, now : the entry's fields as plain values
    names : (kind, id) → what it is called
    """
    told = _changes_of(kind)
    for field in sorted(before.keys() | now.keys()):
        was, is_ = before.get(field), now.get(field)
        change = told.get(field, FieldChange("words", field.replace("_", " ")))
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


def _plain(field: str, said: str, was: object, is_: object) -> str:
    unit = next((unit for ending, unit in UNITS.items() if field.endswith(ending)), "")
    if isinstance(was, list) or isinstance(is_, list):
        return _list_change(said, was or [], is_ or [])
    if was is None:
        return f"{said} added: {_number(is_)}{unit}" if _short(is_) else f"{said} added"
    if is_ is None:
        return f"{said} taken out"
    if _short(was) and _short(is_):
        return f"{said} is {_number(is_)}{unit}, not {_number(was)}{unit}"
    if isinstance(is_, str) and len(is_) <= SENTENCE:
        return f"{said} reworded: {is_}"
    return f"{said} reworded"


def _list_change(said: str, was: list, is_: list) -> str:
    come = [one for one in is_ if one not in was]
    gone = [one for one in was if one not in is_]
    if not come and not gone:
        return f"{said}: in another order"
    if all(isinstance(one, int | float) for one in [*was, *is_]):
        return f"{said} {_span(is_)}, not {_span(was)}"
    if len(come) == len(gone) == 1 and isinstance(come[0], str):
        return f"{said} reworded: {come[0]}"
    if not all(isinstance(one, str) for one in come + gone) or len(come) + len(gone) > FEW:
        return f"{said} changed"
    told = [f"added: {one}" for one in come] + [f"taken out: {one}" for one in gone]
    return f"{said}, " + "; ".join(told)


def _span(values: list) -> str:
    return " to ".join(format_plain(one) for one in values) or "none"


def _short(value: object) -> bool:
    return isinstance(value, str | int | float) and len(str(value)) <= SHORT


def _plug(was: Entry | None, is_: Entry | None, names: Names) -> Iterator[str]:
    if not was or not is_:
        yield f"plug is {is_['mark']}" if is_ else "plug taken out"
        return
    if was["board"] != is_["board"]:
        yield f"plugs into {names('parts', is_['board'])}, not {names('parts', was['board'])}"
    if was["mark"] != is_["mark"]:
        yield f"plug is {is_['mark']}, not {was['mark']}"
    if was.get("pins") != is_.get("pins"):
        yield f"pins {_joined(is_)}, not {_joined(was)}"
    if was.get("colour") != is_.get("colour"):
        yield f"colour is {is_.get('colour', 'not said')}, not {was.get('colour', 'not said')}"


def _joined(plug: Entry) -> str:
    return " and ".join(plug.get("pins") or []) or "not said"


def _curve(was: str | None, is_: str | None, names: Names) -> Iterator[str]:
    told = [names("curves", one) if one else "none" for one in (is_, was)]
    yield f"curve is {told[0]}, not {told[1]}"


def _suspects(was: list[Entry], is_: list[Entry], names: Names) -> Iterator[str]:
    before, now = ({_suspect(one, names): one for one in side or []} for side in (was, is_))
    for one in sorted(now.keys() - before.keys()):
        yield f"new suspect: {one}"
    for one in sorted(before.keys() - now.keys()):
        yield f"no longer a suspect: {one}"
    for one in sorted(now.keys() & before.keys()):
        for field, said in (
            ("share", "share"),
            ("minutes", "minutes to check"),
            ("method", "method"),
            ("look_for", "what to look for"),
        ):
            a, b = before[one].get(field), now[one].get(field)
            if a == b:
                continue
            if field == "method":
                a, b = (names("methods", told) if told else "none" for told in (a, b))
            yield (
                f"{one}: {said} reworded"
                if field == "look_for"
                else (f"{one}: {said} {_number(b)}, not {_number(a)}")
            )
    if before == now and was != is_:
        yield "suspects in another order"


def _suspect(one: Entry, names: Names) -> str:
    for field in ("sensor", "part"):
        if one.get(field):
            return names(f"{field}s", one[field])
    return str(one.get("what"))


def _number(value: object) -> str:
    return format_plain(value) if isinstance(value, float | int) else str(value)


def _untestable(was: Entry | None, is_: Entry | None, _: Names) -> Iterator[str]:
    if not was:
        yield f"cannot be tested any more: {is_['why']}"
    elif not is_:
        yield "can be tested now"
    else:
        yield "why it cannot be tested, reworded"


def _insulation(was: Entry | None, is_: Entry | None, _: Names) -> Iterator[str]:
    if not was or not is_:
        yield "insulation limit added" if is_ else "insulation limit taken out"
        return
    if was["min_ohm"] != is_["min_ohm"]:
        yield f"least insulation {format_ohm(is_['min_ohm'])}, not {format_ohm(was['min_ohm'])}"
    if was["test_v"] != is_["test_v"]:
        yield (
            f"insulation test at {format_plain(is_['test_v'])} V, not "
            f"{format_plain(was['test_v'])} V"
        )
    if was["disconnect"] != is_["disconnect"]:
        yield f"before the insulation test disconnect: {is_['disconnect']}"


def shown_as(way: Entry) -> str:
    """Return one way a code is shown, in words."""
    blinks = way.get("blinks")
    if not blinks:
        return str(way.get("text") or way.get("asked") or "")
    told = [f"{blinks[one]} {one}" for one in ("long", "short") if blinks.get(one)]
    return " ".join(told)


def _shown(was: list[Entry], is_: list[Entry], _: Names) -> Iterator[str]:
    yield f"shown as {', '.join(map(shown_as, is_))}, not {', '.join(map(shown_as, was))}"


SPECIAL: dict[tuple[str, str], Callable[[object, object, Names], Iterator[str]]] = {
    ("sensors", "plug"): _plug,
    ("sensors", "curve"): _curve,
    ("sensors", "untestable"): _untestable,
    ("codes", "suspects"): _suspects,
    ("codes", "shown"): _shown,
    ("parts", "insulation"): _insulation,
}
"""Fields that are told in words of their own."""

for _kind, _field in SPECIAL:
    if _field not in KINDS[_kind].model_fields:
        raise ImportError(f"{__name__}: SPECIAL words '{_field}' of {_kind}, which is no field")
