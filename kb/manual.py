"""The manual of fields, made from the models: what each is, what it holds, and an example of it."""

from __future__ import annotations

import functools
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import get_args, get_origin

from pydantic import BaseModel
from pydantic.fields import FieldInfo

from kb.columns.column import columns_of
from kb.entry_file.entry_text import literal_words, with_article
from kb.entry_file.yaml_words import inline
from kb.examples import STARTER
from kb.model import CURVE_LAWS, KINDS, Curve, ReleaseNote, Team
from kb.model.field_docs import described
from kb.model.shape import inner_block, ref_of
from kb.notes.folder import DATA, carried
from kb.notes.load import read_text
from kb.numbers.rounding import format_plain

OF_ONE_FILE: Mapping[str, type[BaseModel]] = {"team": Team, "release": ReleaseNote}
"""What stands in a file of its own."""
SECTIONS = (*KINDS, *OF_ONE_FILE)
"""What the manual has a section for."""
LONGEST = 64
"""An example that is longer is shown only where no shorter one stands."""
_KEY = "d75a980182b10ab7d54bfed3c964073a0ee172f3daa62325af021a68f707511a"
_SIGNATURE = (
    "e5564300c360ac729086e2cc806e828a84877f1eb8e5d974d873e065224901555fb8821590a33bacc61e39701cf9b4"
    "6bd25bf5f0595bbe24655141438e7a100b"
)
"""A key and a signature that nobody has to keep secret: RFC 8032, 7.1, test 1."""
OWN_EXAMPLES: Mapping[str, str] = {
    "sources.aka": "[the yellow sheet]",
    "sensors.plug.shared_with": "[quellmark-coil-in]",
    "drawings.pins.several": "yes",
    "cases.machine": "the left one",
    "team.check_again_after_days": "1100",
    "team.address": "https://notes.example/team/",
    "team.published": "/srv/www/team",
    "team.signing": f"{{key: {_KEY}}}",
    "team.signing.key": _KEY,
    "team.signing.before": f"[{{key: {_KEY}, by: {_SIGNATURE}}}]",
    "team.signing.before.key": _KEY,
    "team.signing.before.by": _SIGNATURE,
    "families.no_charge": "It has no inverter and no capacitor.",
    "curves.tolerance.at_c": "25",
    "curves.tolerance.r_percent_per_c": "0.05",
    "curves.points": '{"0": 32.7k, "25": 10.0k, "50": 3.60k, "80": 1.26k}',
    "curves.fitted_to": '{"0": 32.7k, "25": 10.0k, "50": 3.60k, "80": 1.26k}',
    "curves.constant": "234.5",
    "codes.suspects.when_short": "Dry the plug and read again.",
    "drawings.aka": "[front view]",
    "drawings.photo": "front.jpg",
    "cases.aka": "[the wet plug]",
    "cases.measured": '["Supply at the isolator: 398 V."]',
    "cases.photos": "[{file: plug.jpg, of: Green pins of the plug.}]",
    "cases.photos.file": "plug.jpg",
    "cases.photos.of": "Green pins of the plug.",
    "lessons.aka": "[first day]",
    "lessons.cautions": "[Nobody opens a panel alone.]",
    "lessons.read": "[{entry: methods/wiring-look, why: It finds most faults.}]",
    "lessons.read.entry": "methods/wiring-look",
    "lessons.read.why": "It finds most faults.",
    "lessons.drills.look.method": "wiring-look",
    "lessons.drills.look.part": "quellmark-main-board",
    "lessons.drills.look.drawing": "quellmark-board",
    "release.offline": "yes",
    "release.may_be_published": "[the office's own number]",
    "team.ring.number": "112",
    "team.ring": "[{who: Emergency services, when: A shock or a fall., number: 112}]",
}
"""Section and field → an example, where neither examples nor demo have any; all invented."""

EVERYWHERE: Mapping[str, str] = {"was": "[old-id]"}
"""The same of a field that every kind has."""

