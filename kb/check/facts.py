"""Every fact rests on something that a colleague could look up again."""

from __future__ import annotations

from collections.abc import Iterator

from kb.model import Curve, Source
from kb.notes.load import Notes
from kb.notes.problem import Problem


def publications_are_dated(source: Source, *, notes: Notes) -> Iterator[Problem]:
    """Warn of a publication that cannot be found again: no edition, no year, no place."""
    if source.title is None:
        return
    if not (source.edition or source.year or source.where):
        yield notes.problem(
            source,
            ("title",),
            "undated",
            "nobody can find this publication again: no edition, no year, no 'where'",
            hint="tables change between editions: write what the copy says",
            warning=True,
        )


def numbers_have_more_than_practice(curve: Curve, *, notes: Notes) -> Iterator[Problem]:
    """Yield each curve that rests on common practice alone: practice prints no table."""
    sources = [notes.of(Source).get(cited.id) for cited in curve.source]
    if all(source is not None and source.practice is not None for source in sources):
        yield notes.problem(
            curve,
            ("source",),
            "no-origin",
            "a curve needs a publication or a measurement, and this one has common practice only",
            hint="name the data sheet, or measure it and say so in a source",
        )
