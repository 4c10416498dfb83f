"""Say why a file is no YAML, where the keeper must look and not where a parser stopped."""

from __future__ import annotations

import re
from collections.abc import Iterator

import yaml

_QUOTES = "put the text in quotes if it holds ': ' or ' #' or starts with a sign"
_OPENS = {"]": "[", "}": "{"}
_OPEN = "what is opened here is never closed"
_WORDED = (
    ("\\t", "a tab stands where spaces should", "use spaces, never tabs, to indent"),
    ("end of stream", _OPEN, "close the quote or the bracket"),
    ("mapping values", "a second ': ' in one line", _QUOTES),
    (
        "block end",
        "this line is indented unlike the ones above it",
        "line it up with its neighbours",
    ),
    ("expected ':'", "a key without its ': '", f"write 'key: value', or {_QUOTES}"),
)
"""What the parser says → how we say it, and what would mend it."""

BrokenAt = tuple[int, int, str, str]
"""Line and column, both from 1, what is wrong, and what would mend it."""

_WIDE = "\u00a0\u1680\u2000-\u200a\u202f\u205f\u3000"
_WIDE_INDENT = re.compile(rf"[ ]*+(?:- ++)?(?P<at>[{_WIDE}])")
_WIDE_AFTER = re.compile(rf"[ ]*+(?:- ++)?[\w .,°+−-]++:(?P<at>[{_WIDE}])")
_NO_SPACE = re.compile(r"[ ]*(?:- +)?(?P<key>[\w.,°+−-][\w .,°+−-]*?):(?P<at>[^\s:/][^\s]*.*)")
_KEY_LINE = re.compile(r"(?P<indent>[ ]*)(?:- +)?[^\s#'\"\[{][^#]*?:(?P<value>\s+[^\s#].*)?\s*")

_SIGN_FIRST = re.compile(
    r"found character '(?P<sign>[^\\]+?)' that cannot start any token"
    r"|expected alphabetic or numeric character, but found '(?P<after>.+?)'"
)
_FENCE = re.compile(r"\s*(?:```|~~~)")
_EQUALS = re.compile(r"[ ]*(?:- +)?(?P<key>[\w.°+−-]+)(?P<at> *)=\s*(?P<value>[^:]*)")
_KEY_ALONE = re.compile(r"[ ]*(?:- +)?(?P<key>[\w.°+−-]+)(?P<value> +[^:]+(?::\S[^:]*)*)?")


def why_broken(error: Exception, *, text: str, lines: list[str]) -> BrokenAt:
    """Return where and why a text is no YAML.

    Parameters
    ----------
    error : Exception
        What the parser of PyYAML in Python raised.
    text : str
        The whole file.
    lines : list of str
        The same, line by line.
    """
    mark = getattr(error, "problem_mark", None)
    what = (getattr(error, "problem", None) or (str(error).splitlines() or ["broken"])[0]).strip()
    last = mark.line if mark else len(lines) - 1
    found = _wide_space(lines[: last + 2]) or (_quote(text, mark) if mark else None)
    if found is None and mark and "end of stream" not in what:
        context = getattr(error, "context_mark", None)
        found = (
            _no_space(lines, last)
            or _no_colon(lines, last, what=what, key_line=context.line if context else None)
            or _too_far(lines, last, what)
        )
    if found is not None:
        return found
    context = getattr(error, "context_mark", None)
    bracket = re.match(r"expected ',' or '([\]}])'", what)
    if bracket and context:
        # Noticed at a later line; the keeper must look where it was opened.
        row = lines[context.line]
        hint = f"close it with '{bracket[1]}', or put a text that holds a bracket in quotes"
        return context.line + 1, row.find(_OPENS[bracket[1]], context.column) + 1, _OPEN, hint
    signed = _sign_first(what, mark=mark, lines=lines)
    if signed:
        return signed
    if "end of stream" in what:
        # The parser notices at the end of the file; the keeper must look where it began.
        mark = getattr(error, "context_mark", None) or mark
    place = (mark.line + 1, mark.column + 1) if mark else (1, 1)
    for parsers, ours, hint in _WORDED:
        if parsers in what:
            return *place, ours, hint
    return *place, what, _QUOTES


def _wide_space(lines: list[str]) -> BrokenAt | None:
    """Return where a space stands that YAML does not take for one."""
    for i, line in enumerate(lines):
        wide = _WIDE_INDENT.match(line) or _WIDE_AFTER.match(line)
        if wide:
            return (
                i + 1,
                wide.start("at") + 1,
                "a non-breaking space stands where a plain one should",
                "delete it and type a space: it comes along when text is copied from a page",
            )
    return None