_HOLDS = {
    "_ohm": "ohms, such as 480, 6.32k, 6k32",
    "_t_c": "°C, such as 7 or -10",
    "_number": "a number",
    "_whole": "a whole number",
    "_date": "year-month-day",
    "_choice_text": "yes or no",
    "_listed": "lines of text",
    "point_rows": "lines of temperature: resistance",
    "fitted_rows": "lines of temperature: resistance",
    "_cited": "an id, or {id: …, at: page}",
}
_BOUNDS = (("gt", "above"), ("ge", "from"), ("lt", "below"), ("le", "up to"))


@dataclass(frozen=True, kw_only=True)
class FieldRow:
    """One field of the manual.

    Parameters
    ----------
    field : str
        Its way, such as `plug.mark`.
    called : str
        What the trade calls it, as sheets and flags do; empty where it has no column.
    needed : bool
        Whether an entry, or the block it stands in, cannot do without.
    holds : str
        What may stand there.
    doc : str
        What it is.
    example : str
        A value of it; empty for a block whose fields each have one.
    law : str
        The law of curves that has it; empty for every one.
    """

    field: str
    called: str
    needed: bool
    holds: str
    doc: str
    example: str
    law: str = ""


@functools.cache
def manual(section: str) -> tuple[FieldRow, ...]:
    """Return every field of a section, in the order of its model.

    Parameters
    ----------
    section : str
        One of SECTIONS.
    """
    described()
    if section in OF_ONE_FILE:
        return tuple(_rows(section, OF_ONE_FILE[section], ""))
    rows = list(_rows(section, KINDS[section], ""))
    if section == Curve.kind:
        shared = {row.field for row in rows}
        rows = [row for row in rows if row.field != "law"]
        for law, model in CURVE_LAWS.items():
            rows += [
                row
                for row in _rows(section, model, "", law=law)
                if row.field not in shared or row.field == "law"
            ]
    return tuple(rows)


def _rows(section: str, model: type[BaseModel], above: str, *, law: str = "") -> Iterator[FieldRow]:
    for name, info in model.model_fields.items():
        field = f"{above}{name}"
        if field == "id" or info.annotation is type(None):
            continue
        yield FieldRow(
            field=field,
            called=_called(section, field, law=law),
            needed=info.is_required(),
            holds=_holds(info),
            doc=_doc(info, model=model, law=law if field == "law" else ""),
            example=_example(section, field, law=law),
            law=law,
        )
        inner = inner_block(info.annotation)
        if inner is not None and field not in ("points", "fitted_to", "source"):
            yield from _rows(section, inner, f"{field}.", law=law)


def _doc(info: FieldInfo, *, model: type[BaseModel], law: str) -> str:
    """Return what a field is; the word of a law says which law it is."""
    text = (model.__doc__ or "") if law else info.description or ""
    return " ".join(text.split()).replace("`", "")


def _called(section: str, field: str, *, law: str) -> str:
    if section not in KINDS:
        return ""
    for column in columns_of(section, law=law):
        bare = column.field.replace(".#", "")
        if bare == field or bare.removesuffix(".0") == field:
            return column.name
    return ""


def _holds(info: FieldInfo) -> str:
    words = literal_words(info.annotation)
    ref = ref_of(info.annotation, info.metadata)
    names = list(_readers(info.annotation, info.metadata))
    inner = inner_block(info.annotation)
    outer = _bare(info.annotation)
    if words:
        return f"one of: {', '.join(words)}"
    if names and names[0] in ("_cited", "point_rows", "fitted_rows", "_listed"):
        return _HOLDS[names[0]]
    if ref is not None:
        if get_origin(outer) is list:
            return f"ids of {ref.kind}"
        return f"the id of {with_article(KINDS[ref.kind].noun)}"
    if inner is not None:
        if get_origin(outer) is dict:
            return "names, each with a block"
        return "a list of blocks" if get_origin(outer) is list else "a block of what follows"
    found = next((_HOLDS[name] for name in names if name in _HOLDS), "text")
    if get_origin(outer) is tuple:
        return f"a pair [low, high], {found}"
    if get_origin(outer) is dict:
        return f"names, each with {found}"
    if get_origin(outer) is list:
        return f"a list, each {found}"
    bounds = [
        f"{word} {format_plain(getattr(mark, bound))}"
        for mark in info.metadata
        for bound, word in _BOUNDS
        if getattr(mark, bound, None) is not None
    ]
    return " ".join([found, *bounds])


