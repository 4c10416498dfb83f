"""The sensors of one place share a temperature that nobody knows: which of them do not show it?"""

from __future__ import annotations

import math
from collections.abc import Sequence
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
    return [
        _explanation(witnesses, out=out)
        for size in range(min(len(witnesses), MOST_OUT) + 1)
        for out in combinations(range(len(witnesses)), size)
    ]


def _explanation(witnesses: Sequence[Witness], *, out: tuple[int, ...]) -> Explanation:
    log_weight = 0.0
    for i in out:
        log_weight += math.log(witnesses[i].out_share * PER_K)
    sound = [witness for i, witness in enumerate(witnesses) if i not in out]
    if not sound:
        return Explanation(out=out, log_weight=log_weight)
    # Counted from one of them, so that squares do not swallow what differs.
    from_c = sound[0].t_c
    w_sum = wt_sum = wtt_sum = 0.0
    for witness in sound:
        w, t_k = witness.u_k**-2, witness.t_c - from_c
        w_sum += w
        wt_sum += w * t_k
        wtt_sum += w * t_k**2
        log_weight += math.log(1 - witness.out_share) + math.log(w / (2 * math.pi)) / 2
    scatter = max(wtt_sum - wt_sum**2 / w_sum, 0.0)
    log_weight += math.log(PER_K) + (math.log(2 * math.pi / w_sum) - scatter) / 2
    return Explanation(
        out=out, log_weight=log_weight, centre_c=from_c + wt_sum / w_sum, u_k=w_sum**-0.5
    )


def log_sum(logs: Sequence[float]) -> float:
    """Return ln of the sum of what these are ln of."""
    highest = max(logs)
    return highest + math.log(sum(math.exp(log - highest) for log in logs))
