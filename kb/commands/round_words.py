"""A round in a terminal: what each place says, the figures under it, then what to do next."""

from __future__ import annotations

from collections.abc import Mapping

from kb.answers.round import RoundAnswer
from kb.answers.round_places import PlaceAnswer
from kb.answers.round_rows import RoundRow
from kb.answers.statement import Statement
from kb.model import Family, Sensor
from kb.numbers.rounding import format_k, format_ohm, format_t
from kb.words.phrase import Voice, capital, phrase, sentence

from .terminal import caution_words, paragraphs, wrapped

HINTS = {"round.next-few": " (--at T)"}
"""What a terminal adds to a next step."""


def sensor_name(sensor: Sensor) -> str:
    """Return what a terminal calls a sensor: its label, and the id to ask for it."""
    return f"{sensor.label} ({sensor.id})"


def round_words(answer: RoundAnswer, *, sensors: Mapping[str, Sensor]) -> str:
    """Return the whole answer for a terminal."""
    voice = Voice(unit=answer.unit)
    several = len(answer.places) > 1
    return paragraphs(
        [
            _said(answer.faulty, voice=voice),
            *(_place(place, named=several, voice=voice) for place in answer.places),
            wrapped(sentence(answer.exchange, voice=voice)) if answer.exchange else "",
            "\n".join(_rows(answer)),
            "\n".join(
                wrapped(f"{row.name}: {_beside(row, voice=voice)}")
                for row in answer.rows
                if row.kept_out
            ),
            _said(answer.against, voice=voice),
            "\n".join(_next(answer, sensors=sensors, named=several, voice=voice)),
            caution_words(answer.cautions),
        ]
    )


def _beside(row: RoundRow, *, voice: Voice) -> str:
    return " ".join(
        [phrase(row.beside[0], voice=voice), *(sentence(s, voice=voice) for s in row.beside[1:])]
    )


def _said(statements: tuple[Statement, ...], *, voice: Voice) -> str:
    return wrapped(" ".join(sentence(statement, voice=voice) for statement in statements))


def _place(place: PlaceAnswer, *, named: bool, voice: Voice) -> str:
    words = " ".join(sentence(statement, voice=voice) for statement in place.statements)
    return wrapped(f"{_place_name(place)}: {words}" if named else words)


def _place_name(place: PlaceAnswer) -> str:
    return capital(place.place or phrase(Statement(id="round.unplaced")))


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

    cells = [row.name, "" if row.shown_ohm is None else format_ohm(row.shown_ohm)]
    stands = row.standing
    if stands is None or stands.t_implied_c is None:
        return [*cells, "", "", "", ""]
    cells.append(format_t(stands.t_implied_c, unit=unit))
    if stands.off_k is None or stands.uncertainty_k is None:
        return [*cells, "", "", ""]
    sign = "−" if stands.off_k < 0 else "+"
    limit = f"± {apart(stands.limit_k)}" if stands.limit_k else "not known"
    return [*cells, sign + apart(stands.off_k), limit, f"± {apart(stands.uncertainty_k)}"]


def _next(
    answer: RoundAnswer, *, sensors: Mapping[str, Sensor], named: bool, voice: Voice
) -> list[str]:
    """Return a step for each place that has one in common, then for each sensor that is wrong."""
    lines = []
    for place in answer.places:
        if place.next is not None:
            step = phrase(place.next, voice=voice).rstrip(".") + HINTS.get(place.next.id, "") + "."
            whose = f"Next for {place.place}" if named and place.place else "Next"
            lines.append(wrapped(f"{whose}: {step}"))
    for row in answer.rows:
        if row.next is None:
            continue
        step = phrase(row.next, voice=voice)
        if row.next.id == "round.next-judge":
            step += f", ohmfolio judge {row.sensor}"
        instruction = getattr(sensors[row.sensor], row.instruction) if row.instruction else ""
        lines.append(wrapped(f"Next for {row.name}: {step}. {instruction}".rstrip()))
    return lines


def round_as_dict(answer: RoundAnswer, *, family: Family) -> dict[str, object]:
    """Return what `round --json` promises; one centre only where all rest in one place."""
    centres_c = {place.place: place.centre_c for place in answer.places}
    return {
        "family": family.id,
        "centre_c": next(iter(centres_c.values())) if len(centres_c) == 1 else answer.at_c,
        "by_thermometer": answer.at_c is not None,
        "sensors": [_as_dict(row, centres_c=centres_c) for row in answer.rows],
        "exchanged": [list(pair) for pair in answer.exchanged],
    }


def _as_dict(row: RoundRow, *, centres_c: Mapping[str, float | None]) -> dict[str, object]:
    stands = row.standing
    return {
        "sensor": row.sensor,
        "state": row.state or None,
        "t_implied_c": stands.t_implied_c if stands else None,
        "off_k": stands.off_k if stands else None,
        "limit_k": stands.limit_k if stands else None,
        "uncertainty_k": stands.uncertainty_k if stands else None,
        "place": row.place or None,
        "centre_c": None if row.kept_out else centres_c[row.place],
    }
