"""Which tests one worker takes together: those that share what takes long to make."""

from __future__ import annotations

from xdist.scheduler import LoadScopeScheduling

PUBLISHED = "tests/release/"
"""A room whose tests share releases of the demo; two workers would each make them."""
OPENED = "tests/site/"
"""A room whose tests share a build of the demo: each worker makes one, and takes file by file."""
VECTORS = (
    "tests/site/test_arithmetic.py",
    "tests/site/test_page_words.py",
    "tests/site/test_german_statements.py",
)
"""Files whose tests share Python's answers to every vector."""


class RoomScheduling(LoadScopeScheduling):
    """Give what is shared to one worker whole, and every other test to whoever is free."""

    def _split_scope(self, nodeid: str) -> str:
        if nodeid.startswith(PUBLISHED):
            return PUBLISHED
        if nodeid.startswith(VECTORS):
            return VECTORS[0]
        return nodeid.partition("::")[0] if nodeid.startswith(OPENED) else nodeid
