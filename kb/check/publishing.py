"""What `pack` and `pocket` refuse though the notes are sound; `check` warns in the same words."""

from __future__ import annotations

import datetime
import re
from collections.abc import Iterator, Sequence

from kb.catalog import Catalog
from kb.made_pages import written_pages
from kb.notes.file_text import decoded
from kb.notes.folder import CONTENT
from kb.notes.load import RELEASE_FILE, TEAM_FILE, Notes
from kb.notes.problem import Problem
from kb.notes.yaml_text import YamlText
from kb.release_format.kept import read_history
from kb.site_folder import WORK
from kb.snapshot import take_snapshot

from .dates import dates_to_come, years_to_come
from .private_words import private_in

_AS_TYPED = re.compile(
    r"^(?P<fence>```+|~~~+)[^\n]*\n(?:(?!(?P=fence))[^\n]*\n)*|`[^`\n]{1,400}`", re.MULTILINE
)
"""What a page shows as it is typed: a comment there is text that everybody sees."""
PRIVATE = "private"
"""The rule of words that must not leave the house."""
NO_NUMBER = "no-number"
"""The rule of what `due` alone says: that nobody knows the next release's number."""


def refused_by_pack(notes: Notes, *, today: datetime.date, last: int = 0) -> list[Problem]:
    """Return what must not be published, as warnings, sorted by place: one list for all who ask.

    Parameters
    ----------
    notes : Notes
    today : date
        What is dated later is refused; a build, which asks no clock, gives `date.max`.
    last : int
        The last number that was published elsewhere, where no record of it is here.
    """
    return sorted([*unfit_to_leave(notes, today=today), *used_number(notes, last=last)])


def warned_of_today(notes: Notes, *, today: datetime.date) -> list[Problem]:
    """Return what `check` and `due` warn of beyond the rules: what needs a clock, or is refused."""
    return sorted([*refused_by_pack(notes, today=today), *years_to_come(notes, today=today)])


def unknown_number(notes: Notes) -> Iterator[Problem]:
    """Warn that nothing here tells which number was published last; `pack` asks for it then."""
    team = notes.team
    known = notes.release is not None or team is None or team.published is not None
    if not known and not read_history(notes.folder / WORK):
        yield Problem(
            TEAM_FILE,
            1,
            1,
            NO_NUMBER,
            "nothing here tells which release was published last",
            "write published: and the address here, or pack once: ohmfolio pack --after NUMBER",
            warning=True,
        )


def unfit_to_leave(notes: Notes, *, today: datetime.date) -> list[Problem]:
    """Return what must not leave the house, by whatever way: private words, and dates to come."""
    return sorted([*private_words(notes), *dates_to_come(notes, today=today)])


def private_words(notes: Notes) -> Iterator[Problem]:
    """Warn of addresses, numbers, keys and passwords in what would be published.

    The keeper allows exact texts by `may_be_published` in `docs_data/release.yaml`. What a case
    says about somebody is a fault of the notes, and told as one.
    """
    allowed = notes.release.may_be_published if notes.release else []
    entries = {
        notes.texts[key].file: notes.texts[key] for key in sorted(notes.texts) if key[0] != "cases"
    }
    pages = [path.relative_to(notes.folder).as_posix() for path in written_pages(notes).values()]
    own = [file for file in (TEAM_FILE, RELEASE_FILE) if (notes.folder / file).is_file()]
    for file in (*own, *pages, *entries):
        text, problems = decoded((notes.folder / file).read_bytes(), file=file)
        found = [] if problems else list(private_in_file(text, file=file, allowed=allowed))
        yield from found
        if file in entries:
            yield from _spread_out(entries[file], allowed=allowed, known=found)


