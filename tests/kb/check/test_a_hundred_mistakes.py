"""A hundred mistakes seeded into good notes: each is named at its line, with a hint that mends it.

The table is `tests/data/mistakes.yaml`. A row says what is changed, and the first thing that
`check` must say of it. Where the hint holds the right words, `put` names them: they are put in place
of `piece`, and the notes are good again.
"""

from __future__ import annotations

import datetime
import io
import shutil
import zipfile
from dataclasses import dataclass
from pathlib import Path

import pytest
import yaml

from kb.check import check_notes
from kb.check.publishing import warned_of_today
from kb.notes.problem import Problem

DATA = Path(__file__).resolve().parents[2] / "data"
TODAY = datetime.date(2026, 11, 27)
FEWEST = 100


@dataclass(frozen=True)
class Mistake:
    """One row of the table.

    Parameters
    ----------
    what : str
        The mistake in words.
    file : str
        The good file, from the notes' folder.
    at, says, hint : str
        `file:line:column` of what must be said, the rule with its message, and the hint.
    right, wrong : str
        What is changed, and into what; without `right`, `wrong` is put behind the text.
    written : str
        How the file is saved instead: `utf-16`, `cp1252`, `sheet`, `photo`, `empty`, or `name` for
        another name, which is `wrong` then.
    piece, put : str
        What the hint replaces, and by what.
    """

    what: str
    file: str
    at: str
    says: str
    hint: str
    right: str = ""
    wrong: str = ""
    written: str = ""
    piece: str = ""
    put: str | None = None


MISTAKES = [
    Mistake(**row) for row in yaml.safe_load((DATA / "mistakes.yaml").read_text(encoding="utf-8"))
]


def _seed(notes: Path, mistake: Mistake) -> None:
    path = notes / mistake.file
    text = path.read_text(encoding="utf-8")
    if mistake.written == "name":
        path.rename(notes / mistake.wrong)
        return
    if mistake.right:
        assert mistake.right in text, "the good notes no longer say so: choose another change"
        text = text.replace(mistake.right, mistake.wrong, 1)
    else:
        text += mistake.wrong
    path.write_bytes(_saved(text, how=mistake.written))


def _saved(text: str, *, how: str) -> bytes:
    if how == "sheet":
        raw = io.BytesIO()
        with zipfile.ZipFile(raw, "w") as packed:
            packed.writestr("xl/workbook.xml", "")
        return raw.getvalue()
    if how in ("photo", "empty"):
        return b"\xff\xd8\xff\xe0" if how == "photo" else b""
    return text.encode(how or "utf-8")


def _found(notes: Path) -> list[Problem]:
    read = check_notes(notes)
    return sorted([*read.problems, *warned_of_today(read, today=TODAY)])


def test_there_are_a_hundred_and_no_two_are_the_same() -> None:
    assert len(MISTAKES) >= FEWEST
    assert len({(row.file, row.right, row.wrong, row.written) for row in MISTAKES}) == len(MISTAKES)
    assert len({row.what for row in MISTAKES}) == len(MISTAKES)


@pytest.mark.parametrize("mistake", MISTAKES, ids=lambda mistake: mistake.what)
def test_a_mistake_is_named_at_its_line_with_what_mends_it(
    notes: Path, good: Path, mistake: Mistake
) -> None:
    _seed(notes, mistake)
    found = {
        (f"{each.file}:{each.line}:{each.column}", f"{each.rule}: {each.message}", each.hint)
        for each in _found(notes)
    }
    assert (mistake.at, mistake.says, mistake.hint) in found
    assert mistake.hint
    if mistake.put is None:
        return
    path = notes / mistake.file
    text = path.read_text(encoding="utf-8")
    assert mistake.put in mistake.hint or not mistake.put
    line = int(mistake.at.split(":")[1])
    before, from_line = (
        "".join(text.splitlines(True)[: line - 1]),
        text.splitlines(True)[line - 1 :],
    )
    mended = before + "".join(from_line).replace(mistake.piece, mistake.put, 1)
    if mended != (good / mistake.file).read_text(encoding="utf-8"):
        path.write_text(mended, encoding="utf-8")
        assert [problem.headline() for problem in _found(notes)] == []


@pytest.mark.parametrize("written", ["a tab", "the hint"])
def test_the_table_can_fail(notes: Path, good: Path, written: str) -> None:
    """A row whose place or hint is wrong is not let pass."""
    first = MISTAKES[0]
    wrong = {"a tab": {"at": f"{first.file}:1:1"}, "the hint": {"hint": "write it well"}}[written]
    with pytest.raises(AssertionError):
        test_a_mistake_is_named_at_its_line_with_what_mends_it(
            notes, good, Mistake(**{**vars(first), **wrong})
        )


def test_every_name_of_a_file_is_read_back_from_where_it_went(notes: Path, good: Path) -> None:
    """What is misnamed is renamed as the hint says, and the notes are good again."""
    for row in MISTAKES:
        if row.written == "name":
            shutil.rmtree(notes)
            shutil.copytree(good, notes)
            _seed(notes, row)
            (target,) = {
                each.hint.rpartition(" ")[2] for each in _found(notes) if each.rule == "unknown-id"
            }
            folder = Path(row.wrong).parent if "/" not in target else Path()
            (notes / row.wrong).rename(notes / folder / target)
            assert _found(notes) == []
