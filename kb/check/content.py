"""Hand-written pages: the safety page is there, names are free, what is written can be built."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator, Mapping

from kb.made_pages import made_names, written_pages
from kb.notes.file_text import decoded
from kb.notes.folder import (
    CONTENT,
    NOT_UTF_8,
    UNSEEN,
    leads_out,
    page_files,
    readable_name,
    shown_name,
    shown_path,
)
from kb.notes.front_matter import read_front_matter
from kb.notes.load import Notes
from kb.notes.problem import Problem
from kb.release_format.places import RELEASES, SCRIPT

from .outline import Key, Outline
from .page_text import faults_of_page

_NO_NAME = re.compile(rf"[\\#?%:\"<>|*]|{UNSEEN.pattern}")
"""What an address takes for something else, a host's disk cannot keep, or nobody can see."""
_SIMPLE = "give it a name of letters, digits and hyphens"
SAFETY = f"{CONTENT}/safety.md"
PAGE = ".html"
_OTHER_FOLDERS = (SCRIPT, f"{RELEASES}/any")
"""Something in each folder that a site has beside those of pages."""


def safety_page_is_there(notes: Notes) -> Iterator[Problem]:
    """Yield a problem when there is no safety page, which pages that lead to a meter name."""
    if not (notes.folder / SAFETY).is_file():
        yield Problem(
            SAFETY,
            1,
            1,
            "no-safety-page",
            "every page that leads to a measurement links to this page, and it is not there",
            "write it; 'ohmfolio start DIR --bare' has one to begin with",
        )


def pages_keep_their_names(notes: Notes, *, outlines: Mapping[Key, Outline]) -> Iterator[Problem]:
    """Yield each hand-written page that has the name of a page made from entries."""
    for name in sorted(written_pages(notes).keys() & _made(notes, outlines)):
        yield Problem(
            f"{CONTENT}/{name}.md",
            1,
            1,
            "made-page",
            "a page of this name is made from entries",
            "give this page another name",
        )


def pages_differ_in_more_than_capitals(
    notes: Notes, *, outlines: Mapping[Key, Outline]
) -> Iterator[Problem]:
    """Yield each page that many disks take for another: a phone's, a zip's, a host's."""
    made = _made(notes, outlines)
    spelled: dict[str, str] = {}
    for name in (*_OTHER_FOLDERS, *made):
        for step in _steps(name):
            spelled.setdefault(_folded(step), step)
    for name in written_pages(notes):
        if name in made:
            continue
        for step in _steps(name):
            other = spelled.setdefault(_folded(step), step)
            if other != step:
                kind = "page" if step.endswith(PAGE) else "folder"
                yield Problem(
                    f"{CONTENT}/{name}.md",
                    1,
                    1,
                    "alike-name",
                    f"'{step.removesuffix(PAGE)}' differs from the {kind} "
                    f"'{other.removesuffix(PAGE)}' in capitals only, "
                    "and many disks take both for one",
                    f"give this {kind} another name"
                    + (", or write both alike" if kind == "folder" else ""),
                )
                break


def _steps(name: str) -> Iterator[str]:
    """Yield each folder on the way to a page, and the page."""
    folders = name.split("/")[:-1]
    for count in range(1, len(folders) + 1):
        yield "/".join(folders[:count])
    yield name + PAGE


def _folded(step: str) -> str:
    """Return a path as a disk compares it that keeps capitals and does not tell them apart."""
    return unicodedata.normalize("NFC", unicodedata.normalize("NFC", step).casefold())


def pages_can_be_built(notes: Notes, *, outlines: Mapping[Key, Outline]) -> Iterator[Problem]:
    """Yield what the build would refuse in a hand-written page: dead links, handlers, no text."""
    yield from _nameless(notes)
    written = written_pages(notes)
    pages = {*written, *_made(notes, outlines)}
    photos = {path for outline in outlines.values() for path in outline.photos}
    for name, path in written.items():
        file = f"{CONTENT}/{name}.md"
        if leads_out(path, inside=notes.folder):
            yield Problem(
                file,
                1,
                1,
                "link-out",
                "this link leads out of the notes, and what it leads to would be published",
                "put the page itself here, or a link to one inside the notes",
            )
            continue
        text, problems = decoded(path.read_bytes(), file=file)
        yield from problems
        if not problems:
            yield from read_front_matter(text, file=file).problems
            yield from faults_of_page(text, name=name, file=file, pages=pages, photos=photos)


def _made(notes: Notes, outlines: Mapping[Key, Outline]) -> set[str]:
    """Return the name of every page that is made; of what cannot be read too, once it is mended."""
    ids = [*outlines, *notes.broken]
    return made_names(ids, was={key: outline.was for key, outline in outlines.items()})


def _nameless(notes: Notes) -> Iterator[Problem]:
    """Yield each hand-written page whose name no link could say, or no host could keep."""
    for path in page_files(notes.folder):
        name = path.relative_to(notes.folder / CONTENT).with_suffix("").as_posix()
        fault = _fault_of_name(name)
        if fault:
            file = shown_path(path, notes=notes.folder)
            yield Problem(file, 1, 1, "file-name", *fault)


def _fault_of_name(name: str) -> tuple[str, str] | None:
    """Return what is wrong with a page's name and what would work; None when nothing is."""
    if not readable_name(name):
        return NOT_UTF_8, "give it a name of letters that a keyboard has"
    odd = _NO_NAME.search(name)
    if odd:
        sign = shown_name(odd[0])
        return f"'{sign}' in a page's name means something else in a link", _SIMPLE
    if any(step != step.strip() for step in name.split("/")):
        return "this name begins or ends with a blank", "take it away"
    if name.rpartition("/")[2] == "README":
        return "a README is the first page of its folder, and no page of its own", _SIMPLE
    return None
