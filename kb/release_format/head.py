"""What a release says of itself: number, date, title, the keeper's words, how much is in it."""

from __future__ import annotations

import datetime
from typing import Annotated, Any

from pydantic import AfterValidator, BaseModel, ConfigDict, Field, StringConstraints

from .places import NAME

MOST = 2**53 - 1
"""The greatest whole number that a phone's script counts to exactly (ECMA-262, 21.1.2.6)."""

MOST_NUMBER = 1_000_000
"""A team that publishes every hour gets there in a hundred years: a greater number is a lie."""


def _day(text: str) -> str:
    """Return a day that is one as it is written here, or nothing; ValueError else."""
    if text and datetime.date.fromisoformat(text).isoformat() != text:
        raise ValueError(text)
    return text


# A host may answer anything: what stands here is believed by every later build.
Count = Annotated[int, Field(ge=0, le=MOST)]
Name = Annotated[str, StringConstraints(pattern=rf"\A{NAME}\z")]
Day = Annotated[str, AfterValidator(_day)]


class Head(BaseModel):
    """The few facts of a release that a phone shows; no clock is asked for any of them.

    What another version of the program adds is kept as it was read: a list that is read and written
    again keeps its bytes, and so its name.
    """

    model_config = ConfigDict(frozen=True, strict=True, extra="allow")

    number: Count
    date: Day
    """Year-month-day; empty when neither the keeper nor any entry gives one."""
    title: str
    team: str
    words: tuple[str, ...] = ()
    entries: Count = 0
    pages: Count = 0
    stale_after_days: Count = 0
    offline: bool = True
    """False lets every phone go."""
    since: dict[Name, dict[str, Count]] = {}
    """Earlier release → how many changes since it, and how many of them are about safety."""

    def as_dict(self) -> dict[str, Any]:
        """Return it as plain JSON values, without what nobody said."""
        return self.model_dump(mode="json", by_alias=True, exclude_unset=True)
