"""What every entry has: a name, other names, sources, and who checked it when."""

from __future__ import annotations

import re
from typing import Annotated, ClassVar

from pydantic import BaseModel, BeforeValidator, ConfigDict, Field

from .declaration import check_declared
from .field_change import Changes, told_as
from .words import Day, Id, Lines, SourceId, Text


class Block(BaseModel):
    """A group of fields; unknown keys are refused, values never change."""

    # What checks a block is built when the first one is read, and what a field is called is read
    # when somebody asks (`field_docs`): every command imports every model, and needs few.
    model_config = ConfigDict(extra="forbid", frozen=True, defer_build=True)

    @classmethod
    def meant_by(cls, words: str) -> str:
        """Return what to write where words stand instead of this block; empty if unknown."""
        return ""


class Cited(Block):
    """Where a fact comes from."""

    id: SourceId
    """The source's id."""
    at: Text | None = None
    """Where in it: clause, table, page."""


def _cited(value: object) -> object:
    """Accept `source: some-id`, one block, or a list of either."""
    several = value if isinstance(value, list) else [value]
    return [{"id": cite} if isinstance(cite, str) else cite for cite in several]


Sources = Annotated[
    list[Cited],
    BeforeValidator(_cited, json_schema_input_type=SourceId | Cited | list[SourceId | Cited]),
    Field(min_length=1),
]


def _one_or_more(value: object) -> object:
    return [value] if isinstance(value, str) else value


FormerIds = Annotated[list[Id], BeforeValidator(_one_or_more, json_schema_input_type=list[Id] | Id)]


class Checked(Block):
    """Who held the entry against its source, and when."""

    by: Text
    """Initials."""
    on: Day
    """Year-month-day."""

    @classmethod
    def meant_by(cls, words: str) -> str:
        """Return what to write instead of `yes`, a date, or initials alone."""
        text = words.strip()
        if text.casefold() in ("no", "false", "off"):
            return "leave the line out: an entry without it is a draft"
        dated = re.fullmatch(r"\d{4}-\d{2}-\d{2}", text)
        by = text if not dated and re.fullmatch(r"[A-Z]{1,4}", text) else "RT"
        return (
            f"write {{by: {by}, on: {text if dated else '2026-03-14'}}}: the initials of whoever "
            "held it against its source, and the day"
        )


class Entry(Block):
    """One file of the notes. Its file name is its id."""

    kind: ClassVar[str]
    """The folder the entry stands in."""
    noun: ClassVar[str]
    """What one of them is called in a sentence, and in Find."""
    list_title: ClassVar[str]
    """The heading of the kind's list."""
    list_lead: ClassVar[str]
    """One line that says what is in the list."""
    home_place: ClassVar[int]
    """Where the list stands among the others on the home page."""
    find_place: ClassVar[int]
    """Where the kind stands among what Find finds: what is looked for first comes first."""
    when_unnamed: ClassVar[str | None]
    """What to do with one that no entry names; None if it stands for itself."""
    changes: ClassVar[Changes] = told_as(
        "told otherwise", "name", "aka", "source", "was", "checked"
    )
    """Field → how loud a change of it is when releases are compared."""
    declared: ClassVar[list[type[Entry]]] = []
    """Every model that declares a kind."""

    id: Id
    """The file's name without `.yaml`; never written in the file."""
    name: Text
    """What the team calls it."""
    aka: Lines = []
    """What people also call it: Find finds these too."""
    source: Sources
    """Where the facts come from: an id, or `{id: …, at: page or table}`, or a list."""
    was: FormerIds = []
    """Ids that it had before: their addresses lead to it. `ohmfolio rename` writes them."""
    checked: Checked | None = None
    """Who checked it when; without it the entry is a draft and looks like one. Words that are
    written anew take it out, until somebody else has read them against the source."""

    @classmethod
    def __pydantic_init_subclass__(cls, **kwargs: object) -> None:
        """Complete what the kind says of itself, or refuse the model that leaves a piece out."""
        super().__pydantic_init_subclass__(**kwargs)
        check_declared(cls)
        inherited: Changes = getattr(cls.__base__, "changes", {})
        cls.changes = {**inherited, **vars(cls).get("changes", {})}
        if "kind" in vars(cls):
            Entry.declared.append(cls)

    def find_keys(self) -> list[tuple[str, str]]:
        """Return what somebody would type to find it: (type of key, text)."""
        return [("name", self.name), *(("aka", name) for name in self.aka)]

    @property
    def family_ids(self) -> tuple[str, ...]:
        """The families it belongs to; none for an entry that serves all of them."""
        return ()

    @property
    def draft(self) -> bool:
        """True until somebody has checked the entry."""
        return self.checked is None

    @property
    def href(self) -> str:
        """The entry's page, from the site's root."""
        return f"{self.kind}/{self.id}.html"
