"""Change an input by a draw: bytes, lines, values, pieces of another, and JSON by its shape."""

from __future__ import annotations

import copy
import json
import random
from collections.abc import Callable, Iterator, Sequence
from typing import Any

PIECES = tuple(
    piece.encode("utf-8", "surrogatepass")
    for piece in (
        *('""', "''", '"\\ud800"', '"\\U00110000"', "1e300", "-1e300", "1e-300", "1e9", "²", "٣"),
        *(
            "[",
            "]",
            "{",
            "}",
            ": ",
            "- ",
            "\n",
            "\n  ",
            "\r",
            "\r\n",
            "#",
            "'",
            '"',
            "|",
            ">",
            ">-",
        ),
        *("&a", "*a", "!t", "!!python/none", "---\n", "...\n", "%YAML 1.3\n", "? ", "<<: ", "\t"),
        *("\u00a0", "\u2028", "\u2029", "\u202e", "\u200b", "\ufeff", "\x85", "\x00", "\x1b", "é"),
        *("0", "-1", "-0", "NaN", "inf", "0x10", "012", "1_000", "1,5", "4k7", "10.00k", "9" * 400),
        *("9999-12-31", "0001-01-01", "2126-02-30", "~", "null", "yes", "NO", "1:30", "[[[]]]"),
        *(
            "{a: b}",
            "{",
            "[a, b",
            "<b>",
            "</p>",
            "<img/src=x>",
            "<!--",
            "-->",
            "```\n",
            "~~~",
            "` ",
        ),
        *("](x.md)", "[a](../../x)", "![a](b.jpg)", "[^1]", "| a | b |\n|--|--|\n", "=== ", "!!! "),
        *("../outside/secret", "../../../../etc/hostname", "/etc/hostname", "a\\..\\b", "CON", "."),
        *(
            "x" * 300,
            "a " * 2000,
            "[" * 120,
            "- " * 120 + "x",
            "(" * 300,
            "=1+1",
            ";",
            ";;;;",
            "," * 40,
        ),
        *(
            "unit-a",
            "unit-b",
            "suction-a",
            "beta-ten",
            "index",
            "Infinity",
            "true",
            "%00",
            "\ud800",
        ),
    )
)
"""What trips a reader: signs of YAML, Markdown, CSV and HTML, odd figures, ways out of a folder."""

VALUES: tuple[Any, ...] = (
    *(None, True, False, 0, -1, 1, 2**31, 2**63, 10**30, 1e308, -1e308, 0.5, 1e-320),
    *("", "a", "\ud800", "\x00", "../../outside/secret", "/etc/hostname", "a/../../b", "C:\\x"),
    *("a" * 5000, "NaN", "2026-02-30", "0" * 64, "f" * 12, "<script>", "\u202e", "1e400"),
    *([], {}, [[]], [None], ["a"], [1, 2, 3], [[1, 2, 3]], {"": 1}, {"a": {}}, {"a": None}),
    *(float("nan"), float("inf"), float("-inf")),
)
"""What may stand in JSON in the place of a value: every type, and figures of another world."""


KEYS = (
    *("../../outside/secret", "/etc/hostname", "a/../../b", "a\x00b", "a" * 300, "", "é.html", "."),
    *("index.html", "f" * 12, "..", "C:\\x", "__proto__", "a//b", "board", "name", "\ud800"),
)
"""What a path, a name or a field may be called."""


def changed(raw: bytes, *, draw: random.Random, others: Sequence[bytes]) -> bytes:
    """Return an input with one to four changes."""
    for _ in range(draw.choice((1, 1, 1, 2, 2, 3, 4))):
        raw = draw.choice(WAYS)(raw, draw, others)
    return raw[:400_000]


def _span(raw: bytes, draw: random.Random) -> tuple[int, int]:
    begin = draw.randrange(len(raw) + 1)
    return begin, min(len(raw), begin + draw.choice((0, 0, 1, 1, 2, 4, 12, 40, 200)))


def _inserted(raw: bytes, draw: random.Random, _: Sequence[bytes]) -> bytes:
    begin, end = _span(raw, draw)
    return raw[:begin] + draw.choice(PIECES) + raw[end:]


def _cut(raw: bytes, draw: random.Random, _: Sequence[bytes]) -> bytes:
    begin, end = _span(raw, draw)
    return raw[:begin] if draw.random() < 0.1 else raw[:begin] + raw[end:]


