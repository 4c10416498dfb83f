"""A round in a terminal: what each place says, the figures under it, then what to do next."""

from __future__ import annotations

import math
from collections.abc import Mapping

from kb.answers.round import RoundAnswer
from kb.answers.round_outcome import PlaceAnswer
from kb.answers.round_places import OWN_PLACE
from kb.answers.round_rows import RoundRow
from kb.answers.statement import Statement
from kb.model import Family, Sensor
from kb.numbers.rounding import format_k, format_ohm, format_t
from kb.words.catalogue import name_of
from kb.words.phrase import Voice, capital, phrase, sentence

from .terminal import caution_words, paragraphs, wrapped


def sensor_name(sensor: Sensor) -> str:
    """Return what a terminal calls a sensor: its label, and the id to ask for it."""
    return f"{sensor.label} ({sensor.id})"


def round_words(answer: RoundAnswer, *, sensors: Mapping[str, Sensor]) -> str:
    """Return the whole answer for a terminal."""
    voice = Voice(unit=answer.unit)
    return paragraphs(
        [
            _first(answer, sensors=sensors, voice=voice),
            wrapped(sentence(answer.exchange, voice=voice)) if answer.exchange else "",
            *(_place(place, answer=answer, voice=voice) for place in answer.places),
            "\n".join(_rows(answer)),
            _sentences(answer.against, voice=voice),
            "\n".join(_next(answer, sensors=sensors, voice=voice)),
            caution_words(answer.cautions),
        ]
    )


def _sentences(statements: tuple[Statement, ...], *, voice: Voice) -> str:
    return wrapped(" ".join(sentence(statement, voice=voice) for statement in statements))


def _place(place: PlaceAnswer, *, answer: RoundAnswer, voice: Voice) -> str:
    """Return what a place says, and first how its temperature was taken."""
    words = " ".join(sentence(statement, voice=voice) for statement in place.statements)
    heads = [] if place.place.startswith(OWN_PLACE) else [capital(place.place)]
    for taken in answer.temperatures:
        if taken.place == place.place and taken.t_c is not None:
            how = name_of("placement", name=taken.placement, form="short")
            heads.append(f"{format_t(taken.t_c, unit=voice.unit)} ({how})")
    return wrapped(f"{', '.join(heads)}: {words}" if heads else words)


def _first(answer: RoundAnswer, *, sensors: Mapping[str, Sensor], voice: Voice) -> str:
    """Return the sentence that says what to do: the first step of all."""
    first = answer.first
    if first is None:
        return ""
    place = next((place for place in answer.places if place.place == first.place), None)
    step = _step(first.step, answer=answer, place=place, sensors=sensors, voice=voice)
    if place is None or len(answer.places) == 1 or first.place.startswith(OWN_PLACE):
        return wrapped(sentence(Statement(id="round.first", figures={"step": step})))
    there = {"place": first.place, "step": step}
    return wrapped(sentence(Statement(id="round.first-there", figures=there)))


def _rows(answer: RoundAnswer) -> list[str]:
    rows = [["", "read", "reads as", "off", "allowed", "uncertainty"]]
    rows += [_row(row, unit=answer.unit) for row in answer.rows]
    wide = [max(len(row[i]) for row in rows) for i in range(len(rows[0]))]
    return [
        "  ".join(
            cell.ljust(wide[i]) if i == 0 else cell.rjust(wide[i]) for i, cell in enumerate(row)
        ).rstrip()
        for row in rows
    ]


def _row(row: RoundRow, *, unit: str) -> list[str]:
    def apart(difference_k: float) -> str:
        return format_k(abs(difference_k), unit="K" if unit == "C" else "F")

    cells = [
        row.name,
        "" if row.shown_ohm is None else format_ohm(row.shown_ohm, digits=row.digits),
    ]
    stands = row.standing
    if stands is None or stands.t_implied_c is None:
        return [*cells, "", "", "", ""]
    cells.append(format_t(stands.t_implied_c, unit=unit))
    if stands.off_k is None or stands.uncertainty_k is None:
        return [*cells, "", "", ""]
    sign = "−" if stands.off_k < 0 else "+"
    limit = f"± {apart(stands.limit_k)}" if stands.limit_k else "not known"
    return [*cells, sign + apart(stands.off_k), limit, f"± {apart(stands.uncertainty_k)}"]


