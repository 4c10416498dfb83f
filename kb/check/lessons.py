"""What a lesson looks at can be shown: temperatures inside the curve, readings of a meter."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from kb.characteristics import characteristic_of
from kb.instruments import meter_of
from kb.model import Curve, Instrument, Lesson, Sensor
from kb.model.lesson import Look
from kb.model.shape import Path
from kb.notes.load import Notes
from kb.notes.problem import Problem
from kb.numbers.placement import PLACEMENTS
from kb.numbers.rounding import format_ohm, format_plain

from .tolerances import span_words


def looks_can_be_shown(lesson: Lesson, *, notes: Notes) -> Iterator[Problem]:
    """Yield each look whose temperature, reading or way of measuring its entry does not have."""
    for path, look in lesson.looks():
        if look.at:
            yield from _on_curve(notes, lesson, path, look)
        if look.instrument is not None and look.reading is not None:
            yield from _on_meter(notes, lesson, path, look)


def _on_curve(notes: Notes, lesson: Lesson, path: Path, look: Look) -> Iterator[Problem]:
    curve_id = look.curve
    if look.sensor is not None:
        sensor = notes.of(Sensor).get(look.sensor)
        if sensor is None:
            return  # `ids_resolve` says so
        curve_id = sensor.curve
        if curve_id is None or (look.reading is not None and not sensor.testable):
            yield notes.problem(
                lesson,
                (*path, "at"),
                "no-table",
                f"no meter tells a temperature on '{look.sensor}'",
                hint="take 'at' out: then the lesson shows where it sits",
            )
            return
    known = notes.of(Curve).get(curve_id or "")
    if known is None:
        return  # so does another rule, or its own file is at fault
    try:
        curve = characteristic_of(known)
    except ValueError:
        return  # `curves_compute` says so
    if curve is None:
        yield notes.problem(
            lesson,
            (*path, "at"),
            "no-table",
            f"the curve '{curve_id}' has limits, and no resistance at every temperature",
            hint="take 'at' out, or name a curve that computes",
        )
        return
    for i, t_c in enumerate(look.at):
        if not curve.low_c <= t_c <= curve.high_c:
            span = span_words((curve.low_c, curve.high_c))
            yield notes.problem(
                lesson,
                (*path, "at", i),
                "outside-the-curve",
                f"{format_plain(t_c)} °C is outside the curve '{curve_id}', which runs from {span}",
                hint="nothing is extrapolated: take a temperature inside it",
            )
    yield from _in_its_way(notes, lesson, path, look)


def _in_its_way(notes: Notes, lesson: Lesson, path: Path, look: Look) -> Iterator[Problem]:
    """Yield a temperature that the way of taking it does not have."""
    place = PLACEMENTS.get(look.how or "")
    if place is not None and place.fixed_c not in (None, look.at[0]):
        yield notes.problem(
            lesson,
            (*path, "how"),
            "not-its-temperature",
            f"ice and water stand at 0 °C, and this says {format_plain(look.at[0])} °C",
            hint="write at: 0, or another 'how': strapped, held-on or air",
        )


def _on_meter(notes: Notes, lesson: Lesson, path: Path, look: Look) -> Iterator[Problem]:
    instrument = notes.of(Instrument).get(look.instrument or "")
    if instrument is None or look.reading is None:
        return
    if not instrument.resistance:
        fault, hint = "reads no resistance", "name a meter, or take 'reading' out"
    elif look.reading > meter_of(instrument).span_ohm:
        fault = f"shows at most {format_ohm(meter_of(instrument).span_ohm)}"
        hint = "beyond that it shows OL: take a lower reading"
    else:
        return
    yield notes.problem(
        lesson, (*path, "reading"), "not-shown", f"'{instrument.id}' {fault}", hint=hint
    )


def place_of(lesson: Lesson) -> Iterator[str]:
    """Yield a lesson's place on the path, which no other may have."""
    yield str(lesson.order)


def lessons_have_places_of_their_own(
    lessons: Sequence[Lesson], *, notes: Notes
) -> Iterator[Problem]:
    """Warn of two lessons in one place of the path."""
    first, *others = lessons
    for lesson in others:
        yield notes.problem(
            lesson,
            ("order",),
            "same-order",
            f"the lesson '{first.id}' has this place of the path too",
            hint="give each its own; 1.5 stands between 1 and 2",
            warning=True,
        )
