"""Find what must not be published: addresses and numbers, keys."""

from __future__ import annotations

import re
from collections.abc import Iterator

from kb.check.people import personal
from kb.notes.folder import CONTENT
from kb.notes.load import RELEASE_FILE, TEAM_FILE, Notes

_KEY = re.compile(r"-----BEGIN [A-Z ]*PRIVATE KEY-----")


def private_findings(notes: Notes) -> list[str]:
    """Return what the notes hold that should not leave the house, each with its place and cure.

    The keeper allows exact texts by `may_be_published` in `docs_data/release.yaml`. What a case
    says about somebody is a fault of the notes and is found by `check` already. Photos are drawn
    anew for the site, and say nothing there of where they were taken.
    """
    allowed = notes.release.may_be_published if notes.release else []
    return list(_texts(notes, allowed))


def _texts(notes: Notes, allowed: list[str]) -> Iterator[str]:
    files = [notes.folder / TEAM_FILE, notes.folder / RELEASE_FILE]
    files += sorted((notes.folder / CONTENT).rglob("*.md"))
    files += [notes.folder / notes.texts[key].file for key in sorted(notes.texts)]
    for path in files:
        if not path.is_file():
            continue
        shown = path.relative_to(notes.folder).as_posix()
        for number, line in enumerate(path.read_text(encoding="utf-8-sig").splitlines(), start=1):
            if shown == RELEASE_FILE and any(words in line for words in allowed):
                continue
            for words in allowed:
                line = line.replace(words, "")
            for what, words in _private(line):
                yield (
                    f"{shown}:{number}: '{words}' looks like {what}; take it out, or add it to "
                    f"may_be_published in {RELEASE_FILE}"
                )


def _private(line: str) -> Iterator[tuple[str, str]]:
    for key in _KEY.finditer(line):
        yield "a private key", key[0]
    for what, words in personal(line):
        if what in ("an e-mail address", "a telephone number"):
            yield what, words
