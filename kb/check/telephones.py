"""Find telephone numbers in plain text, as people write them.

A number has up to 15 digits (ITU-T E.164); how people part them is common practice, no source.
Every pattern is bounded or goes over a text once.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

_UNIT = (
    r"(?! ?(?:[°%ΩµV]|"
    r"(?:ohms?|k|kΩ|M|A|mA|mV|W|kW|VA|mm|cm|m|bar|Hz|K|s|min|h|Nm|kg|g|l|Pa|kPa)\b))"
)
_RUN = re.compile(r"(?:(?<![^\W_])(?<![^\W_][-.,/])[+(]{0,2}|\+)\d(?:[ ()./\n-]{0,4}\d)*")
_GROUP = re.compile(r"[+(]{0,2}\d+")
_DATE = re.compile(
    r"(?<![\d./+-])(?:\d{4}([-/.])\d{2}\1\d{2}|\d{1,2}([./])\d{1,2}\2(?:19|20)\d{2})(?!\d)"
)
_FEWEST, _MOST, _MOST_WITH_00 = 9, 15, 18
_FEWEST_NAMED = 6
_FEWEST_OF_EXTENSION = 2
_DIGIT = re.compile(r"\d")
_PART_SIGN = r" ?[-./ \n] ?"
_AMERICAN = re.compile(
    rf"(?:1[-. ])?(?:\(\d{{3}}\)[-./ \n]{{0,3}}|\d{{3}}{_PART_SIGN})\d{{3}}{_PART_SIGN}\d{{4}}"
)
"""The plan of North America: three digits, three, and four."""
_DECIMALS = re.compile(r"\+?\d+\.\d{1,3}(?:\s+\d+\.\d{1,3})+|\+?\d+\.\d{1,8}")
_NAMED = re.compile(
    r"\b(?:tel(?:efon|ephone)?|phone|mob(?:ile)?|cell|missed call to [\w ]{2,24}|handy|fax"
    r"|ring|call|dial|ruf(?:nummer)?|"
    r"anrufen|whatsapp|sms)\b[.:]{0,2} ?(?:no\b|number|nr\b)?[.: ]{0,2}"
    rf"([+(]{{0,2}}\d(?:[ ()./-]{{0,3}}\d)*)(?![\w]){_UNIT}",
    re.IGNORECASE,
)
_EXTENSION = re.compile(
    r"(?:\b(?:ext(?:ension)?|durchwahl|nebenstelle|app(?:arat)?|dw)\b[.:]{0,2} ?"
    rf"|\b(?:switchboard|reception|office|desk|zentrale)\b[^\n]{{0,12}}\bx ?)"
    rf"\d{{2,5}}(?!\w)(?![.,]\d){_UNIT}",
    re.IGNORECASE,
)
_NAMES = (
    *("tel", "phone", "mob", "cell", "handy", "fax", "ring", "call", "dial", "ruf", "whatsapp"),
    "sms",
)
_HOUSES = (
    *("ext", "durchwahl", "nebenstelle", "app", "dw", "switchboard", "reception", "office"),
    *("desk", "zentrale"),
)
"""What a text must hold before the patterns of names and of extensions are tried, folded."""
_PART = re.compile(
    r"(?:spare|part|order|model|serial|article|art|item|stock|type|teil|bestell|serien|no|nr"
    r"|number|"
    r"nummer)\W{0,4}$",
    re.IGNORECASE,
)
_PART_WORD = 24


def telephones(text: str) -> Iterator[tuple[int, int]]:
    """Yield (start, end) of what looks like a telephone number or an extension."""
    digits = len(_DIGIT.findall(text))
    if digits < _FEWEST_OF_EXTENSION:
        return
    undated = _DATE.sub(lambda date: "D" * len(date[0]), text)
    for run in _RUN.finditer(undated) if digits >= _FEWEST else ():
        yield from _in_run(undated, run)
    # Ten thousand entries have a hundred thousand lines, and few of these words.
    folded = undated.casefold().replace("ı", "i")
    named_so = digits >= _FEWEST_NAMED and any(word in folded for word in _NAMES)
    for named in _NAMED.finditer(undated) if named_so else ():
        if sum(sign.isdigit() for sign in named[1]) >= _FEWEST_NAMED:
            yield named.span(1)
    within = any(word in folded for word in _HOUSES)
    for extension in _EXTENSION.finditer(undated) if within else ():
        yield extension.span()


def _in_run(text: str, run: re.Match[str]) -> Iterator[tuple[int, int]]:
    """Yield the numbers in a run of digits: readings may stand before one."""
    groups = list(_GROUP.finditer(text, run.start(), run.end()))
    after = text[run.end() : run.end() + 1]
    if after.isalnum() and after not in "xX":
        del groups[-1:]
    i = 0
    while i < len(groups):
        last = _number_from(text, groups, first=i)
        if last is None:
            i += 1
        else:
            yield groups[i].start(), groups[last].end()
            i = last + 1


def _number_from(text: str, groups: Sequence[re.Match[str]], *, first: int) -> int | None:
    """Return the last group of the number that begins with a group; None where none does."""
    start = groups[first].start()
    if first and text[groups[first - 1].end() : start].strip(" \n"):
        return None
    american = _AMERICAN.fullmatch(text, start, groups[-1].end())
    if american and first == 0 and re.match(_UNIT, text[groups[-1].end() :][:8]):
        return len(groups) - 1
    opening = groups[first][0].lstrip("+(")
    abroad = "+" in groups[first][0] and not opening.startswith("0")
    if not abroad and not re.match(r"0\d", opening):
        return None
    most = _MOST_WITH_00 if opening.startswith("00") or "(0)" in text[start : start + 8] else _MOST
    last, digits = first, 0
    for i in range(first, len(groups)):
        more = len(groups[i][0].lstrip("+("))
        if i > first and (digits + more > most or "+" in groups[i][0]):
            break
        last, digits = i, digits + more
    found = text[start : groups[last].end()]
    return last if digits >= _FEWEST and not _only_numbers(text, found, start=start) else None


def _only_numbers(text: str, found: str, *, start: int) -> bool:
    """Return whether digits are decimals, a list that counts up, or the number of a part."""
    if _DECIMALS.fullmatch(found):
        # No decimal begins with a nought and another digit.
        return not re.fullmatch(r"0\d+\.\d+", found)
    groups = found.split()
    pairs = [int(group) for group in groups if re.fullmatch(r"\d\d", group)]
    if len(pairs) == len(groups) and pairs == sorted(set(pairs)):
        return True
    return re.sub(r"[-/.]", "", found).isdigit() and bool(
        _PART.search(text[max(0, start - _PART_WORD) : start])
    )
