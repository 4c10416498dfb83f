"""Turn the text of one field into what it stands for: ohms, degrees, dates, ids."""

from __future__ import annotations

import calendar
import datetime
import math
import re
import unicodedata
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Annotated, Literal

from pydantic import BeforeValidator, GetJsonSchemaHandler, StringConstraints
from pydantic_core import CoreSchema

from kb.answers.blinks import COUNT_WORDS
from kb.numbers.notation import parse_entry_ohm, parse_ohm, parse_t_c

REF_MARK = "x-id-of"
ID_PATTERN = r"[a-z0-9]+(-[a-z0-9]+)*"


def tidy_id(name: str) -> str:
    """Return the id nearest to a name: `Example_10K` gives `example-10k`; may be empty."""
    plain = unicodedata.normalize("NFKD", name.casefold())
    kept = "".join(sign for sign in plain if not unicodedata.combining(sign))
    return re.sub(r"[^a-z0-9]+", "-", kept).strip("-")


class Fault(ValueError):
    """A fault in one named field of an entry, with what would mend it.

    Parameters
    ----------
    at : tuple
        The way to the field, from the block that raises it.
    key : bool
        The fault is in the key, not in the value behind it.
    also : sequence of Fault
        Others of the same block, so that all are told at once.
    """

    def __init__(
        self,
        message: str,
        *,
        at: tuple[str | int, ...] = (),
        hint: str = "",
        key: bool = False,
        also: Sequence[Fault] = (),
    ) -> None:
        super().__init__(message)
        self.at, self.hint, self.key, self.also = at, hint, key, tuple(also)


@dataclass(frozen=True)
class Ref:
    """Marks a field whose text is the id of an entry of that kind."""

    kind: str

    def __get_pydantic_json_schema__(
        self, schema: CoreSchema, handler: GetJsonSchemaHandler
    ) -> dict[str, object]:
        """Leave a mark in the schema, where `kb.schema` puts the ids that there are."""
        return {**handler(schema), REF_MARK: self.kind}


GREATEST = 1e15
"""No quantity of the trade comes near it; squares of more overflow, and days, and exponents."""
GREATEST_B_K = 20_000.0
"""No NTC has a third of it: more is a slip of the pen. Common practice, no source."""
_SOME_OHM = "a resistance such as 480, 6.32k, 6k32 or 1.2M"


def _ohm(value: object) -> object:
    return _read(parse_entry_ohm, value, _SOME_OHM)


def _ohm_with_decimals(value: object) -> object:
    """Read a resistance of a column whose other rows say that a point stands before decimals."""
    return _read(parse_ohm, value, _SOME_OHM)


def _t_c(value: object) -> object:
    return _read(parse_t_c, value, "a temperature in °C such as 7, -10 or 7.5")


def _read(parse: object, value: object, wanted: str) -> object:
    if isinstance(value, float | int):
        return value
    if not isinstance(value, str):
        raise Fault(f"this should be {wanted}", hint="one value, not a list or a block")
    try:
        number = parse(value)  # type: ignore[operator]
    except ValueError as error:
        raise Fault(str(error), hint=f"write {wanted}") from None
    return _finite(number, value)


_PLAIN_NUMBER = r"[+\-−]?(\d+([.,]\d*)?|[.,]\d+)([eE][+\-]?\d+)?"


def _number(value: object) -> object:
    """Read a plain decimal; a comma is understood; `nan` and `inf` are no numbers here."""
    if isinstance(value, float | int):
        return value
    if not isinstance(value, str):
        raise Fault("this should be one number", hint="write a number such as 12 or 0.5")
    text = value.strip().replace("−", "-")
    if not re.fullmatch(_PLAIN_NUMBER, text):
        with_unit = re.fullmatch(r"([+-]?\d+(?:[.,]\d+)?)(?: ?[^\W\d_]*[%°Ω]?[^\W\d_]*){1,3}", text)
        meant = COUNT_WORDS.get(text.casefold()) or (with_unit[1] if with_unit else None)
        hint = f"write the number alone: {meant}" if meant else "write a number such as 12 or 0.5"
        raise Fault(f"'{value}' is not a number", hint=hint)
    return _finite(float(text.replace(",", ".")), value)


def _finite(number: float, value: str) -> float:
    """Refuse `1e999`, and whatever no formula of ours can compute with."""
    if not math.isfinite(number) or abs(number) > GREATEST:
        raise Fault(
            f"'{value}' is too large to be a number", hint="look for a slip of the exponent"
        )
    return number


