"""Tell how a part's tolerance changed: the figures that hold now, and those that held before."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from kb.model.tolerance import KELVIN_FROM_C, PER_CENT_FROM_C
from kb.numbers.rounding import NARROW, format_plain, format_t

Block = Mapping[str, Any]
MOST_PIECES = 3
"""Of more, only how many are different: the curve's page has them in a list."""


def tolerance_change(was: Block, *, now: Block) -> Iterator[str]:
    """Yield what changed of a tolerance, as a release remembers it; empty where there was none."""
    if not was or not now:
        word = "added" if now else "taken out"
        yield f"tolerance {word}: {_words(now or was)}"
        return
    if was.get("pieces") and now.get("pieces"):
        before = [piece for piece in was["pieces"] if piece not in now["pieces"]]
        since = [piece for piece in now["pieces"] if piece not in was["pieces"]]
        if max(len(before), len(since)) > MOST_PIECES:
            yield f"tolerance: {len(since)} of {len(now['pieces'])} pieces are others"
            return
        was, now = {"pieces": before}, {"pieces": since}
    yield f"tolerance is {_words(now)}, not {_words(was)}"


def _words(block: Block) -> str:
    if "platinum_class" in block:
        return f"class {block['platinum_class']}, {block.get('build', 'film')}"
    if "pieces" in block:
        rows = [
            f"{_words({k: v for k, v in piece.items() if k not in ('from_c', 'to_c')})} from "
            f"{_degrees(piece['from_c'])} to {_degrees(piece['to_c'])}"
            for piece in block["pieces"]
        ]
        return "; ".join(rows[:MOST_PIECES]) or "less"
    if "kelvin" in block:
        words = _grows(block, base="kelvin", unit="K", from_c=KELVIN_FROM_C)
        below = block.get("kelvin_per_c_below_0")
        return f"{words}, below 0{NARROW}°C {format_plain(below)} K for each" if below else words
    words = _grows(block, base="r_percent", unit="%", from_c=PER_CENT_FROM_C)
    spread = block.get("b_percent")
    return f"{words} and ± {format_plain(spread)}{NARROW}% of B" if spread else words


def _grows(block: Block, *, base: str, unit: str, from_c: float) -> str:
    at = _degrees(block.get("at_c", from_c))
    words = f"± {format_plain(block[base])}{NARROW}{unit}"
    per_c = block.get(f"{base}_per_c")
    if per_c:
        return f"{words} + {format_plain(per_c)}{NARROW}{unit} for each °C away from {at}"
    return (
        f"{words} at {at}" if unit == "%" and ("at_c" in block or "b_percent" in block) else words
    )


def _degrees(t_c: float) -> str:
    return format_t(t_c, decimals=0 if float(t_c).is_integer() else 1)
