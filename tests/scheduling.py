"""Which tests one worker takes together: those that open the demo, and those that publish it."""

from __future__ import annotations

from xdist.scheduler import LoadScopeScheduling

TOGETHER = ("tests/site/", "tests/release/")
"""Rooms whose tests share a build that takes long; two workers would each make it."""


class RoomScheduling(LoadScopeScheduling):
    """Give a room of TOGETHER to one worker whole, and every other test to whoever is free."""

    def _split_scope(self, nodeid: str) -> str:
        return next((room for room in TOGETHER if nodeid.startswith(room)), nodeid)
