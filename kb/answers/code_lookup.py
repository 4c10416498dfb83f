"""Which codes are shown so, however somebody types it; and which are close, where none is.

Mirrored by answers/code-lookup.js, which Find asks the same.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from .blinks import BlinkPattern, read_blinks
from .family_words import KnownNames, families_named
from .normal_form import SHORTEST_SLIP, look_of, normal_form, one_slip
from .statement import Refusal, Statement

FITS: Mapping[str, int] = {"same": 0, "blinks": 1, "alike": 2, "slip": 3, "miscount": 4}
"""How something shown fits what was typed, the closest first: two that are it, three that are near.

Alike is what a display of seven strokes shows so, a slip is one letter, a miscount one blink.
"""
SURE = ("same", "blinks")
MOST_NEAR = 4
"""So many are named where none is shown so."""
MOST_LISTED = 8
"""So many are named where none is even near."""


@dataclass(frozen=True, kw_only=True)
class ShownWay:
    """One way a code is shown: a text, or blinks.

    Parameters
    ----------
    text : str
        As shown, or as the controller gives it when asked; "" for blinks.
    blinks : BlinkPattern or None
    """

    text: str = ""
    blinks: BlinkPattern | None = None


@dataclass(frozen=True, kw_only=True)
class KnownCode:
    """A code, and every way it is shown."""

    id: str
    ways: Sequence[ShownWay]


@dataclass(frozen=True, kw_only=True)
class CodeQuestion:
    """What was typed, and the codes that it may be.

    Parameters
    ----------
    shown : str
        As typed.
    family : str
        The name of the machines that show them.
    codes : sequence of KnownCode
        In reading order.
    """

    shown: str
    family: str
    codes: Sequence[KnownCode]


@dataclass(frozen=True, kw_only=True)
class TypedCode:
    """What was typed, ready to be held against each way.

    Parameters
    ----------
    form, look : str
        Its normal form, and that as a display shows it.
    patterns : tuple of BlinkPattern
        The blinks that it may mean.
    counted : bool
        Whether it can only be blinks, so that one may be miscounted: a bare number may be a code.
    """

    form: str
    look: str
    patterns: tuple[BlinkPattern, ...]
    counted: bool


@dataclass(frozen=True, kw_only=True)
class CodesFound:
    """The codes that are shown so, by id: those by their text, then those by their blinks."""

    code_ids: tuple[str, ...]


@dataclass(frozen=True, kw_only=True)
class KnownFamily:
    """A family: everything it is called, and the codes it shows in reading order."""

    names: KnownNames
    codes: Sequence[KnownCode]


@dataclass(frozen=True, kw_only=True)
class FamilyCodes:
    """The family that a text is about, and the codes that it shows so."""

    family_id: str
    code_ids: tuple[str, ...]


def typed_code(text: str) -> TypedCode:
    """Return what was typed, read once for every way that it is held against."""
    form = normal_form(text)
    patterns = read_blinks(text)
    counted = bool(patterns) and not (form.isascii() and form.isdigit())
    return TypedCode(form=form, look=look_of(form), patterns=patterns, counted=counted)


def way_fit(way: ShownWay, *, typed: TypedCode) -> str:
    """Return how a way fits what was typed: a name of FITS, or ""."""
    if way.blinks is not None:
        if way.blinks in typed.patterns:
            return "blinks"
        near = any(way.blinks.miscounted(pattern) for pattern in typed.patterns)
        return "miscount" if typed.counted and near else ""
    form = normal_form(way.text)
    if form == typed.form:
        return "same"
    if look_of(form) == typed.look:
        return "alike"
    slip = len(typed.form) >= SHORTEST_SLIP and one_slip(typed.form, other=form)
    return "slip" if slip else ""


def find_codes(question: CodeQuestion) -> CodesFound:
    """Return the codes that are shown so.

    Raises
    ------
    Refusal
        Missing where nothing was typed; where no code is shown so, with those that are near.
    """
    typed = typed_code(question.shown)
    if not typed.form:
        raise Refusal(Statement(id="code.shown-missing"), field="shown", missing=True)
    fitting = _fitting(question.codes, typed=typed)
    sure = tuple(code.id for code, _, fit in fitting if fit in SURE)
    if sure:
        return CodesFound(code_ids=sure)
    raise Refusal(_unknown(question, near=[way for _, way, _ in fitting]), field="shown")


def find_in_families(shown: str, *, families: Sequence[KnownFamily]) -> FamilyCodes:
    """Return the codes that are shown so by the family that the text names, or by one alone.

    Raises
    ------
    Refusal
        Missing where nothing but a family was typed; where more than one family shows a code so,
        with them: a code of another machine would mislead; where none does.
    """
    named = families_named(shown, families=[family.names for family in families])
    asked = [family for family in families if family.names.id in named.family_ids] or families
    found, unknown = [], []
    for family in asked:
        name = family.names.names[0]
        question = CodeQuestion(shown=named.rest, family=name, codes=family.codes)
        try:
            found.append(
                FamilyCodes(family_id=family.names.id, code_ids=find_codes(question).code_ids)
            )
        except Refusal as refusal:
            if refusal.missing:
                raise
            unknown.append(refusal)
    if len(found) == 1:
        return found[0]
    if len(asked) == 1:
        raise unknown[0]
    figures: dict[str, object] = {"shown": shown.strip()}
    if not found:
        raise Refusal(Statement(id="code.unknown-anywhere", figures=figures), field="shown")
    showing = {codes.family_id for codes in found}
    names = [family.names.names[0] for family in asked if family.names.id in showing]
    several = Statement(id="code.several", figures={**figures, "families": names})
    raise Refusal(several, field="shown")


Fitting = tuple[KnownCode, ShownWay, str]


def _fitting(codes: Sequence[KnownCode], *, typed: TypedCode) -> list[Fitting]:
    """Return each code that fits, by its closest way; the closest code first."""
    found: list[Fitting] = []
    for code in codes:
        fits = [(code, way, way_fit(way, typed=typed)) for way in code.ways]
        fits = [fitting for fitting in fits if fitting[2]]
        if fits:
            found.append(min(fits, key=_distance))
    return sorted(found, key=_distance)


def _distance(fitting: Fitting) -> int:
    return FITS[fitting[2]]


def _unknown(question: CodeQuestion, *, near: Sequence[ShownWay]) -> Statement:
    figures: dict[str, object] = {"family": question.family, "shown": question.shown.strip()}
    if near:
        figures["near"] = [_quoted(way) for way in near[:MOST_NEAR]]
        return Statement(id="code.unknown-near", figures=figures)
    if not question.codes:
        return Statement(id="code.none", figures={"family": question.family})
    figures["listed"] = [_quoted(code.ways[0]) for code in question.codes[:MOST_LISTED]]
    more = len(question.codes) - MOST_LISTED
    if more <= 0:
        return Statement(id="code.unknown", figures=figures)
    return Statement(id="code.unknown-more", figures={**figures, "more": more})


def _quoted(way: ShownWay) -> Statement:
    if way.blinks is None:
        return Statement(id="code.shown-text", figures={"text": way.text})
    kinds = [name for name in ("long", "short") if getattr(way.blinks, name)]
    figures = {name: getattr(way.blinks, name) for name in kinds}
    return Statement(id=f"code.shown-{'-'.join(kinds)}", figures=figures)
