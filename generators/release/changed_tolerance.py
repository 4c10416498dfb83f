"""Tell how a part's tolerance changed: the figures that hold now, and those that held before."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from kb.model.tolerance import KELVIN_FROM_C, PER_CENT_FROM_C
from kb.numbers.rounding import NARROW, format_plain, format_t
from kb.words.phrase import in_words

from ..in_words import value_of

Block = Mapping[str, Any]
MOST_PIECES = 3
"""Of more, only how many are different: the curve's page has them in a list."""


def tolerance_change(was: Block, *, now: Block) -> Iterator[str]:
    """Yield what changed of a tolerance, as a release remembers it; empty where there was none."""
    if not was or not now:
        yield _said("added", now=_words(now)) if now else _said("taken", was=_words(was))
        return
    if was.get("pieces") and now.get("pieces"):
        before = [piece for piece in was["pieces"] if piece not in now["pieces"]]
        since = [piece for piece in now["pieces"] if piece not in was["pieces"]]
        if max(len(before), len(since)) > MOST_PIECES:
            yield _said("pieces", count=len(since), of=len(now["pieces"]))
            return
        was, now = {"pieces": before}, {"pieces": since}
    yield _said("is", now=_words(now), was=_words(was))


def _words(block: Block) -> str:
    if "platinum_class" in block:
        build = block.get("build", "film")
        return _said("class", letter=block["platinum_class"], build=value_of("build", build))
    if "pieces" in block:
        return "; ".join(_piece(piece) for piece in block["pieces"][:MOST_PIECES]) or _said("less")
    if "kelvin" in block:
        words = _grows(block, base="kelvin", unit="K", from_c=KELVIN_FROM_C)
        below = block.get("kelvin_per_c_below_0")
        return _said("below-zero", words=words, step=format_plain(below)) if below else words
    words = _grows(block, base="r_percent", unit="%", from_c=PER_CENT_FROM_C)
    spread = block.get("b_percent")
    return _said("of-b", words=words, spread=format_plain(spread)) if spread else words


def _piece(piece: Block) -> str:
    figures = {name: value for name, value in piece.items() if name not in ("from_c", "to_c")}
    low, high = _degrees(piece["from_c"]), _degrees(piece["to_c"])
    return _said("piece", words=_words(figures), low=low, high=high)


def _grows(block: Block, *, base: str, unit: str, from_c: float) -> str:
    at = _degrees(block.get("at_c", from_c))
    words = f"± {format_plain(block[base])}{NARROW}{unit}"
    per_c = block.get(f"{base}_per_c")
    if per_c:
        return _said("grows", words=words, step=format_plain(per_c), unit=unit, at=at)
    at_one = unit == "%" and ("at_c" in block or "b_percent" in block)
    return _said("at", words=words, at=at) if at_one else words


def _degrees(t_c: float) -> str:
    return format_t(t_c, decimals=0 if float(t_c).is_integer() else 1)


def _said(name: str, /, **figures: object) -> str:
    return in_words(f"changed-tolerance.{name}", **figures)