def _flipped(raw: bytes, draw: random.Random, _: Sequence[bytes]) -> bytes:
    if not raw:
        return raw
    at = draw.randrange(len(raw))
    return raw[:at] + bytes([raw[at] ^ (1 << draw.randrange(8))]) + raw[at + 1 :]


def _repeated(raw: bytes, draw: random.Random, _: Sequence[bytes]) -> bytes:
    begin, end = _span(raw, draw)
    return raw[:end] + raw[begin:end] * draw.choice((1, 2, 30, 400)) + raw[end:]


def _spliced(raw: bytes, draw: random.Random, others: Sequence[bytes]) -> bytes:
    other = draw.choice(others)
    begin, end = _span(other, draw)
    at, until = _span(raw, draw)
    return raw[:at] + other[begin : end + 60] + raw[until:]


def _lines(raw: bytes, draw: random.Random, others: Sequence[bytes]) -> bytes:
    """Move, double, take out, indent or take over a line."""
    lines = raw.split(b"\n")
    at, to = draw.randrange(len(lines)), draw.randrange(len(lines))
    way = draw.randrange(6)
    if way == 0:
        lines[at], lines[to] = lines[to], lines[at]
    elif way == 1:
        lines.insert(to, lines[at])
    elif way == 2:
        del lines[at]
    elif way == 3:
        lines[at] = draw.choice((b" ", b"  ", b"\t", b"    ")) + lines[at]
    elif way == 4:
        lines[at] = lines[at].lstrip()
    else:
        lines.insert(to, draw.choice(draw.choice(others).split(b"\n")))
    return b"\n".join(lines)


def _value(raw: bytes, draw: random.Random, _: Sequence[bytes]) -> bytes:
    """Put another value behind a key, or another word or figure in the place of one."""
    lines = raw.split(b"\n")
    at = draw.randrange(len(lines))
    key, colon, _ = lines[at].partition(b":")
    if colon and draw.random() < 0.7:
        lines[at] = key + b": " + draw.choice(PIECES)
        return b"\n".join(lines)
    words = lines[at].split(b" ")
    words[draw.randrange(len(words))] = draw.choice(PIECES)
    lines[at] = b" ".join(words)
    return b"\n".join(lines)


WAYS: tuple[Callable[[bytes, random.Random, Sequence[bytes]], bytes], ...] = (
    *(_inserted, _inserted, _cut, _flipped, _repeated, _spliced, _lines, _lines, _value, _value),
)


def json_changed(content: bytes, *, draw: random.Random) -> bytes:
    """Return JSON with one or two values, keys or items that are others; bytes that are none, as they are."""
    try:
        whole = json.loads(content)
    except (ValueError, RecursionError):
        return content
    for _ in range(draw.choice((1, 1, 1, 2))):
        whole = _elsewhere(whole, draw)
    # As lists are written, so that a name hangs on what is said; half a letter as \ud800 only.
    text = json.dumps(whole, indent=0, sort_keys=True, ensure_ascii=False) + "\n"
    return text.encode("utf-8") if _whole(text) else json.dumps(whole).encode("ascii")


def _whole(text: str) -> bool:
    return not any("\ud800" <= letter <= "\udfff" for letter in text)


def _elsewhere(whole: Any, draw: random.Random) -> Any:
    """Return JSON with a value, a key or an item of any depth that is another."""
    whole = copy.deepcopy(whole)
    places = [*_places(whole)] if draw.random() < 0.5 else [*_way(whole, draw)]
    if not places:
        return draw.choice(VALUES)
    above, step = draw.choice(places)
    here, way = above[step], draw.random()
    if way < 0.55:
        above[step] = draw.choice(VALUES)
    elif way < 0.7:
        del above[step]
    elif way < 0.9 and isinstance(above, dict):
        above[str(draw.choice(KEYS))] = above.pop(step)
    else:
        above[step] = [here] * draw.choice((0, 2, 300))
    return whole


def _places(block: Any) -> Iterator[tuple[Any, Any]]:
    """Yield (what holds it, key or index) of every value."""
    for step in block if isinstance(block, dict) else range(len(block)):
        yield block, step
        if isinstance(block[step], dict | list):
            yield from _places(block[step])


def _way(block: Any, draw: random.Random) -> Iterator[tuple[Any, Any]]:
    """Yield the places on one way down: what stands high is met as often as what stands deep."""
    while isinstance(block, dict | list) and block:
        step = draw.choice([*block]) if isinstance(block, dict) else draw.randrange(len(block))
        yield block, step
        block = block[step]
