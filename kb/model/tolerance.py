"""A part's tolerance: how far a good one may be off, and where that holds."""

from __future__ import annotations

import itertools
from typing import ClassVar, Literal

from pydantic import Field, model_validator

from .entry import Block
from .words import GREATEST_B_K, Fault, Number, TempC

PER_CENT_FROM_C, KELVIN_FROM_C = 25.0, 0.0
"""Where the one holds and the other grows from when nothing is written: as makers print them."""


class Promise(Block):
    """A tolerance a + b · |t − t0|, in kelvin or in per cent of the resistance."""

    forms: ClassVar[tuple[str, ...]] = ("kelvin", "r_percent")

    kelvin: Number | None = Field(default=None, gt=0)
    """± kelvin: the same everywhere, or at `at_c` where it grows from there."""
    kelvin_per_c: Number | None = Field(default=None, gt=0, le=0.2)
    """Kelvin more for each °C away from `at_c`: ± (kelvin + kelvin_per_c · |t − at_c|)."""
    r_percent: Number | None = Field(default=None, gt=0)
    """± per cent of the resistance, at `at_c`."""
    r_percent_per_c: Number | None = Field(default=None, gt=0, le=1)
    """Per cent of the resistance more for each °C away from `at_c`."""
    at_c: TempC | None = None
    """Where `r_percent` holds, or `kelvin` grows from; 25 °C and 0 °C if nothing is written."""

    @property
    def grows_from_c(self) -> float:
        """Where the tolerance is least."""
        usual_c = PER_CENT_FROM_C if self.kelvin is None else KELVIN_FROM_C
        return usual_c if self.at_c is None else self.at_c

    @model_validator(mode="after")
    def _one_form(self) -> Promise:
        given = [form for form in self.forms if getattr(self, form)]
        if len(given) != 1:
            what = "piece" if isinstance(self, TolerancePiece) else "tolerance"
            raise Fault(
                f"a {what} has one of {', '.join(self.forms)}; here "
                f"{' and '.join(given) or 'none of them'}",
                hint=f"{'keep' if given else 'give'} the one that the maker prints",
            )
        for growing, base in (("kelvin_per_c", "kelvin"), ("r_percent_per_c", "r_percent")):
            if getattr(self, growing) is not None and getattr(self, base) is None:
                raise Fault(
                    f"{growing} goes with {base}",
                    at=(growing,),
                    hint=f"give {base} too: what it is where it begins to grow",
                )
        if self.at_c is not None and not self._hangs_on_at_c:
            raise Fault(
                "nothing hangs on at_c here: the tolerance does not grow from there",
                at=("at_c",),
                hint=f"delete it, or give {given[0]}_per_c"
                if given[0] in Promise.forms
                else "delete it",
            )
        return self

    @property
    def _hangs_on_at_c(self) -> bool:
        return self.kelvin_per_c is not None or self.r_percent_per_c is not None


class TolerancePiece(Promise):
    """One row of a tolerance that is another one in each part of the range."""

    from_c: TempC
    """Where it begins."""
    to_c: TempC
    """Where it ends."""

    @model_validator(mode="after")
    def _rises(self) -> TolerancePiece:
        if self.from_c >= self.to_c:
            raise Fault(
                f"this piece runs from {self.from_c:g} to {self.to_c:g} °C",
                at=("from_c",),
                hint="write the lowest first",
            )
        return self


class Tolerance(Promise):
    """The part's tolerance: kelvin, per cent and B spread, a platinum class, or pieces."""

    forms: ClassVar[tuple[str, ...]] = ("kelvin", "r_percent", "platinum_class", "pieces")

    kelvin_per_c_below_0: Number | None = Field(default=None, gt=0, le=0.2)
    """Kelvin more for each °C below 0 °C, where that is another figure than above."""
    b_percent: Number | None = Field(default=None, gt=0)
    """± per cent of the B value."""
    b_k: Number | None = Field(default=None, gt=0, le=GREATEST_B_K)
    """The B value that `b_percent` is of, in kelvin."""
    platinum_class: Literal["AA", "A", "B", "C"] | None = None
    """IEC 60751 class."""
    build: Literal["film", "wire"] = "film"
    """Film or wire-wound platinum: the classes have different ranges."""
    pieces: list[TolerancePiece] = Field(default=[], max_length=100)
    """Rows from cold to hot, each with `from_c`, `to_c` and its own kelvin or r_percent. Where two
    meet, the wider holds."""

    @property
    def _hangs_on_at_c(self) -> bool:
        # A B value's spread grows from there, and makers say where one figure alone was taken.
        return self.kelvin_per_c is not None or self.r_percent is not None

    @model_validator(mode="after")
    def _fields_go_together(self) -> Tolerance:
        if self.kelvin_per_c_below_0 is not None:
            if self.kelvin_per_c is None:
                raise Fault(
                    "kelvin_per_c_below_0 goes with kelvin_per_c",
                    at=("kelvin_per_c_below_0",),
                    hint="give kelvin_per_c too: how it grows above 0 °C",
                )
            if self.grows_from_c != 0:
                raise Fault(
                    f"it grows from {self.grows_from_c:g} °C, so 0 °C is no bend of it",
                    at=("kelvin_per_c_below_0",),
                    hint="give two pieces, one below and one above",
                )
        if (self.b_percent is None) != (self.b_k is None):
            raise Fault("b_percent and b_k go together", hint="give both, or neither")
        if self.b_percent is not None and self.r_percent is None:
            raise Fault(
                "b_percent goes with r_percent",
                at=("b_percent",),
                hint="give r_percent too: the tolerance at the part's own temperature",
            )
        if self.b_percent is not None and self.r_percent_per_c is not None:
            raise Fault(
                "b_percent and r_percent_per_c both say how it grows",
                at=("r_percent_per_c",),
                hint="keep the one that the maker prints",
            )
        return self

    @model_validator(mode="after")
    def _pieces_join(self) -> Tolerance:
        for i, (before, piece) in enumerate(itertools.pairwise(self.pieces), start=1):
            if piece.from_c == before.to_c:
                continue
            begins = f"this piece begins at {piece.from_c:g} °C"
            meet = f"write from_c: {before.to_c:g}, or end the one before at {piece.from_c:g}"
            if piece.from_c <= before.from_c:
                fault, hint = f"{begins}, no later than the one before", "order them cold to hot"
            elif piece.from_c < before.to_c:
                fault = f"{begins}, but the one before it ends at {before.to_c:g} °C: they overlap"
                hint = meet
            else:
                fault, hint = f"from {before.to_c:g} to {piece.from_c:g} °C no piece holds", meet
            raise Fault(fault, at=("pieces", i, "from_c"), hint=hint)
        return self