def private_in_file(text: str, *, file: str, allowed: Sequence[str] = ()) -> Iterator[Problem]:
    """Warn of what is private in a file as it is written.

    Parameters
    ----------
    text : str
    file : str
        Its name; an entry is read line by line, a page may break a number over two.
    allowed : sequence of str
        Exact texts that only look private.
    """
    lines = text.splitlines()
    left = "\n".join(
        "" if file == RELEASE_FILE and any(words in line for words in allowed) else line
        for line in lines
    )
    left = _without(left, allowed)
    at_once = [left] if file.startswith(f"{CONTENT}/") else left.split("\n")
    first = 1
    for piece in at_once:
        for what, start, end in private_in(piece):
            before = piece[:start]
            number = first + before.count("\n")
            column = start - (before.rfind("\n") + 1) + 1
            words = " ".join(piece[start:end].split())
            yield _private(what, words, file=file, at=(number, column), line=lines[number - 1])
        first += piece.count("\n") + 1
    if file.startswith(f"{CONTENT}/"):
        yield from _comments(left, file=file)


def _without(text: str, words: Sequence[str]) -> str:
    """Return a text in which allowed words are dots of the same length: no number spans them."""
    for allowed in words:
        text = text.replace(allowed, "…" * len(allowed)) if allowed else text
    return text


def _spread_out(
    read: YamlText, *, allowed: Sequence[str], known: Sequence[Problem]
) -> Iterator[Problem]:
    """Warn of what an entry says over several lines, or in signs that only YAML reads."""
    whole = "\n".join(read.lines)
    for path, text in read.texts():
        if "\n" not in text and text in whole:
            continue  # searched with its line
        for what, start, end in private_in(_without(text, allowed)):
            words = " ".join(text[start:end].split())
            mark = read.place(path)
            line = read.lines[mark.line - 1] if mark.line <= len(read.lines) else ""
            found = _private(what, words, file=read.file, at=mark, line=line)
            if all(found.message != other.message for other in known):
                yield found


def _comments(text: str, *, file: str) -> Iterator[Problem]:
    """Warn of a comment in a page: nobody sees it, and everybody can read it."""
    shown = _AS_TYPED.sub(lambda typed: re.sub(r"[^\n]", " ", typed[0]), text)
    for comment in re.finditer("<!--", shown):
        before = shown[: comment.start()]
        number = before.count("\n") + 1
        yield Problem(
            file,
            number,
            comment.start() - (before.rfind("\n") + 1) + 1,
            PRIVATE,
            "a comment is published with its page, and whoever looks at the source reads it",
            f"take it out, or add its words to may_be_published in {RELEASE_FILE}",
            warning=True,
            text=text.split("\n")[number - 1],
        )


def _private(what: str, words: str, *, file: str, at: tuple[int, int], line: str) -> Problem:
    return Problem(
        file,
        *at,
        PRIVATE,
        f"'{words}' looks like {what}, and is not published",
        f"take it out, or add it to may_be_published in {RELEASE_FILE}",
        warning=True,
        text=line,
    )


def used_number(notes: Notes, *, last: int = 0) -> Iterator[Problem]:
    """Warn of a release number that other notes were published under: no phone would take it.

    Parameters
    ----------
    notes : Notes
    last : int
        The last number that was published elsewhere, where no record of it is here.
    """
    keeper, read = notes.release, notes.release_text
    if keeper is None or read is None or any(not problem.warning for problem in notes.problems):
        return
    history = read_history(notes.folder / WORK)
    says = None
    if history and history[-1].number >= keeper.number:
        says = take_snapshot(Catalog(notes))
    used = [old for old in history if old.number >= keeper.number and old.notes != says]
    if used:
        newest = used[-1]
        by = f"with other notes (release {newest.number}, {newest.name})"
        yield _used(read, number=keeper.number, by=by, last=newest.number)
    elif keeper.number <= last:
        yield _used(read, number=keeper.number, by=f"elsewhere: the last is {last}", last=last)


def _used(read: YamlText, *, number: int, by: str, last: int) -> Problem:
    return read.problem(
        ("number",),
        "used-number",
        f"number {number} was published already {by}",
        hint=f"write number: {last + 1}",
        warning=True,
    )
