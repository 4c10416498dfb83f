"""A sentence without its words: which one it is, and the figures that stand in it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field


@dataclass(frozen=True, kw_only=True)
class Statement:
    """Something to be said; `kb.words.phrase` finds the words.

    Parameters
    ----------
    id : str
        Section and name in the catalogue of words, such as `reading.open`.
    figures : mapping of str to float, str, Statement, or a list of these
        By placeholder; the unit in a name decides how it is printed.
    """

    id: str
    figures: Mapping[str, object] = field(default_factory=dict)

    def as_dict(self) -> dict[str, object]:
        """Return it as plain values, as the page has it."""
        return {"id": self.id, "figures": {k: _plain(v) for k, v in self.figures.items()}}


@dataclass(frozen=True, kw_only=True)
class Choice:
    """One way to take what could be read two ways.

    Parameters
    ----------
    id : str
        Its name in the catalogue of words, section `choice`.
    typed : str
        What to type for it instead; nothing where it must be measured again.
    """

    id: str
    typed: str


class Refusal(Exception):
    """A question that has no answer: raised by whatever meets it, caught by whoever asked.

    Attributes
    ----------
    field : str
        The field to look at again: `at`, `reading`, …; "" where it is none in particular.
    statement : Statement
        Why, and what would work.
    missing : bool
        True where nothing was typed yet: that is no fault.
    choices : tuple of Choice
        What it asks, where it is a question: how to take what was typed.
    """

    def __init__(
        self,
        statement: Statement,
        *,
        field: str = "",
        missing: bool = False,
        choices: Sequence[Choice] = (),
    ) -> None:
        super().__init__(statement.id)
        self.statement, self.field, self.missing = statement, field, missing
        self.choices = tuple(choices)

    def as_dict(self) -> dict[str, object]:
        """Return it as plain values, as the page has it."""
        return {
            "field": self.field,
            "statement": self.statement.as_dict(),
            "missing": self.missing,
            "choices": [{"id": choice.id, "typed": choice.typed} for choice in self.choices],
        }


def _plain(value: object) -> object:
    if isinstance(value, Statement):
        return value.as_dict()
    if isinstance(value, Sequence) and not isinstance(value, str):
        return [_plain(item) for item in value]
    return value
