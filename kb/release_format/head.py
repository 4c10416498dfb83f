"""What a release says of itself: number, date, title, the keeper's words, how much is in it."""

from __future__ import annotations

from typing import Any

from pydantic import BaseModel, ConfigDict


class Head(BaseModel):
    """The few facts of a release that a phone shows; no clock is asked for any of them.

    What another version of the program adds is kept as it was read: a list that is read and written
    again keeps its bytes, and so its name.
    """

    model_config = ConfigDict(frozen=True, strict=True, extra="allow")

    number: int
    date: str
    """Year-month-day; empty when neither the keeper nor any entry gives one."""
    title: str
    team: str
    words: tuple[str, ...] = ()
    entries: int = 0
    pages: int = 0
    stale_after_days: int = 0
    offline: bool = True
    """False lets every phone go."""
    since: dict[str, dict[str, int]] = {}
    """Earlier release → how many changes since it, and how many of them are about safety."""

    def as_dict(self) -> dict[str, Any]:
        """Return it as plain JSON values, without what nobody said."""
        return self.model_dump(mode="json", by_alias=True, exclude_unset=True)