_ASKS_TEMPERATURE = (
    "round.next-read-more",
    "round.next-temperature",
    "round.next-temperature-again",
    "round.next-tell",
    "round.next-tell-or-read",
)


def _next(answer: RoundAnswer, *, sensors: Mapping[str, Sensor], voice: Voice) -> list[str]:
    """Return every next step but the first; what is asked for two places is asked once."""
    lines: list[str] = []
    first = answer.first.step if answer.first else None
    several = len(answer.places) > 1
    for place in answer.places:
        named = several and not place.place.startswith(OWN_PLACE)
        for step in place.next:
            row = next((row for row in answer.rows if row.next == step), None)
            if step == first and (row is not None or place.place == _where(answer)):
                continue
            whose = f" for {place.place}" if named and row is None else ""
            words = _step(step, answer=answer, place=place, sensors=sensors, voice=voice)
            if (line := wrapped(f"Next{whose}: {words}")) not in lines:
                lines.append(line)
    return lines


def _where(answer: RoundAnswer) -> str:
    return answer.first.place if answer.first else ""


def _step(
    step: Statement,
    *,
    answer: RoundAnswer,
    place: PlaceAnswer | None,
    sensors: Mapping[str, Sensor],
    voice: Voice,
) -> str:
    """Return a step with the words to type, and what the entry of its sensor says."""
    row = next((row for row in answer.rows if row.next == step), None)
    words = f"{phrase(step, voice=voice).rstrip('.')}{_hint(step, place=place, row=row)}."
    if row is not None and row.instruction:
        words += f" {getattr(sensors[row.sensor], row.instruction)}"
    return words


def _hint(step: Statement, *, place: PlaceAnswer | None, row: RoundRow | None) -> str:
    """Return what a terminal adds to a next step: the words to type."""
    if row is not None and step.id in ("round.next-judge", "round.next-off-curve"):
        return f", ohmfolio judge {row.sensor}"
    if place is None:
        return ""
    if step.id in _ASKS_TEMPERATURE:
        return f' (--at "{place.place}=T")'
    if step.id == "round.next-alone":
        return f' (--at "{place.place.removeprefix(OWN_PLACE)}=T")'
    return ""


def round_as_dict(answer: RoundAnswer, *, family: Family) -> dict[str, object]:
    """Return what `round --json` promises."""
    centres_c = {place.place: place.centre_c for place in answer.places}
    taken_c = {place.place: place.at_c for place in answer.places}
    return {
        "family": family.id,
        "places": [
            {
                "place": place.place,
                "state": place.state,
                "at_c": place.at_c,
                "centre_c": place.centre_c,
            }
            for place in answer.places
        ],
        "sensors": [_as_dict(row, centres_c=centres_c, taken_c=taken_c) for row in answer.rows],
        "exchanged": [list(pair) for pair in answer.exchanged],
        "exchanged_sure": answer.exchanged_sure,
        "first": phrase(answer.first.step) if answer.first else None,
    }


def _as_dict(
    row: RoundRow, *, centres_c: Mapping[str, float | None], taken_c: Mapping[str, float | None]
) -> dict[str, object]:
    stands = row.standing
    return {
        "sensor": row.sensor,
        "state": row.state or None,
        "r_ohm": None if row.shown_ohm in (None, math.inf) else row.shown_ohm,
        "ohm_digits": row.digits,
        "t_implied_c": stands.t_implied_c if stands else None,
        "off_k": stands.off_k if stands else None,
        "limit_k": stands.limit_k if stands else None,
        "uncertainty_k": stands.uncertainty_k if stands else None,
        "place": row.place,
        "by_thermometer": taken_c[row.place] is not None,
        "centre_c": centres_c[row.place],
    }
