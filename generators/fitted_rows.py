"""The printed rows that a curve's law was fitted to, and how far the law is off each."""

from __future__ import annotations

from kb.model import Curve
from kb.numbers.characteristic import Characteristic
from kb.numbers.rounding import format_k
from kb.words.phrase import in_words

from .components import degrees, fold
from .html import Child, Html, table


def fitted_rows(curve: Curve, characteristic: Characteristic) -> Html | None:
    """Return the rows, folded; None where the entry keeps none."""
    if not curve.fitted_to:
        return None
    rows: list[list[Child]] = []
    for row in curve.fitted_to:
        off_k = float(characteristic.beyond_c(row.r_ohm)) - row.t_c
        shown = f"{'+' if off_k > 0 else ''}{format_k(off_k)}"
        rows.append([degrees(row.t_c), row.printed, shown])
    heads = [in_words(f"curve-page.fitted-{head}") for head in ("at", "printed", "off")]
    caption = in_words("curve-page.fitted-caption", curve=curve.name, n=len(rows))
    return fold(
        in_words("curve-page.fitted"), table(caption, heads, rows), id_="rows-it-was-fitted-to"
    )
