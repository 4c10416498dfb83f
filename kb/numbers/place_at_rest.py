"""The sensors of one place share a temperature that nobody knows: which of them do not show it?"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations

DRIFTED_SHARE = 0.1
"""So many sensors have drifted, before anything is read. Common practice, no source."""
MISTAKEN_SHARE = 0.001
"""So many temperatures were taken elsewhere, or too early. Common practice, no source."""
PER_K = 0.01
"""How likely any temperature is, per K, of a place or of what drifted: all over 100 K alike. Common
practice, no source."""
MOST_OUT = 3
"""More than these of one place are not taken to be out: that would be another temperature."""


@dataclass(frozen=True, kw_only=True)
class Witness:
    """What a sensor, or a thermometer, shows of the temperature of its place.

    Parameters
    ----------
    t_c, u_k : float
        In °C, and its standard uncertainty in K while it is sound.
    out_share : float
        How likely it is not, before anything is read.
    """

    t_c: float
    u_k: float
    out_share: float = DRIFTED_SHARE


@dataclass(frozen=True, kw_only=True)
class Explanation:
    """Some witnesses are out, the others show the place.

    Parameters
    ----------
    out : tuple of int
        Which, by number.
    log_weight : float
        ln of how likely that is together with what was read.
    centre_c : float or None
        The temperature of the place by the others in °C; None where there are none.
    u_k : float
        Its standard uncertainty in K.
    """

    out: tuple[int, ...]
    log_weight: float
    centre_c: float | None = None
    u_k: float = 0.0


def explanations(witnesses: Sequence[Witness]) -> list[Explanation]:
    """Return every explanation of what the witnesses of one place show, fewest out first.

    Notes
    -----
    Those that are sound scatter normally about the place's temperature, which is anywhere alike
    before; those that are out are anywhere alike. The temperature integrated out, with w = 1/u²:

    ln p = ½ ln 2π − ½ ln Σw + ½ Σ ln(w/2π) − ½ (Σwt² − (Σwt)²/Σw)

    Source: a normal likelihood with a flat mean integrated out, from memory.
    """
    if not witnesses:
        return [Explanation(out=(), log_weight=0.0)]
    # Counted from one of them, so that squares do not swallow what differs.
    from_c = witnesses[0].t_c
    terms = [_Term.of(witness, from_c=from_c) for witness in witnesses]
    whole = _Term.sum(terms)
    return [
        _explanation(whole, terms=terms, out=out, from_c=from_c) for out in _subsets(len(witnesses))
    ]


def _subsets(count: int) -> Iterator[tuple[int, ...]]:
    for size in range(min(count, MOST_OUT) + 1):
        yield from combinations(range(count), size)


@dataclass(frozen=True, kw_only=True)
class _Term:
    """What one witness adds to the sums: w, wt, wt², and the logarithms of sound and out."""

    w: float
    wt: float
    wtt: float
    sound: float
    out: float

    @classmethod
    def of(cls, witness: Witness, *, from_c: float) -> _Term:
        w, t_k = witness.u_k**-2, witness.t_c - from_c
        return cls(
            w=w,
            wt=w * t_k,
            wtt=w * t_k**2,
            sound=math.log(1 - witness.out_share) + math.log(w / (2 * math.pi)) / 2,
            out=math.log(witness.out_share * PER_K),
        )

    @classmethod
    def sum(cls, terms: Sequence[_Term]) -> _Term:
        return cls(
            w=sum(term.w for term in terms),
            wt=sum(term.wt for term in terms),
            wtt=sum(term.wtt for term in terms),
            sound=sum(term.sound for term in terms),
            out=0.0,
        )


def _explanation(
    whole: _Term, *, terms: Sequence[_Term], out: tuple[int, ...], from_c: float
) -> Explanation:
    left = [terms[i] for i in out]
    log_out = sum(term.out for term in left)
    if len(out) == len(terms):
        return Explanation(out=out, log_weight=log_out)
    w = whole.w - sum(term.w for term in left)
    wt = whole.wt - sum(term.wt for term in left)
    wtt = whole.wtt - sum(term.wtt for term in left)
    sound = whole.sound - sum(term.sound for term in left)
    scatter = max(wtt - wt**2 / w, 0.0)
    log_weight = log_out + sound + math.log(PER_K) + (math.log(2 * math.pi / w) - scatter) / 2
    return Explanation(out=out, log_weight=log_weight, centre_c=from_c + wt / w, u_k=w**-0.5)


def log_sum(logs: Sequence[float]) -> float:
    """Return ln of the sum of what these are ln of."""
    highest = max(logs)
    return highest + math.log(sum(math.exp(log - highest) for log in logs))
