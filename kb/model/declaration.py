"""What a kind says of itself, once, in its model: a missing piece fails when the model is read."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from .shape import inner_block, ref_of

if TYPE_CHECKING:
    from pydantic import BaseModel

    from .entry import Entry

PIECES = {
    "kind": 'the folder under docs_data/, such as "codes"',
    "noun": 'what one of them is called in a sentence and in Find, such as "code"',
    "list_title": 'the heading of its list, such as "Codes"',
    "list_lead": 'one line that says what is there, such as "Every code of every family."',
    "home_place": "its place among the lists on the home page, a number",
    "find_place": "its place among what Find finds, a number",
    "when_unnamed": "what to do with one that no entry names; None if it stands for itself",
    "changes": "for each of its fields, how loud a change of it is: told_as(level, field, …)",
}
"""What each kind declares as a class variable, and what that is."""
DISTINCT = ("kind", "noun", "list_title", "home_place", "find_place")


def check_declared(model: type[Entry]) -> None:
    """Refuse a model that leaves out a piece of what its kind says of itself.

    Raises
    ------
    ImportError
        With every missing piece, and what to write for it.
    """
    own = vars(model)
    # A law is a curve: it inherits what the kind says, and adds how its own fields are told.
    missing = [piece for piece in PIECES if not hasattr(model, piece)]
    if "kind" in own:
        missing = [piece for piece in PIECES if piece not in own]
    if missing:
        raise ImportError(
            "; ".join(
                f"{model.__module__}: {model.__name__} declares no '{piece}': {PIECES[piece]}"
                for piece in missing
            )
        )
    fields = set(model.model_fields) - {"id"}
    named = {field for above in model.__mro__ for field in vars(above).get("changes", ())}
    for field in sorted(fields - named):
        raise ImportError(
            f"{model.__module__}: {model.__name__}.changes leaves out '{field}': name it in "
            "told_as(level, …), so that a change of it is as loud as it is dangerous"
        )
    for field in sorted(set(own.get("changes", ())) - fields):
        raise ImportError(
            f"{model.__module__}: {model.__name__}.changes names '{field}', which is no field"
        )


def by_kind(models: Sequence[type[Entry]], *, declared: Sequence[type[Entry]]) -> dict:
    """Return models by their kind, in their order.

    Parameters
    ----------
    models : sequence of models
        In the order in which changes of their entries are told.
    declared : sequence of models
        Every model that declares a kind.

    Raises
    ------
    ImportError
        If a declared kind is not listed, two kinds claim one place, or a field is an id of a kind
        that there is not.
    """
    for model in declared:
        if model not in models:
            raise ImportError(
                f"{model.__module__}: {model.__name__} is in no list of kinds: name it in KINDS "
                "in kb/model/__init__.py, in the order in which changes are told"
            )
    for piece in DISTINCT:
        first: dict[object, type[Entry]] = {}
        for model in models:
            other = first.setdefault(getattr(model, piece), model)
            if other is not model:
                raise ImportError(
                    f"{model.__module__}: {model.__name__} has the '{piece}' of {other.__name__}, "
                    f"{getattr(model, piece)!r}: give it one of its own"
                )
    kinds = {model.kind: model for model in models}
    for model in models:
        for field, kind in _kinds_named(model):
            if kind not in kinds:
                raise ImportError(
                    f"{model.__module__}: {model.__name__}.{field} is an id of '{kind}', and "
                    "there is no such kind: mend its Ref in kb/model/words.py"
                )
    return kinds


def _kinds_named(block: type[BaseModel]) -> Iterator[tuple[str, str]]:
    for name, info in block.model_fields.items():
        ref = ref_of(info.annotation, info.metadata)
        if ref is not None:
            yield name, ref.kind
        inner = inner_block(info.annotation)
        if inner is not None:
            yield from ((f"{name}.{below}", kind) for below, kind in _kinds_named(inner))