def _whole(value: object) -> object:
    number = _number(value)
    if isinstance(number, float) and number != int(number):
        raise Fault(f"'{value}' is not a whole number", hint="write 0, 1, 2, …")
    return int(number)  # type: ignore[call-overload]


def _date(value: object) -> object:
    if isinstance(value, str):
        try:
            # `fromisoformat` alone would take 20260314 and 2026-W11-6 too.
            return datetime.date.fromisoformat(_day_only(value))
        except ValueError:
            raise Fault(f"'{value}' is not a date", hint=_date_meant(value)) from None
    return value


def _date_meant(value: str) -> str:
    """Return the hint for a date in another form; only where no other day can be meant."""
    text = value.strip()
    asked = re.fullmatch(r"(\d{4})-(\d{2})-(\d{2})", text, re.ASCII)
    if asked and 1 <= int(asked[2]) <= 12 and int(asked[1]):
        days = calendar.monthrange(int(asked[1]), int(asked[2]))[1]
        return f"that month has {days} days"
    for form in ("%d.%m.%Y", "%Y%m%d", "%Y/%m/%d", "%Y.%m.%d"):
        try:
            day = datetime.datetime.strptime(text, form).date()
        except ValueError:
            continue
        return f"write year-month-day: {day.isoformat()}"
    return "write year-month-day, such as 2026-03-14"


def _day_only(value: str) -> str:
    text = value.strip()
    if not re.fullmatch(r"\d{4}-\d{2}-\d{2}", text, re.ASCII):
        raise ValueError(text)
    return text


def _choice_text(value: object) -> object:
    """A yes or no arrives as text, since the whole file is read as text."""
    words = {"yes": True, "true": True, "on": True, "no": False, "false": False, "off": False}
    if isinstance(value, str):
        if value.strip().casefold() not in words:
            raise Fault(f"'{value}' is neither yes nor no", hint="write yes or no")
        return words[value.strip().casefold()]
    return value


def _listed(value: object) -> object:
    """One line stands for a list of one."""
    return [value] if isinstance(value, str) else value


def _one_or_more(value: object) -> object:
    """One value stands for a list of one."""
    return [value] if isinstance(value, str | float | int) else value


Text = Annotated[str, StringConstraints(strip_whitespace=True, min_length=1)]
"""Words for people: plain text, never HTML."""

Id = Annotated[str, StringConstraints(pattern=f"^{ID_PATTERN}$")]
# The input types are what an editor takes for right: the file says `25` or `6.32k`.
_SomeDigit = Annotated[str, StringConstraints(pattern=r"[0-9]")]
_NumberText = Annotated[str, StringConstraints(pattern=rf"^\s*{_PLAIN_NUMBER}\s*$")]
Ohm = Annotated[float, BeforeValidator(_ohm, json_schema_input_type=float | _SomeDigit)]
TempC = Annotated[float, BeforeValidator(_t_c, json_schema_input_type=float | _SomeDigit)]
Number = Annotated[float, BeforeValidator(_number, json_schema_input_type=float | _NumberText)]
Whole = Annotated[int, BeforeValidator(_whole, json_schema_input_type=int | _NumberText)]
Day = Annotated[datetime.date, BeforeValidator(_date)]
YesNo = Annotated[
    bool,
    BeforeValidator(
        _choice_text,
        json_schema_input_type=bool | Literal["yes", "no", "true", "false", "on", "off"],
    ),
]
Lines = Annotated[list[Text], BeforeValidator(_listed, json_schema_input_type=list[Text] | Text)]
"""Steps, cautions, other names: a list of lines, or one line."""
TempsC = Annotated[
    list[TempC], BeforeValidator(_one_or_more, json_schema_input_type=list[TempC] | TempC)
]
"""Temperatures: a list, or one."""

_Named = StringConstraints(min_length=1)
# `source: ""` names nothing: it would be looked up, or pass for a field that is not there.
DrawingId = Annotated[str, _Named, Ref("drawings")]
FamilyId = Annotated[str, _Named, Ref("families")]
CurveId = Annotated[str, _Named, Ref("curves")]
SensorId = Annotated[str, _Named, Ref("sensors")]
CodeId = Annotated[str, _Named, Ref("codes")]
PartId = Annotated[str, _Named, Ref("parts")]
MethodId = Annotated[str, _Named, Ref("methods")]
InstrumentId = Annotated[str, _Named, Ref("instruments")]
SourceId = Annotated[str, _Named, Ref("sources")]
TermId = Annotated[str, _Named, Ref("terms")]
