"""A curve: a resistance-versus-temperature characteristic, with range, tolerance and source."""

from __future__ import annotations

from typing import Annotated, ClassVar, Literal, get_args

from pydantic import BeforeValidator, Field, model_validator

from .entry import Entry
from .field_change import Changes, told_as
from .rows import FittedRow, Point, fitted_rows, point_rows, require_rising, require_within
from .tolerance import Tolerance
from .words import GREATEST_B_K, Fault, Lines, Number, Ohm, TempC, Whole

WITHOUT_A_FIT = ("table", "switching-ptc")
"""Laws that no rows are fitted by: one is its rows, the other has limits and no curve."""


class Curve(Entry):
    """What every law shares."""

    kind: ClassVar[str] = "curves"
    noun: ClassVar[str] = "curve"
    list_title: ClassVar[str] = "Curves"
    list_lead: ClassVar[str] = "Resistance over temperature."
    home_place: ClassVar[int] = 7
    find_place: ClassVar[int] = 7
    when_unnamed: ClassVar[str | None] = "name it in a sensor, or delete it"
    changes: ClassVar[Changes] = {
        **told_as("numbers", "law", "tolerance", range_c="range"),
        **told_as("words", "notes", fitted_to="rows it was fitted to"),
    }

    law: str
    """Which law gives resistance from temperature."""
    range_c: tuple[TempC, TempC]
    """Lowest and highest temperature it holds for; outside it there is no answer."""
    tolerance: Tolerance | None = None
    """The part's tolerance; none when the table has low and high columns, or nobody knows."""
    fitted_to: Annotated[
        list[FittedRow],
        BeforeValidator(fitted_rows, json_schema_input_type=dict[str, Ohm]),
        Field(max_length=2000),
    ] = []
    """Printed rows of `temperature: resistance` that the law was fitted to: `check` holds it to
    them. A table has its points instead."""
    notes: Lines = []
    """What a user of the curve should know."""

    @classmethod
    def __pydantic_init_subclass__(cls, **kwargs: object) -> None:
        """Refuse a law without a word of its own."""
        super().__pydantic_init_subclass__(**kwargs)
        if len(get_args(cls.model_fields["law"].annotation)) != 1:
            raise ImportError(
                f"{cls.__module__}: {cls.__name__} has no word for 'law:': write "
                'law: Literal["its-word"]'
            )

    @classmethod
    def law_word(cls) -> str:
        """Return what stands behind `law:` in an entry of this law."""
        return str(get_args(cls.model_fields["law"].annotation)[0])

    @model_validator(mode="after")
    def _range_rises(self) -> Curve:
        low_c, high_c = self.range_c
        if low_c >= high_c:
            raise Fault(
                f"range_c runs from {low_c:g} to {high_c:g} °C",
                at=("range_c",),
                hint="write the lowest first",
            )
        return self

    @model_validator(mode="after")
    def _rows_fit(self) -> Curve:
        if not self.fitted_to:
            return self
        if self.law in WITHOUT_A_FIT:
            raise Fault(
                f"the law '{self.law}' is fitted to nothing",
                at=("fitted_to",),
                hint="delete these rows; a table keeps its rows under 'points'",
                key=True,
            )
        require_rising(self.fitted_to, field="fitted_to")
        require_within(
            self.range_c, rows=self.fitted_to, named="rows it was fitted to", called="rows"
        )
        return self


class TableCurve(Curve):
    """A printed table of points."""

    changes: ClassVar[Changes] = told_as("told otherwise", "points")

    law: Literal["table"]
    points: Annotated[
        list[Point],
        BeforeValidator(point_rows, json_schema_input_type=dict[str, Ohm | list[Ohm]]),
        Field(min_length=4, max_length=2000),
    ]
    """Rows of `temperature: resistance`, or `temperature: [low, nominal, high]`."""

    @model_validator(mode="after")
    def _points_make_a_curve(self) -> TableCurve:
        require_rising(self.points, field="points")
        self._columns_hold()
        require_within(self.range_c, rows=self.points, named="table", called="points")
        if self.points[0].low_ohm is not None and self.tolerance is not None:
            raise Fault(
                "the table has low and high columns and a tolerance too",
                at=("tolerance",),
                hint="keep the columns: they are what the maker promises",
            )
        return self

    def _columns_hold(self) -> None:
        bounded = [row.low_ohm is not None for row in self.points]
        if any(bounded) and not all(bounded):
            raise Fault(
                "some rows have low and high columns and some do not",
                at=("points", bounded.index(False)),
                hint="give both to every row, or to none",
            )
        for i, row in enumerate(self.points):
            if row.low_ohm is None or row.high_ohm is None:
                continue
            if not row.low_ohm <= row.r_ohm <= row.high_ohm:
                raise Fault(
                    f"at {row.t_c:g} °C the nominal lies outside its low and high",
                    at=("points", i),
                    hint="write [low, nominal, high]",
                )


