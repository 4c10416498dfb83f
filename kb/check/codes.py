"""No two codes of a family look alike, and a code's trip limits fit its sensor."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import suppress

from kb.answers.normal_form import normal_form
from kb.characteristics import characteristic_of
from kb.model import Code, Curve, Sensor
from kb.model.code import Blinks, Shown, Trip, blinks_in_words
from kb.notes.load import Notes
from kb.notes.problem import Problem
from kb.numbers.characteristic import Characteristic
from kb.numbers.rounding import format_ohm, format_plain


def looks_of(code: Code) -> Iterator[str]:
    """Yield what a code must not have in common with another: how it looks on its family."""
    for way in code.shown:
        yield "\n".join((code.family, *_look(way)))


def no_two_codes_alike(codes: Sequence[Code], *, notes: Notes) -> Iterator[Problem]:
    """Yield each code of a family that is shown like another one.

    The same text on two displays is not the same code, but whoever types it gets both: a warning.
    """
    # Look → display → the first code there: what comes later is held against the first alone.
    seen: dict[tuple[str, ...], dict[str | None, tuple[Code, int]]] = {}
    for code in codes:
        reported: set[tuple[tuple[str, ...], str, str | None]] = set()
        for i, way in enumerate(code.shown):
            look = (code.family, *_look(way))
            firsts = seen.setdefault(look, {})
            for where, (other, j) in firsts.items():
                once = (look, other.id, where)
                if other.id != code.id and once not in reported:
                    reported.add(once)
                    yield _alike(notes, code, i, other, other.shown[j])
            firsts.setdefault(way.where, (code, i))


def _look(way: Shown) -> tuple[str, ...]:
    if way.blinks is not None:
        lamp = " ".join(way.blinks.lamp.casefold().split())
        return ("blinks", lamp, str(way.blinks.long), str(way.blinks.short))
    if way.text is not None:
        return ("text", normal_form(way.text))
    return ("asked", normal_form(way.asked or ""))


def _alike(notes: Notes, code: Code, i: int, other: Code, way: Shown) -> Problem:
    mine = code.shown[i]
    name = "text" if mine.text is not None else "asked" if mine.asked is not None else "blinks"
    how = {"text": "is shown", "asked": "is asked", "blinks": "blinks"}[name]
    apart = name != "blinks" and bool(mine.where and way.where) and mine.where != way.where
    as_other = "" if mine.spoken() == way.spoken() else f" as '{way.spoken()}'"
    return notes.problem(
        code,
        ("shown", i, name),
        "same-look",
        f"'{mine.spoken()}' {how} here and in the code '{other.id}'{as_other}",
        hint="whoever types it gets both: say in each meaning which display it is"
        if apart
        else "one of the two is wrong, or both are one code",
        warning=apart,
    )


def blinks_are_counted(code: Code, *, notes: Notes) -> Iterator[Problem]:
    """Warn of a blink pattern that stands as a text: whoever counts blinks does not find it."""
    for i, way in enumerate(code.shown):
        if way.text is not None and blinks_in_words(way.text):
            block = Blinks.meant_by(way.text).removeprefix("write ")
            yield notes.problem(
                code,
                ("shown", i, "text"),
                "blinks-in-words",
                f"'{way.text}' is a blink pattern, and stands as a text on a display",
                hint=f"write blinks: {block}",
                warning=True,
            )


def suspects_stand_once(code: Code, *, notes: Notes) -> Iterator[Problem]:
    """Yield each suspect that a code names again: its share and past jobs would count twice."""
    seen: dict[tuple[str, str], int] = {}
    for i, suspect in enumerate(code.suspects):
        first = seen.setdefault(suspect.key, i)
        if first != i:
            yield notes.problem(
                code,
                ("suspects", i, suspect.key[0]),
                "same-suspect",
                f"this suspect is number {first + 1} of the list already",
                hint="keep one of the two, with the shares of both",
            )


def trips_fit_their_sensor(code: Code, *, notes: Notes) -> Iterator[Problem]:
    """Yield trip limits that the sensor's curve does not reach."""
    for i, trip in enumerate(code.trip):
        sensor = notes.of(Sensor).get(trip.sensor or "")
        curve = notes.of(Curve).get(sensor.curve or "") if sensor is not None else None
        if sensor is None or curve is None:
            continue
        # A curve that does not compute has a problem of its own.
        with suppress(ValueError):
            characteristic = characteristic_of(curve)
            if characteristic is not None:
                yield from _out_of_reach(notes, code, i, trip, sensor, characteristic)


def _out_of_reach(
    notes: Notes, code: Code, i: int, trip: Trip, sensor: Sensor, curve: Characteristic
) -> Iterator[Problem]:
    for name in ("below_c", "above_c"):
        t_c = getattr(trip, name)
        if t_c is not None and not curve.low_c <= t_c <= curve.high_c:
            yield notes.problem(
                code,
                ("trip", i, name),
                "trip-range",
                f"{format_plain(t_c)} °C is outside {format_plain(curve.low_c)} to "
                f"{format_plain(curve.high_c)} °C, where the curve "
                f"'{sensor.curve}' of '{sensor.id}' holds",
                hint="give the limit in ohms, or take a curve that reaches further",
            )
    # Above the whole curve means open, below it means short: both are what a trip is for. The
    # other way round the code would be up for good.
    if trip.below_ohm is None and trip.above_ohm is None:
        return
    least_ohm, most_ohm = curve.range_ohm
    always = [
        ("below_ohm", trip.below_ohm is not None and trip.below_ohm > most_ohm),
        ("above_ohm", trip.above_ohm is not None and trip.above_ohm < least_ohm),
    ]
    for name, wrong in always:
        if wrong:
            yield notes.problem(
                code,
                ("trip", i, name),
                "trip-range",
                f"the curve '{sensor.curve}' of '{sensor.id}' gives {format_ohm(least_ohm)} to "
                f"{format_ohm(most_ohm)}, so this code would always be up",
                hint="look for a slip of a unit, or of below and above",
            )
