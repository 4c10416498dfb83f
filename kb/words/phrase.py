"""Say a statement: its words from the catalogue, its figures printed by the unit in their names."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import SupportsFloat

from kb.answers.statement import Statement
from kb.numbers.rounding import (
    format_departure,
    format_k,
    format_ohm,
    format_ohm_ends,
    format_percent,
    format_plain,
    format_t,
    format_volts,
)

from .catalogue import cut, name_of, template


@dataclass(frozen=True, kw_only=True)
class Voice:
    """How figures are printed: in which unit of temperature, with how many digits of ohms."""

    unit: str = "C"
    digits: int = 4


_USUAL = Voice()


def phrase(statement: Statement, *, voice: Voice = _USUAL) -> str:
    """Return a statement in words, its first letter small; `sentence` makes it stand alone.

    Raises
    ------
    LookupError
        If the catalogue lacks the words, or the statement lacks a figure that they name.
    """
    return _filled(statement.id, statement.figures, voice)


def _filled(statement_id: str, figures: Mapping[str, object], voice: Voice) -> str:
    words, placeholders = cut(template(statement_id))
    if not placeholders:
        return words
    pieces = [words]
    for name, spec, after in placeholders:
        if name not in figures:
            raise LookupError(f"'{statement_id}' has no figure '{name}'")
        pieces += (_shown(figures[name], name=name, spec=spec, voice=voice), after)
    return "".join(pieces)


def sentence(statement: Statement, *, voice: Voice = _USUAL) -> str:
    """Return a statement in words that stand alone: with a capital first."""
    return capital(phrase(statement, voice=voice))


def in_words(statement_id: str, /, **figures: object) -> str:
    """Return the words of an id, with these figures, as they stand in the catalogue.

    Raises
    ------
    LookupError
        If the catalogue lacks the words, or a figure that they name is not given.
    """
    return _filled(statement_id, figures, _USUAL)


def number_of(things: str, /, *, count: float) -> str:
    """Return `1 fault`, `2 faults`: section `count` has the forms of each thing."""
    form = name_of("count", name=things, form="one" if count == 1 else "many")
    return form.replace("{n}", format_plain(count, digits=9))


def ohm_span(low_ohm: float, *, high_ohm: float, digits: int = 4) -> str:
    """Return a span such as `11.95 to 12.23 kΩ`: the unit once where both ends share it."""
    low, high = format_ohm_ends(low_ohm, high_ohm=high_ohm, digits=digits)
    return in_words("span.ohm", low=low, high=high)


def capital(text: str) -> str:
    """Return a text with its first letter large."""
    return text[:1].upper() + text[1:]


def counted(count: int, *, noun: str, nouns: str = "") -> str:
    """Return `1 fault`, `2 faults`, `3 entries`: a command's number and its English noun agree."""
    return f"{count} {noun if count == 1 else nouns or noun + 's'}"


def listed(items: Sequence[str], *, joiner: str = "and") -> str:
    """Return `a, b and c`: `joiner` names an entry of the catalogue's section `list`."""
    if len(items) < 2:
        return "".join(items)
    between, last = (name_of("list", name=joiner, form=form) for form in ("between", "last"))
    return f"{between.join(items[:-1])}{last}{items[-1]}"


def _shown(value: object, *, name: str, spec: str, voice: Voice) -> str:
    if isinstance(value, str):
        return value
    if isinstance(value, Statement):
        return phrase(value, voice=voice)
    kind = name.rpartition("_")[2]
    # Most figures are plain numbers, and to ask one whether it is a sequence takes long.
    if isinstance(value, float | int):
        return _FORMATS.get(kind, _plain)(float(value), spec, voice)
    if isinstance(value, Sequence):
        if kind == "ohm":
            return _ohm_span(value, voice=voice)
        items = [_shown(item, name=name, spec="", voice=voice) for item in value]
        return listed(items, joiner=spec or "and")
    if not isinstance(value, SupportsFloat):
        raise TypeError(f"'{name}' is {value!r}, which no sentence can say")
    return _FORMATS.get(kind, _plain)(float(value), spec, voice)


def _ohm_span(ends: Sequence[float], *, voice: Voice) -> str:
    low_ohm, high_ohm = ends
    if low_ohm == high_ohm:
        return format_ohm(low_ohm, digits=voice.digits)
    return ohm_span(low_ohm, high_ohm=high_ohm, digits=voice.digits)


def _temperature(t_c: float, spec: str, voice: Voice) -> str:
    return format_t(t_c, decimals=int(spec or 1), unit=voice.unit)


def _difference(difference_k: float, spec: str, voice: Voice) -> str:
    """Print a size; with `+`, its sign too."""
    size = format_k(abs(difference_k), unit="K" if voice.unit == "C" else "F")
    sign = ("−" if difference_k < 0 else "+") if spec == "+" else ""
    return sign + size


def _ohm(r_ohm: float, spec: str, voice: Voice) -> str:
    return format_ohm(r_ohm, digits=int(spec) if spec else voice.digits)


def _volts(volts: float, spec: str, voice: Voice) -> str:
    return format_volts(volts, decimals=int(spec or 2))


def _share(share: float, spec: str, voice: Voice) -> str:
    return format_departure(share) if spec == "+" else format_percent(share, digits=int(spec or 2))


def _plain(value: float, spec: str, voice: Voice) -> str:
    """Print a number as the notes say it: a count, minutes, a rated voltage."""
    return format_plain(value)


_FORMATS: Mapping[str, Callable[[float, str, Voice], str]] = {
    "c": _temperature,
    "k": _difference,
    "ohm": _ohm,
    "v": _volts,
    "share": _share,
}
"""Unit at the end of a figure's name → how it is printed."""
