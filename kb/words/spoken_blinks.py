"""Say a blink pattern as people say it to each other."""

from __future__ import annotations

from .phrase import in_words


def spoken_blinks(long: int, *, short: int) -> str:
    """Return `2 long 4 short`, or the one kind that there is, in the language in force."""
    if long and short:
        return in_words("blinks.both", long=long, short=short)
    return in_words("blinks.long", count=long) if long else in_words("blinks.short", count=short)
