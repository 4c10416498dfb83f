"""What `pack` and `pocket` refuse though the notes are sound; `check` warns in the same words."""

from __future__ import annotations

import datetime
import re
from collections.abc import Iterator

from kb.catalog import Catalog
from kb.notes.file_text import decoded
from kb.notes.folder import CONTENT
from kb.notes.load import RELEASE_FILE, TEAM_FILE, Notes
from kb.notes.problem import Problem
from kb.release_format.kept import read_history
from kb.site_folder import WORK
from kb.snapshot import take_snapshot

from .dates import dates_to_come
from .people import personal

_KEY = re.compile(r"-----BEGIN [A-Z ]*PRIVATE KEY-----")
_EVERYWHERE = ("an e-mail address", "a telephone number")
"""What is looked for in every file; names and streets are so in a case alone."""


def refused_by_pack(notes: Notes, *, today: datetime.date) -> list[Problem]:
    """Return what must not be published, as warnings, sorted by place.

    Parameters
    ----------
    notes : Notes
    today : date
        What is dated later is refused.
    """
    return sorted([*unfit_to_leave(notes, today=today), *used_number(notes)])


def unfit_to_leave(notes: Notes, *, today: datetime.date) -> list[Problem]:
    """Return what must not leave the house, by whatever way: private words, and dates to come."""
    return sorted([*private_words(notes), *dates_to_come(notes, today=today)])


def private_words(notes: Notes) -> Iterator[Problem]:
    """Warn of addresses, numbers and keys in what would be published.

    The keeper allows exact texts by `may_be_published` in `docs_data/release.yaml`. What a case
    says about somebody is a fault of the notes, and told as one.
    """
    allowed = notes.release.may_be_published if notes.release else []
    pages = sorted((notes.folder / CONTENT).rglob("*.md"))
    files = [TEAM_FILE, RELEASE_FILE]
    files += [page.relative_to(notes.folder).as_posix() for page in pages]
    files += [notes.texts[key].file for key in sorted(notes.texts) if key[0] != "cases"]
    for file in files:
        path = notes.folder / file
        text, problems = decoded(path.read_bytes(), file=file) if path.is_file() else ("", [])
        for number, line in enumerate([] if problems else text.splitlines(), start=1):
            if file == RELEASE_FILE and any(words in line for words in allowed):
                continue
            yield from _private(line, file=file, number=number, allowed=allowed)


def _private(line: str, *, file: str, number: int, allowed: list[str]) -> Iterator[Problem]:
    left = line
    for words in allowed:
        left = left.replace(words, "")
    found = [("a private key", key[0]) for key in _KEY.finditer(left)]
    found += [(what, words) for what, words in personal(left) if what in _EVERYWHERE]
    for what, words in found:
        yield Problem(
            file,
            number,
            max(line.find(words), 0) + 1,
            "private",
            f"'{words}' looks like {what}, and is not published",
            f"take it out, or add it to may_be_published in {RELEASE_FILE}",
            warning=True,
            text=line,
        )


def used_number(notes: Notes) -> Iterator[Problem]:
    """Warn of a release number that other notes were published under: no phone would take it."""
    keeper, read = notes.release, notes.release_text
    if keeper is None or read is None or any(not problem.warning for problem in notes.problems):
        return
    history = read_history(notes.folder / WORK)
    if not history or history[-1].number < keeper.number:
        return
    says = take_snapshot(Catalog(notes))
    used = [old for old in history if old.number >= keeper.number and old.notes != says]
    if used:
        last = used[-1]
        yield read.problem(
            ("number",),
            "used-number",
            f"number {keeper.number} was published already with other notes (release "
            f"{last.number}, {last.name})",
            hint=f"write number: {last.number + 1}",
            warning=True,
        )
