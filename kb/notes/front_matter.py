"""What a hand-written page says of itself between two lines of `---`; all else is its text."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field, replace

from .problem import Problem, nearest
from .yaml_text import YamlText, read_yaml

KEYS = ("summary", "title")
"""What the frame takes from a page; whatever else stood there would vanish without a word."""
_FENCE = "---"
_FOR_READERS = "words for readers stand below the second '---'"


@dataclass(frozen=True)
class FrontMatter:
    """What a page says of itself, and where its text begins."""

    words: dict[str, str] = field(default_factory=dict)
    """Each of KEYS that is there."""
    text: str = ""
    """The page below it; the whole page where nothing stands before the text."""
    problems: list[Problem] = field(default_factory=list)


def read_front_matter(page: str, *, file: str) -> FrontMatter:
    """Return what a page says of itself.

    Only keys that are known, with words behind them, are taken off the text: a block that holds
    anything else stays on the page, and `problems` names what is wrong with it.

    Parameters
    ----------
    page : str
        The page as written.
    file : str
        The name to show in problems.
    """
    lines = page.splitlines(keepends=True)
    bare = [line.rstrip() for line in lines]
    if not bare or bare[0] != _FENCE or _FENCE not in bare[1:]:
        return FrontMatter(text=page)
    end = bare.index(_FENCE, 1)
    read = read_yaml("".join(lines[1:end]), file=file)
    # Words between two rules are no block of keys.
    if not read.problems and not isinstance(read.value, dict):
        return FrontMatter(text=page)
    found = [replace(fault, line=fault.line + 1) for fault in _faults(read)]
    if found:
        return FrontMatter(text=page, problems=found)
    return FrontMatter(
        words={key: str(read.at((key,))) for key in KEYS if read.at((key,)) is not None},
        text="".join(lines[end + 1 :]).lstrip("\n"),
    )


def _faults(read: YamlText) -> Iterator[Problem]:
    yield from read.problems
    for key, value in read.value.items() if isinstance(read.value, dict) else ():
        if key not in KEYS:
            yield read.problem(
                (key,),
                "front-matter",
                f"'{key}' between the lines of '---' is not read, and would not be on the page",
                hint=f"{_FOR_READERS}; {nearest(key, KEYS)}",
                key=True,
            )
        elif value is not None and not isinstance(value, str):
            yield read.problem(
                (key,),
                "front-matter",
                f"'{key}' should be one line of words",
                hint="put them in quotes: YAML takes brackets, and ': ', for something else",
            )