def _bare(annotation: object) -> object:
    parts = [part for part in get_args(annotation) if part is not type(None)]
    if type(None) in get_args(annotation) and len(parts) == 1:
        return parts[0]
    return annotation


def _readers(annotation: object, metadata: Sequence[object] = ()) -> Iterator[str]:
    """Yield the names of the functions that read a field's text."""
    for mark in metadata:
        reader = getattr(mark, "func", None)
        if reader is not None:
            yield reader.__name__
    for part in get_args(annotation):
        if not isinstance(part, type) or get_args(part):
            yield from _readers(part, getattr(part, "__metadata__", ()))
        reader = getattr(part, "func", None)
        if reader is not None:
            yield reader.__name__


def _example(section: str, field: str, *, law: str) -> str:
    own = OWN_EXAMPLES.get(f"{section}.{field}") or EVERYWHERE.get(field)
    if own is not None:
        return own
    found = _seen(section).get((law, field)) or _seen(section).get(("", field), [])
    long: list[str] = []
    for value in found:
        text = _written(value)
        if len(text) <= LONGEST:
            return text
        long.append(text)
    # The parts of a long block each have an example of their own.
    return min((text for text in long if text[:1] != "{" and text[:2] != "[{"), key=len, default="")


def _written(value: object) -> str:
    return value if isinstance(value, str) else inline(value)


@functools.cache
def _seen(section: str) -> dict[tuple[str, str], list[object]]:
    """Return what the examples and the demo have in each field: (law, field) → values."""
    seen: dict[tuple[str, str], list[object]] = {}
    for folder in (STARTER / DATA, carried(DATA)):
        for path in _files(folder, section):
            value = read_text(path.read_text(encoding="utf-8"), file=path.name).value
            law = str(value.get("law", "")) if isinstance(value, dict) else ""
            for field, inner in _values(value, ""):
                for key in {(law, field), ("", field)}:
                    seen.setdefault(key, []).append(inner)
    return seen


def _files(folder: Path, section: str) -> list[Path]:
    if section in OF_ONE_FILE:
        path = folder / f"{section}.yaml"
        return [path] if path.is_file() else []
    return sorted((folder / section).rglob("*.yaml"))


def _values(value: object, above: str) -> Iterator[tuple[str, object]]:
    if isinstance(value, list):
        for item in value:
            yield from _values(item, above) if isinstance(item, dict) else ()
        return
    for name, inner in value.items() if isinstance(value, dict) else ():
        field = f"{above}.{name}" if above else str(name)
        if inner is None:
            continue
        yield field, inner
        if isinstance(inner, list) and len(inner) > 1 and all(isinstance(i, str) for i in inner):
            # One line of a long list shows its form as well.
            yield field, [min(inner, key=len)]
        yield from _values(inner, field)
        if isinstance(inner, dict):
            # A name that the keeper chose, as of a pin: what is below it has the way without it.
            for below in inner.values():
                yield from _values(below, field) if isinstance(below, dict) else ()


def about(section: str) -> str:
    """Return what a section's entries are, in a sentence."""
    if section in OF_ONE_FILE:
        return {
            "team": "Who you are, and what your engineers carry.",
            "release": "What you say of a release.",
        }[section]
    if section == Curve.kind:
        return "Resistance against temperature, by a table or a law."
    return (KINDS[section].__doc__ or "").strip().splitlines()[0]


def stands_in(section: str) -> str:
    """Return where such a file stands, from the folder of the notes."""
    if section in OF_ONE_FILE:
        return f"{DATA}/{section}.yaml"
    return f"{DATA}/{section}/ID.yaml, also in folders of your own below {section}/"
