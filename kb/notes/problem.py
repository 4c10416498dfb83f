"""One thing wrong with the notes: where it stands, which rule it breaks, what would mend it."""

from __future__ import annotations

import difflib
from collections.abc import Iterable
from dataclasses import asdict, dataclass, field


@dataclass(frozen=True, order=True)
class Problem:
    """A fault in the notes, sorted by the place where the keeper must look.

    `line` and `column` count from 1. A `warning` does not stop a build.
    """

    file: str
    line: int
    column: int
    rule: str
    message: str
    hint: str = ""
    warning: bool = field(default=False, compare=False)
    text: str = field(default="", compare=False)  # the line itself, for the caret

    def headline(self) -> str:
        """Return `file:line:column: rule: message`, the form that editors can jump to."""
        mark = "warning: " if self.warning else ""
        return f"{self.file}:{self.line}:{self.column}: {mark}{self.rule}: {self.message}"

    def picture(self) -> str:
        """Return headline, the line, a caret under the fault, and the hint."""
        rows = [self.headline()]
        if self.text.strip():
            shown = self.text.rstrip("\n").replace("\t", " ")
            rows.append(f"    {shown}")
            rows.append("    " + " " * (self.column - 1) + "^")
        if self.hint:
            rows.append(f"    hint: {self.hint}")
        return "\n".join(rows)

    def as_json(self) -> dict[str, object]:
        """Return the fields that `check --json` promises."""
        fields = asdict(self)
        return {
            name: fields[name] for name in ("file", "line", "column", "rule", "message", "hint")
        }


def nearest(word: str, allowed: Iterable[str], *, lead: str = "did you mean") -> str:
    """Return a hint naming the allowed word closest to `word`, or the words there are."""
    names = sorted(set(allowed))
    if not names:
        return ""
    # Comparing takes as long as the word times all names, and no name is so long.
    close = difflib.get_close_matches(word, names, n=1, cutoff=0.6) if len(word) < 200 else []
    if not close:
        folded = {name.casefold(): name for name in names}
        close = [folded[word.casefold()]] if word.casefold() in folded else []
    if close:
        return f"{lead} '{close[0]}'?"
    shown = ", ".join(names[:8]) + (f" and {len(names) - 8} more" if len(names) > 8 else "")
    return f"there is: {shown}"
