"""The team: who the contractor is, and what its engineers carry when nothing else is said."""

from __future__ import annotations

from pydantic import Field

from .entry import Block
from .words import InstrumentId, Number, Text, Whole


class Team(Block):
    """`docs_data/team.yaml`: one file, about us."""

    name: Text
    """The contractor's name, shown on every page."""
    title: Text
    """What the site is called."""
    meter: InstrumentId
    """The meter an engineer carries unless they say otherwise."""
    thermometer: InstrumentId
    """The thermometer an engineer carries unless they say otherwise."""
    stale_after_days: Whole = Field(default=60, ge=1)
    """A copy older than this says so loudly."""
    short_below_ohm: Number = Field(default=5.0, gt=0)
    """A sensor reading below this is a short circuit (leads and clips included)."""
    safety: Text | None = None
    """The team's own words about safety, above ours on the Safety page."""
