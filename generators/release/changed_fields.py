"""Tell what changed inside an entry, field by field, in the words of the trade."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping

from kb.numbers.rounding import format_ohm, format_plain

Entry = Mapping[str, object]
Names = Callable[[str, str], str]
"""(kind, id) → what it is called."""

FIELD_LEVELS: dict[str, dict[str, str]] = {
    "families": {
        "drain_min": "safety",
        "drained_below_v": "safety",
        "drain_at": "safety",
        "no_charge": "safety",
        "supply": "safety",
        "cautions": "safety",
        "refrigerant": "safety",
    },
    "methods": {"cautions": "safety", "live": "safety", "not_when": "safety"},
    "parts": {
        "cautions": "safety",
        "insulation": "safety",
        "windings": "numbers",
        "refit": "places",
        "replace": "places",
        "order": "places",
        "pinned": "places",
        "prove": "places",
        "rule_out": "codes",
    },
    "sensors": {
        "plug": "places",
        "place": "places",
        "reach": "places",
        "reach_how": "places",
        "pinned": "places",
        "curve": "numbers",
        "allow_k": "numbers",
        "meets_c": "numbers",
        "healthy": "numbers",
        "board_input": "numbers",
        "untestable": "codes",
        "label": "places",
        "order": "places",
        "methods": "codes",
    },
    "codes": {
        "suspects": "codes",
        "shown": "codes",
        "trip": "codes",
        "meaning": "codes",
        "ask": "codes",
        "rule_out": "codes",
        "clear": "codes",
        "stops": "codes",
        "afterwards": "codes",
    },
    "curves": {"tolerance": "numbers", "range_c": "numbers", "law": "numbers"},
    "instruments": {
        "cautions": "safety",
        "resistance": "numbers",
        "temperature": "numbers",
        "insulation": "numbers",
        "leads_ohm": "numbers",
    },
}
"""Kind → field → what a change of it is about; every other field is `words`."""

UNTOLD = {
    "curves": {"points", "a", "b", "c", "d", "r_ref", "b_k", "at_c", "r0"},
    "codes": {"name"},
    "sensors": {"name"},
}
"""What is told otherwise: a curve by how it moved, a code and a sensor by what they are called."""
NEVER_TOLD = {"name", "aka", "checked", "source"}
SAID = {
    "drain_min": "minutes to wait for stored charge",
    "drained_below_v": "drained below",
    "no_charge": "why nothing is stored",
    "drain_at": "where to measure the drain",
    "meets_c": "temperatures it meets",
    "allow_k": "kelvin the machine allows",
    "range_c": "range",
    "reach_how": "how to reach it",
    "rule_out": "what to rule out first",
    "not_when": "when not to use it",
    "board_input": "the board's input",
    "healthy": "what it reads when healthy",
    "live": "machine",
    "aka": "other names",
    "does": "what it does",
    "is_a": "what it is",
    "when_good": "what follows when it is right",
    "when_bad": "what follows when it is wrong",
    "dear": "dear enough to rule others out first",
    "labour_min": "minutes to replace it",
    "afterwards": "what to watch afterwards",
    "pinned": "place on the drawing",
    "clear": "how to clear it",
    "stops": "what the machine does",
    "trip": "what raises it",
    "prove": "what proves the repair",
    "replace": "how to replace it",
    "shapes": "drawing",
}
UNITS = {
    "drain_min": " min",
    "drained_below_v": " V",
    "allow_k": " K",
    "labour_min": " min",
    "minutes": " min",
}
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
    for field in sorted(before.keys() | now.keys()):
        was, is_ = before.get(field), now.get(field)
        if was == is_ or field in NEVER_TOLD | UNTOLD.get(kind, set()):
            continue
        level = FIELD_LEVELS.get(kind, {}).get(field, "words")
        special = SPECIAL.get((kind, field))
        if special:
            for text in special(was, is_, names):
                yield level, text
        else:
            yield level, _plain(field, was, is_)


def _plain(field: str, was: object, is_: object) -> str:
    said = SAID.get(field, field.replace("_", " "))
    unit = UNITS.get(field, "")
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