def _sign_first(what: str, *, mark: yaml.Mark | None, lines: list[str]) -> BrokenAt | None:
    """Return what is wrong where a text begins with a sign that YAML keeps for itself."""
    found = _SIGN_FIRST.match(what)
    if not found or mark is None:
        return None
    row = lines[mark.line] if mark.line < len(lines) else ""
    if _FENCE.match(row):
        fence = "this is a fence of Markdown, and an entry's file has none"
        return mark.line + 1, len(row) - len(row.lstrip()) + 1, fence, "take the line out"
    # Of `*left*` the parser reads `*left` as a mark of its own, and stumbles behind it.
    at, sign = mark.column, found["sign"]
    if not sign:
        at = max(row.rfind("*", 0, at), row.rfind("&", 0, at))
        sign = row[at]
    if at < 0:
        return None
    return mark.line + 1, at + 1, f"no text can begin with '{sign}' here", "put the text in quotes"


def _quote(text: str, mark: yaml.Mark) -> BrokenAt | None:
    """Return the opening quote whose text ends just where the parser stumbled."""
    stumbled = _index(text, mark.line, mark.column)
    for token in _tokens(text):
        if token.start_mark.index > stumbled:
            break
        if not isinstance(token, yaml.ScalarToken) or token.style not in ("'", '"'):
            continue
        start, end = token.start_mark, token.end_mark
        if end.index <= stumbled and not text[end.index : stumbled].strip():
            place = (start.line + 1, start.column + 1)
            if end.line > start.line:
                return (
                    *place,
                    "this quote is not closed on its line",
                    ("close it; a quote inside it would close it too early"),
                )
            if token.style == "'":
                return (
                    *place,
                    "an apostrophe ends this quote before its text does",
                    ('put the text in double quotes: "…"'),
                )
            return (
                *place,
                "a quote inside it ends this text too early",
                ("put the text in single quotes: '…'"),
            )
    return None


def _tokens(text: str) -> Iterator[yaml.Token]:
    try:
        yield from yaml.scan(text, Loader=yaml.BaseLoader)
    except (yaml.YAMLError, ValueError):
        return


def _index(text: str, line: int, column: int) -> int:
    at = 0
    for _ in range(line):
        at = text.index("\n", at) + 1 if "\n" in text[at:] else len(text)
    return at + column


def _no_space(lines: list[str], last: int) -> BrokenAt | None:
    """Return the nearest row above (or here) whose colon lacks its space."""
    for i in range(min(last, len(lines) - 1), max(last - 3, -1), -1):
        row = lines[i]
        found = _NO_SPACE.fullmatch(row.split(" #")[0].rstrip())
        if found and ": " not in row:
            what = f"'{found['key']}:' without a space after its colon"
            return i + 1, found.start("at"), what, f"write '{found['key']}: {found['at'].strip()}'"
    return None


def _no_colon(lines: list[str], last: int, *, what: str, key_line: int | None) -> BrokenAt | None:
    """Return the row above (or here) that is a key without its colon.

    The parser reads such a row as the begin of a text, and stumbles over the next colon or the end.
    """
    if "expected ':'" in what and key_line is not None:
        rows = range(key_line, key_line + 1)
    elif "mapping values" in what:
        rows = range(min(last, len(lines)) - 1, -1, -1)
    else:
        return None
    for i in rows:
        if not lines[i].strip() or lines[i].strip().startswith("#"):
            continue
        row = lines[i].split(" #")[0].rstrip()
        equals = _EQUALS.fullmatch(row)
        if equals and not _goes_on(lines, i):
            key = equals["key"]
            hint = f"write '{key}: {equals['value']}'"
            return i + 1, equals.end("at") + 1, f"'=' stands where '{key}' needs a colon", hint
        found = _KEY_ALONE.fullmatch(row)
        if found is None or _goes_on(lines, i):
            return None
        key, value = found["key"], (found["value"] or "").strip()
        right = f"{key}: {value}".strip()
        return i + 1, found.end("key") + 1, f"'{key}' has no colon behind it", f"write '{right}'"
    return None


def _goes_on(lines: list[str], row: int) -> bool:
    """Return whether a row goes on with the text that began on a row above, further out."""
    here = len(lines[row]) - len(lines[row].lstrip())
    for line in reversed(lines[:row]):
        if not line.strip() or line.strip().startswith("#"):
            continue
        if len(line) - len(line.lstrip()) < here:
            above = _KEY_LINE.fullmatch(line)
            return bool(above and above["value"])
    return False


def _too_far(lines: list[str], last: int, what: str) -> BrokenAt | None:
    """Return the row that stands further in than the complete row above it."""
    if "mapping values" not in what or last >= len(lines):
        return None
    here = _KEY_LINE.fullmatch(lines[last])
    rows = (line for line in reversed(lines[:last]) if not line.strip().startswith("#"))
    above = next((line for line in rows if line.strip()), "")
    before = _KEY_LINE.fullmatch(above)
    if not (here and before and before["value"]):
        return None
    if len(here["indent"]) <= len(before["indent"]):
        return None
    return (
        last + 1,
        len(here["indent"]) + 1,
        "this line is indented further than the one above it",
        "line it up with its neighbours",
    )
