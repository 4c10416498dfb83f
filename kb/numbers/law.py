"""What every law of resistance against temperature can be asked."""

from __future__ import annotations

from typing import Protocol, TypeVar, runtime_checkable

import numpy as np

Quantity = TypeVar("Quantity", float, "np.ndarray")
"""A float where a float was given, an array of the same shape where an array was."""


@runtime_checkable
class KnowsItsError(Protocol):
    """A law, or the rows behind it, saying how far it may be off the part that it stands for."""

    def half_k(self, t_c: Quantity) -> Quantity:
        """How far it may be off at `t_c`, in ± K."""


class Law(Protocol):
    """Resistance from temperature and back, single values or arrays of any shape."""

    @property
    def domain_c(self) -> tuple[float, float]:
        """The widest range in °C over which the law is defined and monotone."""

    @property
    def falling(self) -> bool:
        """True where resistance falls as temperature rises."""

    def r_ohm(self, t_c: Quantity) -> Quantity:
        """Resistance in ohms at `t_c`; OutOfRange outside `domain_c`."""

    def t_c(self, r_ohm: Quantity) -> Quantity:
        """Temperature in °C at which it reads `r_ohm`; OutOfRange outside the domain's ohms."""

    def slope_ohm_per_k(self, t_c: Quantity) -> Quantity:
        """dR/dT in Ω/K at `t_c`; OutOfRange outside `domain_c`."""