class BetaCurve(Curve):
    """NTC by its B value: R = R_ref exp(B (1/T − 1/T_ref))."""

    changes: ClassVar[Changes] = {
        **told_as("told otherwise", "r_ref", "at_c", "b_k"),
        **told_as("words", "b_pair_c"),
    }

    law: Literal["beta"]
    r_ref: Ohm
    """Resistance at `at_c`."""
    at_c: TempC = 25.0
    """The reference temperature."""
    b_k: Number = Field(gt=0, le=GREATEST_B_K)
    """The B value in kelvin."""
    b_pair_c: tuple[TempC, TempC] | None = None
    """The two temperatures the B value was taken between, such as [25, 85]."""


class SteinhartHartCurve(Curve):
    """NTC by three coefficients: 1/T = a + b ln R + c (ln R)³."""

    changes: ClassVar[Changes] = told_as("told otherwise", "a", "b", "c")

    law: Literal["steinhart-hart"]
    a: Number
    """The first coefficient, in 1/K."""
    b: Number
    """The second, of ln R."""
    c: Number
    """The third, of the cube of ln R."""


class PolynomialCurve(Curve):
    """NTC by the maker's four coefficients: R = R_ref exp(A + B/T + C/T² + D/T³)."""

    changes: ClassVar[Changes] = told_as("told otherwise", "r_ref", "a", "b", "c", "d")

    law: Literal["polynomial"]
    r_ref: Ohm
    """The factor before exp, in the maker's formula the resistance at 25 °C."""
    a: Number
    """The maker's A."""
    b: Number
    """The maker's B, in kelvin."""
    c: Number
    """The maker's C, in kelvin squared."""
    d: Number
    """The maker's D, in kelvin cubed."""


class PlatinumCurve(Curve):
    """Platinum by IEC 60751."""

    changes: ClassVar[Changes] = told_as("told otherwise", "r0")

    law: Literal["platinum"]
    r0: Ohm
    """Resistance at 0 °C: 100, 500 or 1000."""


class NickelCurve(Curve):
    """Nickel by its polynomial."""

    changes: ClassVar[Changes] = {
        **told_as("told otherwise", "r0"),
        **told_as("words", "ppm_per_k"),
    }

    law: Literal["nickel"]
    r0: Ohm
    """Resistance at 0 °C."""
    ppm_per_k: Literal["6180", "5000"]
    """Mean coefficient between 0 and 100 °C."""


class WindingCurve(Curve):
    """Copper or aluminium winding: R = R_ref (k + t)/(k + t_ref)."""

    changes: ClassVar[Changes] = {
        **told_as("told otherwise", "r_ref", "at_c"),
        **told_as("words", "constant"),
    }

    law: Literal["winding"]
    r_ref: Ohm
    """Resistance at `at_c`."""
    at_c: TempC = 20.0
    """The reference temperature."""
    constant: Literal["234.5", "235", "225"]
    """234.5 or 235 for copper, 225 for aluminium: say which."""


class SwitchingPtc(Curve):
    """Motor protection PTC: limits around its response temperature, not a curve."""

    changes: ClassVar[Changes] = told_as(
        "numbers", trip_c="rated response temperature", in_series="elements in series"
    )

    law: Literal["switching-ptc"]
    trip_c: TempC
    """Rated response temperature TNF."""
    in_series: Whole = Field(default=3, ge=1, le=6)
    """Elements in the loop."""


CURVE_LAWS: dict[str, type[Curve]] = {model.law_word(): model for model in Curve.__subclasses__()}
"""The word in `law:` → the fields that go with it."""
