"""The team: who the contractor is, and what its engineers carry when nothing else is said."""

from __future__ import annotations

import re
from typing import Annotated, Literal
from urllib.parse import urlsplit

from pydantic import BeforeValidator, Field

from .entry import Block
from .off_page import OffPage
from .words import Fault, InstrumentId, Number, Text, Whole


def web_address(value: str) -> str:
    """Return the address of a site with one slash at its end.

    Raises
    ------
    Fault
        When no browser would find a host in it.
    """
    text = value.strip()
    if not is_web_address(text):
        raise Fault(
            f"'{value}' is no address that a browser opens",
            hint="write it whole, such as https://notes.example/team/",
        )
    return text.rstrip("/") + "/"


def _address(value: object) -> object:
    return web_address(value) if isinstance(value, str) else value


def is_web_address(text: str) -> bool:
    """Return whether a text begins like the address of a site, host and all, and ends there."""
    parts = urlsplit(text)
    plain = text.isascii() and text.isprintable() and " " not in text
    whole = parts.scheme in ("https", "http") and bool(parts.hostname)
    return plain and whole and not parts.query and not parts.fragment and not parts.username


_NOT_READ = "A phone holds releases to it, and says the mark of the key that it trusts itself."
NOBODY = "none"
"""Stands for a key where nobody signs any more."""


class Ring(Block):
    """Somebody to ring."""

    who: Text
    """Whom: a function such as `The office`, never a person's name."""
    when: Text
    """For what, and at which hours."""
    number: Text | None = None
    """The number, as it is dialled; the page makes it a key. None where it stands elsewhere."""


def _written_by_command(value: object, *, signs: int) -> object:
    if isinstance(value, str) and re.fullmatch(rf"[0-9a-f]{{{signs}}}", value):
        return value
    raise Fault(
        f"this is not what 'ohmfolio key' writes: {signs} of 0-9 and a-f",
        hint="bring these lines back as they were; 'ohmfolio key show' says what they mean",
    )


def _public_key(value: object) -> object:
    return _written_by_command(value, signs=64)


def _key_or_nobody(value: object) -> object:
    return value if value == NOBODY else _public_key(value)


def _signature(value: object) -> object:
    return _written_by_command(value, signs=128)


class KeyBefore(Block):
    """A key that signed releases before, and its word for the key that followed."""

    key: Annotated[str, BeforeValidator(_public_key), OffPage(_NOT_READ)]
    """The public key."""
    by: Annotated[str, BeforeValidator(_signature), OffPage(_NOT_READ)]
    """Its signature over the key after it: phones that trust it go on to that one."""


class Signing(Block):
    """Who signs the releases. `ohmfolio key` writes it; the private key is never in the notes."""

    key: Annotated[str, BeforeValidator(_key_or_nobody), OffPage(_NOT_READ)]
    """The public key that releases are signed by; `none` where signing was stopped."""
    before: list[KeyBefore] = []
    """Earlier keys, the oldest first."""

    @property
    def signs(self) -> bool:
        """Whether releases are to be signed now."""
        return self.key != NOBODY


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
    voltage_tester: InstrumentId | None = None
    """What proves a machine dead: a two-pole voltage tester, and never a meter."""
    stale_after_days: Annotated[
        Whole, OffPage("The release carries it to the phone, which says so on every page itself.")
    ] = Field(default=60, ge=1)
    """A copy older than this says so loudly."""
    published: Annotated[
        Text | None, OffPage("Only `pack` asks there; a phone knows where its copy came from.")
    ] = None
    """The address or folder where the notes are published: `pack` asks there which number was the
    last, so that two computers never give one number twice."""
    check_again_after_days: Whole = Field(default=1100, ge=1)
    """An entry that was checked longer ago than this waits to be checked again."""
    short_below_ohm: Number = Field(default=5.0, gt=0)
    """A sensor reading below this is a short circuit (leads and clips included)."""
    language: Annotated[
        Literal["english", "german"],
        OffPage("Every word of the site that is not an entry's is in it."),
    ] = "english"
    """What the site speaks around your entries: `english` or `german`. Entries stay as written, and
    so do commands and the keeper's pages."""
    paper: Annotated[
        Literal["a4", "letter"],
        OffPage("The size of the sheets that are printed, not a word there."),
    ] = "a4"
    """What lies in your printer: `a4` (210 × 297 mm) or `letter` (8.5 × 11 in)."""
    address: Annotated[
        str | None,
        BeforeValidator(_address),
        OffPage("Stickers and printed sheets lead there; a phone knows where its copy came from."),
    ] = None
    """Where a browser opens the notes: stickers and printed sheets lead there. Without it
    `published` serves, where that is an address."""
    safety: Text | None = None
    """The team's own words about safety, above ours on the Safety page."""
    ring: list[Ring] = []
    """Whom to ring when the work stops, the most urgent first: first of all on Stop and ring."""

    signing: Signing | None = None
    """Whose signature a release must have. `ohmfolio key make` switches it on."""

    @property
    def at_address(self) -> str | None:
        """Where a browser opens the notes, with a slash at its end; None when nobody said."""
        if self.address is not None:
            return self.address
        if self.published is not None and is_web_address(self.published):
            return self.published.rstrip("/") + "/"
        return None
